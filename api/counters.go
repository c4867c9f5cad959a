package api

import (
	"maps"
	"sync"
	"sync/atomic"

	"github.com/prometheus/client_golang/prometheus"

	"swarf/domain"
)

type findingKey struct {
	code     string
	severity domain.Severity
}

// counters is a table of counters that grows as they are met; reading it takes no lock.
type counters struct {
	vec   *prometheus.CounterVec
	grow  sync.Mutex
	table atomic.Pointer[map[findingKey]prometheus.Counter]
}

// of is the counter of a finding.
func (c *counters) of(key findingKey) prometheus.Counter {
	if table := c.table.Load(); table != nil {
		if counter := (*table)[key]; counter != nil {
			return counter
		}
	}
	c.grow.Lock()
	defer c.grow.Unlock()
	larger := map[findingKey]prometheus.Counter{}
	if table := c.table.Load(); table != nil {
		maps.Copy(larger, *table)
	}
	larger[key] = c.vec.WithLabelValues(key.code, key.severity.String())
	c.table.Store(&larger)
	return larger[key]
}
