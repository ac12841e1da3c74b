package server

import (
	"net/http"

	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
	"github.com/prometheus/client_golang/prometheus/promhttp"

	"mendline/server/desk"
)

// Metrics counts what happens. One Metrics goes to the desk, by Desk, and to the
// server.
type Metrics struct {
	registry *prometheus.Registry
	clients  prometheus.Gauge
	wsClosed *prometheus.CounterVec
	desk     desk.Metrics
}

// NewMetrics makes a registry of its own, with the program's version in it.
func NewMetrics(version string) *Metrics {
	reg := prometheus.NewRegistry()
	m := &Metrics{registry: reg}
	commit := prometheus.NewHistogram(prometheus.HistogramOpts{
		Name: "mendline_commit_duration_seconds", Help: "Time a transaction took until it was on disk.",
		Buckets: prometheus.ExponentialBuckets(0.0005, 2, 12),
	})
	commands := prometheus.NewCounterVec(prometheus.CounterOpts{
		Name: "mendline_commands_total", Help: "Commands answered, by name and result.",
	}, []string{"do", "result"})
	forecast := prometheus.NewHistogram(prometheus.HistogramOpts{
		Name: "mendline_forecast_duration_seconds", Help: "Time a forecast took.",
		Buckets: prometheus.ExponentialBuckets(0.001, 2, 12),
	})
	followers := gauge("mendline_followers", "Devices that follow the board.")
	readOnly := gauge("mendline_readonly", "1 while the board takes no commands.")
	m.clients = gauge("mendline_ws_clients", "Open sockets.")
	m.wsClosed = prometheus.NewCounterVec(prometheus.CounterOpts{
		Name: "mendline_ws_closed_total", Help: "Sockets closed, by close code.",
	}, []string{"code"})
	info := prometheus.NewGaugeVec(prometheus.GaugeOpts{Name: "mendline_build_info", Help: "1, with the program's version."}, []string{"version"})
	info.WithLabelValues(version).Set(1)
	reg.MustRegister(commit, commands, forecast, followers, readOnly, m.clients, m.wsClosed, info, collectors.NewGoCollector())
	m.desk = desk.Metrics{
		Commit:    func(seconds float64, _ int) { commit.Observe(seconds) },
		Command:   func(do, result string) { commands.WithLabelValues(do, result).Inc() },
		Forecast:  func(seconds float64) { forecast.Observe(seconds) },
		Followers: func(n int) { followers.Set(float64(n)) },
		ReadOnly:  func(on bool) { readOnly.Set(number(on)) },
	}
	return m
}

// Desk is what the desk tells these metrics by.
func (m *Metrics) Desk() desk.Metrics { return m.desk }

// watch adds what is read when asked for. A registry has one server.
func (m *Metrics) watch(s *Server) {
	m.registry.MustRegister(prometheus.NewGaugeFunc(prometheus.GaugeOpts{
		Name: "mendline_store_bytes", Help: "Size of the board's file.",
	}, func() float64 {
		n, _ := s.desk.FileBytes() // 0 where it cannot be read
		return float64(n)
	}))
	if s.o.Copies != nil {
		m.registry.MustRegister(prometheus.NewGaugeFunc(prometheus.GaugeOpts{
			Name: "mendline_newest_copy_timestamp_seconds", Help: "When the newest copy away from the board's file was made, 0 for none.",
		}, func() float64 { return float64(s.o.Copies.Newest()) / 1000 }))
	}
}

func (m *Metrics) closed(code closeCode) { m.wsClosed.WithLabelValues(code.label()).Inc() }

func gauge(name, help string) prometheus.Gauge {
	return prometheus.NewGauge(prometheus.GaugeOpts{Name: name, Help: help})
}

func number(on bool) float64 {
	if on {
		return 1
	}
	return 0
}

// metrics answers this machine, and others with the administrator's token.
func (s *Server) metrics(w http.ResponseWriter, r *http.Request) {
	if !isLoopback(r) && !s.isAdmin(r) {
		refuse(w, noSession())
		return
	}
	promhttp.HandlerFor(s.o.Metrics.registry, promhttp.HandlerOpts{}).ServeHTTP(w, r)
}
