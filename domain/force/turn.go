package force

import (
	"math"

	"swarf/domain/kinematics"
)

// Instant is a milling cut at one turn of the cutter: the torque of all teeth in cut, and
// what their forces on the cutter add up to along the feed (above nought: against it) and
// across it in the plane of the cut (above nought: towards the side of an angle of nought).
type Instant struct {
	TurnDeg  float64 // of the first tooth's tip, from 0 to 360
	TorqueNm float64
	FeedN    float64
	AcrossN  float64
}

// MillingTurn returns the cut over one revolution, at so many turns evenly apart; what
// Milling gives as mean torque, peak and mean force against the feed are those of these
// curves. As there, of the two ways round the conventional one is taken, in which the cutting
// force pushes against the feed. A tooth at φ presses with F = kc1.1·b·(fz·sin κ·sin φ)^(1−mc)
// along its path and with a share q·F out of the cut: F·(cos φ + q·sin φ) along the feed and
// F·(sin φ − q·cos φ) across it.
//
// Range: as Milling; samples ≥ 2. Errors: none. Source: as Milling.
func MillingTurn(m Milled, samples int) []Instant {
	a := 1 - m.ThicknessExp
	sinEdge := math.Sin(m.EdgeAngleDeg * math.Pi / 180)
	full := m.SpecificForce11NPerMM2 * m.AxialMM / sinEdge * math.Pow(m.FeedPerToothMM*sinEdge, a)
	push := NormalShareRatio * sinEdge
	pitch := 2 * math.Pi / m.EdgesCount
	teeth := pulse(m, a)
	way := 1.0 // conventional
	if math.Sin(m.Arc.ExitRad) < math.Sin(m.Arc.EntryRad) {
		way = -1
	}
	list := make([]Instant, samples)
	for i := range list {
		turn := 2 * math.Pi * float64(i) / float64(samples-1)
		var sum parts
		for tip := turn + pitch*math.Ceil((m.Arc.EntryRad-turn)/pitch-1e-12); ; tip += pitch {
			tooth, in := teeth(tip)
			if !in {
				break
			}
			sum.path += tooth.path
			sum.cos += tooth.cos
			sum.sin += tooth.sin
		}
		list[i] = Instant{TurnDeg: turn * 180 / math.Pi, TorqueNm: full * sum.path * m.DiameterMM / 2000,
			FeedN: full * (way*sum.cos + push*sum.sin), AcrossN: full * (sum.sin - way*push*sum.cos)}
	}
	return list
}

// parts are sin^a φ of a tooth, and that times cos φ and sin φ.
type parts struct{ path, cos, sin float64 }

// pulse gives the parts of a tooth by the angle of its tip, the mean of them over the part
// of its lag that lies in the arc; in is false for one that has left it.
func pulse(m Milled, a float64) func(tip float64) (p parts, in bool) {
	lag := kinematics.HelixLagRad(kinematics.Helix{AxialMM: m.AxialMM, HelixAngleDeg: m.HelixAngleDeg, DiameterMM: m.DiameterMM})
	if lag < 1e-6 {
		return func(tip float64) (parts, bool) {
			sin, cos := math.Sincos(tip)
			f := math.Pow(max(0, sin), a)
			return parts{f, f * cos, f * max(0, sin)}, tip <= m.Arc.ExitRad+1e-12
		}
	}
	s, next := newSineIntegral(a), newSineIntegral(a+1)
	to := func(phi float64) parts { // from 0 to φ
		return parts{s.at(phi), math.Pow(max(0, math.Sin(phi)), a+1) / (a + 1), next.at(phi)}
	}
	entry, exit := to(m.Arc.EntryRad), to(m.Arc.ExitRad)
	return func(tip float64) (parts, bool) {
		upper, lower := exit, entry
		if tip < m.Arc.ExitRad {
			upper = to(tip)
		}
		if top := tip - lag; top > m.Arc.EntryRad {
			lower = to(min(top, m.Arc.ExitRad))
		}
		return parts{(upper.path - lower.path) / lag, (upper.cos - lower.cos) / lag, (upper.sin - lower.sin) / lag}, tip-lag < m.Arc.ExitRad
	}
}
