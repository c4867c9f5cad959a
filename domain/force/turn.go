package force

import (
	"math"

	"swarf/domain/kinematics"
)

// Instant is a milling cut at one turn of the cutter.
type Instant struct {
	TurnDeg     float64 // of the first tooth's tip, from 0 to 360
	TangentialN float64 // cutting forces of all teeth together
	TorqueNm    float64
}

// MillingTurn returns the cut over one revolution, at so many turns evenly apart; what
// Milling gives as mean and peak are those of this curve.
//
// Range: as Milling; samples ≥ 2. Errors: none. Source: as Milling.
func MillingTurn(m Milled, samples int) []Instant {
	a := 1 - m.ThicknessExp
	sinEdge := math.Sin(m.EdgeAngleDeg * math.Pi / 180)
	full := m.SpecificForce11NPerMM2 * m.AxialMM / sinEdge * math.Pow(m.FeedPerToothMM*sinEdge, a)
	pitch := 2 * math.Pi / m.EdgesCount
	lag := kinematics.HelixLagRad(kinematics.Helix{AxialMM: m.AxialMM, HelixAngleDeg: m.HelixAngleDeg, DiameterMM: m.DiameterMM})
	sum := func(turn float64) float64 {
		total := 0.0
		for tip := turn + pitch*math.Ceil((m.Arc.EntryRad-turn)/pitch-1e-12); tip <= m.Arc.ExitRad+1e-12; tip += pitch {
			total += math.Pow(max(0, math.Sin(tip)), a)
		}
		return total
	}
	if lag >= 1e-6 {
		s := newSineIntegral(a)
		h := helix{s: &s, arc: m.Arc, pitch: pitch, lag: lag, entry: s.at(m.Arc.EntryRad), exit: s.at(m.Arc.ExitRad)}
		sum = h.sum
	}
	list := make([]Instant, samples)
	for i := range list {
		turn := 2 * math.Pi * float64(i) / float64(samples-1)
		force := full * sum(turn)
		list[i] = Instant{TurnDeg: turn * 180 / math.Pi, TangentialN: force, TorqueNm: force * m.DiameterMM / 2000}
	}
	return list
}
