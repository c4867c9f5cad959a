package force

import "math"

// Plunged is a cutter fed along its axis into a band of work: the band reaches from
// FromMM to ToMM, signed distances from the axis, and is taken as long as the cutter
// is wide (the first plunge of a row; the next ones meet less).
type Plunged struct {
	Law
	FeedPerToothMM, DiameterMM, FromMM, ToMM, EdgesCount float64
}

// strip is a cutter against everything beyond a line, at a distance from its axis.
type strip struct{ radius, line float64 }

// area of the cutter's face beyond the line: r²·(θ − sin θ·cos θ), θ half the angle of the
// arc; 2/3·θ³ of it where it is so thin that the difference would be nothing but rounding.
func (s strip) area() float64 {
	half := 2 * math.Asin(math.Sqrt(min(1, max(0, (s.radius-s.line)/(2*s.radius)))))
	if half < 1e-3 {
		return s.radius * s.radius * half * half * half * 2 / 3 * (1 - half*half/5)
	}
	return s.radius * s.radius * (half - math.Sin(2*half)/2)
}

// bite is where a tooth cuts: from its inner end to the outer, at an angle from the
// normal of the line.
func (s strip) bite(angle float64) (inner, outer float64) {
	cos := math.Cos(angle)
	switch {
	case s.line >= 0 && cos > 0:
		return min(s.radius, s.line/cos), s.radius
	case s.line >= 0:
		return 0, 0
	case cos >= 0:
		return 0, s.radius
	}
	return 0, min(s.radius, s.line/cos)
}

// PlungeAreaMM2 returns the area that a plunge takes out of the face of the work.
//
// Range: −DC/2 ≤ from < to ≤ DC/2. Errors: none. Source: geometry of a circle.
func PlungeAreaMM2(p Plunged) float64 {
	r := p.DiameterMM / 2
	return strip{r, p.FromMM}.area() - strip{r, p.ToMM}.area()
}

// PlungeSweepDeg returns the angle over which a tooth is in the work; 360 where the
// axis is in it.
//
// Range: as PlungeAreaMM2. Errors: none. Source: geometry of a circle.
func PlungeSweepDeg(p Plunged) float64 {
	r := p.DiameterMM / 2
	near := p.FromMM
	if p.ToMM < 0 {
		near = -p.ToMM
	}
	if near < 0 {
		return 360
	}
	return 2 * math.Acos(min(1, near/r)) * 180 / math.Pi
}

// plungeTurns is how many turns of one tooth pitch are looked at for the peak.
const plungeTurns = 48

// Plunging returns the loads of a plunge. The end edges lie across the axis, so the chip is
// fz thick and the specific force the same all along them; a tooth that reaches from r1
// to r2 takes kc·fz·(r2² − r1²)/2, and the mean torque over a turn is kc·fz·z·A/(2π), A the
// area taken out: with the axis in solid metal that is the torque of a drill, kc·f·D²/8.
//
// Range: as PlungeAreaMM2, whole z ≥ 1. Errors: none. Source: Kienzle's law; integral over
// the face of the cutter. Thrust is half of the cutting force of the length in cut, as for
// a drill (recalled textbook practice, rough to 40 %).
func Plunging(p Plunged) MillingLoads {
	r := p.DiameterMM / 2
	from, to := strip{r, p.FromMM}, strip{r, p.ToMM}
	perMM := p.Law.SpecificForceNPerMM2(p.FeedPerToothMM) * p.FeedPerToothMM // force on a mm of edge
	pitch := 2 * math.Pi / p.EdgesCount
	peak, length := 0.0, 0.0
	for turn := range plungeTurns {
		sum := 0.0
		for k := range int(p.EdgesCount) {
			angle := math.Remainder((float64(turn)/plungeTurns+float64(k))*pitch, 2*math.Pi)
			a, b := from.bite(angle)
			c, d := to.bite(angle)
			sum += (b*b - a*a - d*d + c*c) / 2
			length += (b - a - d + c) / plungeTurns
		}
		peak = max(peak, sum)
	}
	mean := p.EdgesCount / (2 * math.Pi) * PlungeAreaMM2(p)
	return MillingLoads{
		TorqueNm:     perMM * mean / 1000,
		TorquePeakNm: perMM * max(peak, mean) / 1000,
		FeedForceN:   DrillingThrustN(Thrust{CuttingForceN: perMM * length, HalfPointSineRatio: 1}),
	}
}
