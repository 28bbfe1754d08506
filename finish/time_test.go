package finish_test

import (
	"time"

	"example.com/longpoint/measure"
)

const (
	minute = measure.Duration(time.Minute)
	hour   = measure.Duration(time.Hour)
)
