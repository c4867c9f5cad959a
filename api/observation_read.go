package api

import (
	"strconv"
	"time"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/evidence"
	"swarf/domain/unit"
)

// observedAt is when it was observed: now, unless said.
func observedAt(text string, faults *cut.Faults) string {
	if text == "" {
		return stampOf(time.Now())
	}
	at, err := time.Parse(time.RFC3339, text)
	if err != nil {
		faults.Any(fault(domain.Unreadable, "wrong-type", "at", strconv.Quote(clip(text))+" is no RFC 3339 time", "send a time such as 2026-03-03T12:00:00Z"))
	}
	return stampOf(at)
}

// loadFromWire reads a load reading.
func loadFromWire(w *wire.LoadReading, c checker) evidence.Load {
	var l evidence.Load
	if w == nil {
		return l
	}
	given := 0
	for _, one := range []struct {
		quantity string
		value    *float64
		q        unit.Quantity
		most     float64
	}{{"power", w.Power, unit.Power, mostPowerKW}, {"torque", w.Torque, unit.Torque, mostTorqueNm}, {"percent", w.Percent, unit.None, 1000}} {
		if v, ok := c.read("load."+one.quantity, one.value, bound{one.q, one.most, false}); ok {
			l.Quantity, l.Value = one.quantity, v
		}
		if one.value != nil {
			given++
		}
	}
	switch {
	case given == 0:
		c.faults.Alternative("load", "no load is given", "give power, torque or percent")
	case given > 1:
		c.faults.Conflict("load", "more than one of power, torque and percent is given")
	}
	l.Point, l.Transient = w.Point, w.Transient != nil && *w.Transient
	l.IdleKW = c.opt("load.idle_power", w.IdlePower, bound{unit.Power, mostPowerKW, true})
	l.InCut = c.opt("load.minutes_in_cut", w.MinutesInCut, bound{unit.Time, mostDutyMinutes, true})
	c.opt("load.feed_override", w.FeedOverride, bound{unit.None, 5, false})
	c.opt("load.speed_override", w.SpeedOverride, bound{unit.None, 5, false})
	return l
}

func edgeFromWire(w *wire.EdgeLog, c checker) evidence.Edge {
	var e evidence.Edge
	if w == nil {
		return e
	}
	e.Minutes = c.need("edge.minutes", "how long the edge was in the cut", w.Minutes, bound{unit.Time, 1e6, false})
	if e.Reason = w.Reason; w.Reason == "" {
		c.faults.Missing("edge.reason", "say why it was changed: worn, size, chipped, by-plan or batch-end")
	}
	c.opt("edge.parts", w.Parts, bound{unit.None, 1e9, false})
	e.WearMM = c.opt("edge.wear", w.Wear, bound{unit.Length, mostChipMM, true})
	return e
}

func surfaceFromWire(w *wire.Surface, c checker) {
	if w == nil {
		return
	}
	if w.Ra == nil && w.Rz == nil {
		c.faults.Alternative("surface", "no roughness is given", "give ra or rz")
	}
	c.opt("surface.ra", w.Ra, bound{unit.Roughness, 10_000, false})
	c.opt("surface.rz", w.Rz, bound{unit.Roughness, 10_000, false})
}

// asOverridden makes the cut what it was with the overrides of the day.
func asOverridden(c *cut.Cut, w *wire.LoadReading) {
	scale := func(k *float64, members ...**float64) {
		if k == nil {
			return
		}
		for _, m := range members {
			if *m != nil {
				v := **m * *k
				*m = &v
			}
		}
	}
	p := &c.Parameters
	scale(w.SpeedOverride, &p.CuttingSpeedMPerMin, &p.SpindleSpeedPerMin)
	scale(w.FeedOverride, &p.FeedPerRevolutionMM, &p.FeedPerToothMM, &p.FeedRateMMPerMin)
	if w.SpeedOverride != nil && p.FeedRateMMPerMin == nil {
		return // feed per turn goes with the spindle
	}
}
