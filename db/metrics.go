package db

import "github.com/prometheus/client_golang/prometheus"

// poolMetric is a figure of the connection pool.
type poolMetric struct {
	desc *prometheus.Desc
	kind prometheus.ValueType
	of   func(db *DB) float64
}

func poolFigure(kind prometheus.ValueType, name, help string, of func(db *DB) float64) poolMetric {
	return poolMetric{prometheus.NewDesc("swarf_db_pool_"+name, help, nil, nil), kind, of}
}

var poolMetrics = []poolMetric{
	poolFigure(prometheus.GaugeValue, "max_connections", "Most connections the pool may have.", func(db *DB) float64 { return float64(db.pool.Stat().MaxConns()) }),
	poolFigure(prometheus.GaugeValue, "connections", "Connections there are.", func(db *DB) float64 { return float64(db.pool.Stat().TotalConns()) }),
	poolFigure(prometheus.GaugeValue, "used_connections", "Connections that are in use.", func(db *DB) float64 { return float64(db.pool.Stat().AcquiredConns()) }),
	poolFigure(prometheus.CounterValue, "acquired_total", "Times a connection was taken.", func(db *DB) float64 { return float64(db.pool.Stat().AcquireCount()) }),
	poolFigure(prometheus.CounterValue, "waited_total", "Times none was free and had to be waited for.", func(db *DB) float64 { return float64(db.pool.Stat().EmptyAcquireCount()) }),
	poolFigure(prometheus.CounterValue, "wait_seconds_total", "Time waited for a connection.", func(db *DB) float64 { return db.pool.Stat().EmptyAcquireWaitTime().Seconds() }),
	poolFigure(prometheus.CounterValue, "given_up_total", "Times a wait was given up.", func(db *DB) float64 { return float64(db.pool.Stat().CanceledAcquireCount()) }),
}

// Describe tells Prometheus what there is.
func (db *DB) Describe(out chan<- *prometheus.Desc) {
	for _, m := range poolMetrics {
		out <- m.desc
	}
}

// Collect gives the state of the connection pool. It asks nothing of the server.
func (db *DB) Collect(out chan<- prometheus.Metric) {
	for _, m := range poolMetrics {
		out <- prometheus.MustNewConstMetric(m.desc, m.kind, m.of(db))
	}
}
