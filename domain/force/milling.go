package force

import (
	"math"

	"swarf/domain/kinematics"
)

// Milled is a milling cut: the law, feed per tooth, cutting edge angle, axial depth,
// diameter, edges, helix and the arc of engagement.
type Milled struct {
	Law
	FeedPerToothMM, EdgeAngleDeg, AxialMM, DiameterMM, EdgesCount, HelixAngleDeg float64
	Arc                                                                          kinematics.Arc
}

// MillingLoads are the loads of a milling cut over one revolution.
type MillingLoads struct {
	TorqueNm     float64 // mean over a revolution
	TorquePeakNm float64 // largest instantaneous torque of a true-running cutter
	FeedForceN   float64 // mean against the feed, conventional cut
	AxialForceN  float64 // mean along the axis
}

// NormalShareRatio is the share of the cutting force that pushes the edge out of
// the cut in milling, the middle of 0.3 to 0.5; PullShareRatio makes a helix of 35 to
// 45° pull by 0.34 to 0.42 of the cutting force, inside the trade's 0.2 to 0.6.
// Common practice, no source.
const (
	NormalShareRatio = 0.4
	PullShareRatio   = 0.6
)

// Milling returns the exact mean and the peak of the loads. One tooth at φ takes
// F = kc1.1·b·(fz·sin κ·sin φ)^(1−mc) with b = ap/sin κ; the mean torque is
// z·DC/4000π times its integral over the arc, the peak the largest sum over the teeth
// in cut, each spread over its helix lag ψ = 2·ap·tan λ/DC.
//
// Range: 0 < κ ≤ 90, 0 ≤ λ < 90, whole z ≥ 1, 0 ≤ φ1 < φ2 ≤ π, mc < 1. Errors: none;
// the caller has checked. Source: Kienzle's law over the arc of DIN 6580; integral by
// the incomplete beta function; held against gonum's quadrature in the tests.
func Milling(m Milled) MillingLoads {
	a := 1 - m.ThicknessExp
	sinEdge := math.Sin(m.EdgeAngleDeg * math.Pi / 180)
	s := newSineIntegral(a)
	// force of one tooth where sin φ = 1, in N
	full := m.SpecificForce11NPerMM2 * m.AxialMM / sinEdge * math.Pow(m.FeedPerToothMM*sinEdge, a)
	entry, exit := s.at(m.Arc.EntryRad), s.at(m.Arc.ExitRad)
	share := m.EdgesCount / (2 * math.Pi)
	mean := share * full * (exit - entry) // mean tangential force of all teeth
	radius := m.DiameterMM / 2000

	peak := 0.0
	lag := kinematics.HelixLagRad(kinematics.Helix{AxialMM: m.AxialMM, HelixAngleDeg: m.HelixAngleDeg, DiameterMM: m.DiameterMM})
	if lag < 1e-6 {
		peak = straightPeak(a, m.EdgesCount, m.Arc)
	} else {
		peak = helicalPeak(&s, m.EdgesCount, lag, m.Arc)
	}

	// along the feed: tangential part ∫ sin^a·cos, normal part ∫ sin^(a+1)
	next := newSineIntegral(a + 1)
	sin1, sin2 := math.Sin(m.Arc.EntryRad), math.Sin(m.Arc.ExitRad)
	tangential := (math.Pow(sin2, a+1) - math.Pow(sin1, a+1)) / (a + 1)
	normal := NormalShareRatio * sinEdge * (next.at(m.Arc.ExitRad) - next.at(m.Arc.EntryRad))
	return MillingLoads{
		TorqueNm:     mean * radius,
		TorquePeakNm: full * peak * radius,
		FeedForceN:   share * full * (math.Abs(tangential) + normal),
		AxialForceN: mean * (NormalShareRatio*math.Cos(m.EdgeAngleDeg*math.Pi/180) +
			PullShareRatio*math.Sin(m.HelixAngleDeg*math.Pi/180)),
	}
}

// MillingTorqueNm returns only the exact mean torque of Milling, for comparing laws.
//
// Range: as Milling. Errors: none. Source: as Milling.
func MillingTorqueNm(m Milled) float64 {
	a := 1 - m.ThicknessExp
	sinEdge := math.Sin(m.EdgeAngleDeg * math.Pi / 180)
	s := newSineIntegral(a)
	full := m.SpecificForce11NPerMM2 * m.AxialMM / sinEdge * math.Pow(m.FeedPerToothMM*sinEdge, a)
	return m.EdgesCount / (2 * math.Pi) * full * (s.at(m.Arc.ExitRad) - s.at(m.Arc.EntryRad)) * m.DiameterMM / 2000
}
