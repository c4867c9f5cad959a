package estimate

import (
	"swarf/domain/cut"
)

// Guide is what a drill finds at its start, a spot or a pilot hole: whether it wants one
// and which.
type Guide struct {
	Verdict           string  // none, optional, required
	AngleDeg, DepthMM float64 // of the spot at least, of the pilot; 0: none
	Why               string
}

// StartStep is one step in which a deep drill is set going.
type StartStep struct {
	Do                                              string
	SpindleSpeedPerMin, FeedRateMMPerMin, ToDepthMM float64 // 0: as before, or not moving
}

// Depths in diameters from which a drill wants a pilot hole, and the pilot's own depth.
// Common practice, no source.
const (
	tipPilotRatio     = 8.0  // exchangeable tip
	carbidePilotRatio = 12.0 // solid carbide
	pilotDepthRatio   = 1.5  // of a gun drill's, middle of 1 to 1.5 and what leaves it guided
	gunEntryPerMin    = 50.0 // turning slowly into the pilot
)

// spotOf says whether a drill wants a spot.
func spotOf(c *cut.Cut) *Guide {
	switch point := *c.Tool.PointAngleDeg; c.Tool.Class.ID {
	case "drill-twist-hss":
		return &Guide{Verdict: "optional", AngleDeg: point, Why: "helps a long drill start true; no sharper than its point, or the corners touch first"}
	case "drill-solid-carbide":
		return &Guide{Verdict: "none", AngleDeg: point, Why: "centres itself; a spot that is there must not be sharper than its point"}
	case "drill-exchangeable-tip", "drill-indexable":
		return &Guide{Verdict: "none", Why: "the tip or the inserts must meet a flat face"}
	case "drill-flat-bottom":
		return &Guide{Verdict: "none", Why: "the whole edge meets the face at once"}
	case "drill-gun":
		return &Guide{Verdict: "none", Why: "guided by its pilot hole"}
	}
	return nil
}

// pilotOf says whether a drill wants a pilot hole.
func pilotOf(c *cut.Cut) *Guide {
	d := *c.Tool.CuttingDiameterMM
	from, why := 0.0, ""
	switch c.Tool.Class.ID {
	case "drill-gun":
		return &Guide{Verdict: "required", DepthMM: pilotDepthRatio * d, Why: "the pads have no other guide; a few hundredths over the drill's size"}
	case "drill-exchangeable-tip":
		from, why = tipPilotRatio, "from eight diameters on the body bends before the margins guide it"
	case "drill-solid-carbide":
		from, why = carbidePilotRatio, "from twelve diameters on a drill wanders without a guide"
	default:
		return nil
	}
	if HoleDepthMM(c) < from*d*(1-1e-9) {
		return &Guide{Verdict: "none", Why: "short enough to start by itself"}
	}
	return &Guide{Verdict: "required", DepthMM: pilotDepthRatio * d, Why: why}
}

// startOf is how a gun drill is set going: never at speed outside its guide, never
// dwelling.
func (e *Estimate) startOf() []StartStep {
	c := e.Cut
	if c.Tool.Class.ID != "drill-gun" {
		return nil
	}
	m, pilot := &e.Motion, pilotDepthRatio**c.Tool.CuttingDiameterMM
	return []StartStep{
		{Do: "into the pilot, turning slowly, coolant off", SpindleSpeedPerMin: min(gunEntryPerMin, m.SpindleSpeedPerMin), FeedRateMMPerMin: m.FeedRateMMPerMin, ToDepthMM: max(0, pilot-clearMM)},
		{Do: "coolant on at full pressure"},
		{Do: "up to speed", SpindleSpeedPerMin: m.SpindleSpeedPerMin},
		{Do: "feed, without a dwell", SpindleSpeedPerMin: m.SpindleSpeedPerMin, FeedRateMMPerMin: m.FeedRateMMPerMin, ToDepthMM: HoleDepthMM(c)},
		{Do: "at depth: feed off, down to slow turning, coolant off, then out", SpindleSpeedPerMin: min(gunEntryPerMin, m.SpindleSpeedPerMin)},
	}
}
