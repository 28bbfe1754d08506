module example.com/longpoint/internal/bench

go 1.25

require example.com/longpoint v0.0.0

replace example.com/longpoint => ../..
