module example.com/longpoint/internal/bench

go 1.25

require (
	example.com/longpoint v0.0.0
	github.com/crillab/gophersat v1.4.0
	gonum.org/v1/gonum v0.17.0
)

replace example.com/longpoint => ../..
