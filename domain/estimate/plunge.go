package estimate

import (
	"swarf/domain/cut"
	"swarf/domain/force"
	"swarf/domain/kinematics"
)

// PlungeOf is the band of work that a plunge meets: at the cutter's rim, or as the
// offset says.
//
// Range: a checked plunge. Errors: none. Source: geometry.
func PlungeOf(c *cut.Cut) force.Plunged {
	d, ae := *c.Tool.CuttingDiameterMM, *c.Engagement.RadialWidthMM
	middle := value(c.Engagement.CutterOffsetMM, (d-ae)/2)
	return force.Plunged{DiameterMM: d, FromMM: middle - ae/2, ToMM: middle + ae/2, EdgesCount: *c.Tool.EffectiveEdgesCount}
}

// plunge computes a cutter fed along its axis. The feed is the thrust's direction; what
// bends the cutter aside is not computed.
func (e *Estimate) plunge() {
	c, m := e.Cut, &e.Motion
	band := PlungeOf(c)
	band.FeedPerToothMM = m.FeedPerToothMM
	sweep := force.PlungeSweepDeg(band)
	e.Chip = Chip{
		ThicknessMeanMM: m.FeedPerToothMM, ThicknessMaxMM: m.FeedPerToothMM, WidthMM: min(*c.Engagement.RadialWidthMM, band.DiameterMM/2),
		EngagementAngleDeg: sweep, EdgesInCutCount: band.EdgesCount * sweep / 360,
	}
	e.Sharp.RemovalCM3PerMin = kinematics.FeedVolumeCM3PerMin(kinematics.Section{AreaMM2: force.PlungeAreaMM2(band), FeedRateMMPerMin: m.FeedRateMMPerMin})
	if !e.serve() {
		return
	}
	band.Law = e.law
	e.milled(force.Plunging(band))
	e.compare(func(law force.Law) float64 {
		band.Law = law
		return force.Plunging(band).TorqueNm
	})
}
