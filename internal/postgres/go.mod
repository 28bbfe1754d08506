module example.com/longpoint/internal/postgres

go 1.26.0
