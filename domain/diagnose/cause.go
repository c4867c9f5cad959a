// Package diagnose says why a load reading differs from what was expected: the causes a
// practitioner knows, ranked, each with the share of the difference it could explain and the
// cheapest test that tells it from the others.
package diagnose

import (
	"math"

	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/evidence"
	"swarf/domain/machine"
)

// cause is something that makes a load read more or less than expected. Effects are
// logarithms of read over expected. Weights and spreads are common practice, no source; the
// sizes follow PRACTICE: wear to +30 %, two edges for one +15 %, lot or hardness +10 %.
type cause struct {
	name   string
	weight float64  // how often it is the reason, before anything else is known
	effect []normal // what it does, as a mixture
	test   string   // the cheapest way to tell
	// What becomes of the difference with a fresh edge, on another machine, with another lot:
	// it stays (1) or goes (0).
	fresh, elsewhere, otherLot float64
	rises                      float64 // probability that the load then rises within the cut
}

// normal is a bell with its share in a mixture.
type normal struct{ mean, spread, share float64 }

func bell(mean, spread float64) []normal { return []normal{{mean, spread, 1}} }

// causes lists what could be the reason in this cut, with what is known ruled out.
func causes(e *estimate.Estimate, l *evidence.Load, k *Known) []cause {
	c := e.Cut
	list := []cause{
		{"wear", 0.25, wearEffect(e, l), "read the meter again with a fresh edge", 0, 0.5, 1, 0.1},
		{"lot-or-hardness", 0.20, []normal{{0.12, 0.06, 0.7}, {-0.10, 0.06, 0.3}}, "measure the hardness; look at the certificate; cut another lot", 1, 1, 0, 0.05},
		{"record", 0.15, bell(0, max(0.05, e.SpreadRatio)), "cut known metal beside it, then calibrate", 1, 1, 1, 0.05},
	}
	add := func(known bool, one cause) {
		if !known && len(one.effect) > 0 {
			list = append(list, one)
		}
	}
	add(k.OverrideLogged, cause{"feed-override", 0.12, overrideEffect(e), "read the override off the log", 1, 0, 1, 0.05})
	add(k.IdleTakenOff || l.Point == "spindle", cause{"idle-not-taken-off", 0.10, idleEffect(e), "read the meter turning freely at the same speed", 1, 0.3, 1, 0.02})
	add(k.MeterKnown || l.Quantity != "percent", cause{"meter-base", 0.12, baseEffect(e), "ask the control what 100 percent is; read a cut in known metal", 1, 0, 1, 0.02})
	add(k.EdgesCounted, cause{"edges-entered-wrong", 0.08, edgesEffect(e), "count the edges that cut, turning the tool by hand with the power off", 1, 0, 1, 0.02})
	if c.Operation.Family == cut.HoleFamily {
		add(false, cause{"packed-chips", 0.15, bell(0.28, 0.15), "watch the load over the depth; retract once more", 0.7, 0.7, 1, 0.9})
	}
	return list
}

// wearEffect grows with the time in the cut where that is known.
func wearEffect(e *estimate.Estimate, l *evidence.Load) []normal {
	full := math.Log(e.WearRatio)
	if l.InCut.OK && e.Life != nil {
		share := min(1.2, l.InCut.V/e.Life.MedianMinutes)
		return bell(full*share, 0.05+0.2*full)
	}
	if l.InCut.OK && l.InCut.V < 0.5 {
		return bell(0, 0.03)
	}
	return bell(0.6*full, 0.35*full)
}

// overrideEffect: torque goes with the feed to the power 1 − mc, power with the speed too.
func overrideEffect(e *estimate.Estimate) []normal {
	exp := 0.75
	return []normal{{exp * math.Log(0.75), 0.12, 0.7}, {exp * math.Log(1.15), 0.05, 0.3}}
}

// idleEffect is what idling adds when nobody takes it off.
func idleEffect(e *estimate.Estimate) []normal {
	m, net := e.Cut.Machine, e.Sharp.PowerKW
	if m == nil || m.Spindle.IdlePowerKW <= 0 || net <= 0 {
		return nil
	}
	return bell(math.Log(1+m.Spindle.IdlePowerKW*m.Spindle.EfficiencyRatio/net), 0.04)
}

// baseEffect: the percent was of another rating, either way.
func baseEffect(e *estimate.Estimate) []normal {
	load := e.Machine
	if load == nil || load.Gear == nil {
		return nil
	}
	held := load.Gear.Held(machine.Continuous)
	n := e.Motion.SpindleSpeedPerMin
	var list []normal
	for i := range load.Gear.Ratings {
		r := &load.Gear.Ratings[i]
		if r == held {
			continue
		}
		off := math.Log(r.LimitPowerKW(n) / held.LimitPowerKW(n))
		list = append(list, normal{off, 0.03, 1}, normal{-off, 0.03, 1})
	}
	for i := range list {
		list[i].share = 1 / float64(len(list))
	}
	return list
}

// edgesEffect: at the same table feed, half or twice the edges make chips of another
// thickness; the torque changes as the whole computation says.
func edgesEffect(e *estimate.Estimate) []normal {
	z := e.Cut.Tool.EffectiveEdgesCount
	if z == nil || !e.HasLoads || e.Sharp.TorqueNm <= 0 {
		return nil
	}
	var list []normal
	for _, k := range []float64{0.5, 2} {
		edges := *z * k
		if edges < 1 {
			continue
		}
		c := *e.Cut
		rate := e.Motion.FeedRateMMPerMin
		c.Tool.EffectiveEdgesCount = &edges
		c.Parameters = cut.Parameters{SpindleSpeedPerMin: &e.Motion.SpindleSpeedPerMin, FeedRateMMPerMin: &rate}
		if l, ok := estimate.LoadsOf(&c); ok && l.TorqueNm > 0 {
			list = append(list, normal{math.Log(l.TorqueNm / e.Sharp.TorqueNm), 0.03, 0.5})
		}
	}
	return list
}
