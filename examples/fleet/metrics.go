package main

import (
	"context"
	"time"

	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
)

// counts are the metrics of this process and of the database.
type counts struct {
	registry *prometheus.Registry
	sheets   *prometheus.CounterVec
	again    prometheus.Counter
	retries  prometheus.Counter
	steps    prometheus.Counter
	seconds  prometheus.Histogram
}

func newCounts() *counts {
	c := &counts{
		registry: prometheus.NewRegistry(),
		sheets: prometheus.NewCounterVec(prometheus.CounterOpts{
			Name: "fleet_sheets_stored_total", Help: "Sheets that this process stored, by whether the plan is proven.",
		}, []string{"plan"}),
		again: prometheus.NewCounter(prometheus.CounterOpts{
			Name: "fleet_jobs_again_total", Help: "Jobs that came although their sheet was stored.",
		}),
		retries: prometheus.NewCounter(prometheus.CounterOpts{
			Name: "fleet_store_retries_total", Help: "Attempts to store a sheet that failed and were made again.",
		}),
		steps: prometheus.NewCounter(prometheus.CounterOpts{
			Name: "fleet_work_steps_total", Help: "Steps of the searches whose sheets this process stored.",
		}),
		seconds: prometheus.NewHistogram(prometheus.HistogramOpts{
			Name: "fleet_job_seconds", Help: "Time from the start of a job to its sheet.",
			Buckets: []float64{.003, .01, .03, .1, .3, 1, 3, 10, 30},
		}),
	}
	c.registry.MustRegister(c.sheets, c.again, c.retries, c.steps, c.seconds,
		collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}))
	return c
}

func (c *counts) solved(s *sheet) {
	plan := "unproven"
	if s.plan.Proven {
		plan = "proven"
	}
	c.sheets.WithLabelValues(plan).Inc()
	c.steps.Add(float64(s.plan.Work))
	c.seconds.Observe(s.took.Seconds())
}

// shared reports the contents of the database, which are the same for every process.
type shared[TTx any] struct{ db *database[TTx] }

var (
	jobsDesc  = prometheus.NewDesc("fleet_jobs", "Jobs in the queue, by state.", []string{"state"}, nil)
	sheetDesc = prometheus.NewDesc("fleet_sheets", "Sheets in the database.", nil, nil)
)

func (s shared[TTx]) Describe(out chan<- *prometheus.Desc) {
	out <- jobsDesc
	out <- sheetDesc
}

func (s shared[TTx]) Collect(out chan<- prometheus.Metric) {
	ctx, done := context.WithTimeout(context.Background(), 5*time.Second)
	defer done()
	jobs, err := s.db.jobs(ctx)
	if err != nil {
		out <- prometheus.NewInvalidMetric(jobsDesc, err)
		return
	}
	for state, n := range jobs {
		out <- prometheus.MustNewConstMetric(jobsDesc, prometheus.GaugeValue, float64(n), state)
	}
	t, err := s.db.total(ctx)
	if err != nil {
		out <- prometheus.NewInvalidMetric(sheetDesc, err)
		return
	}
	out <- prometheus.MustNewConstMetric(sheetDesc, prometheus.GaugeValue, float64(t.Sheets))
}
