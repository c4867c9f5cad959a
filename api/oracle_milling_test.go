package api_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
)

// arc is where a tooth cuts, from the direction in which the chip starts at
// nothing: a work edge at signed distance u from the axis is met at arccos(−2u/D).
// A cutter whose edge is aligned with the wall enters at nought.
func (c oracleCut) arc() (entry, exit float64) {
	at := func(u float64) float64 { return math.Acos(min(1, max(-1, -2*u/c.d))) }
	// offset is that of the axis from the middle of the width
	return at(-c.ae/2 - c.offset), at(c.ae/2 - c.offset)
}

// slice is the tangential force of one tooth per mm of axial depth at an angle.
func (c oracleCut) slice(phi, entry, exit float64) float64 {
	if phi < entry || phi > exit {
		return 0
	}
	h := c.fz * sin(c.kappa) * math.Sin(phi)
	if h <= 0 {
		return 0
	}
	return c.kc(h) * h / sin(c.kappa)
}

// millingTorque is the mean torque of all teeth over a revolution, by gonum's
// Legendre quadrature, and the peak, by sampling one tooth pitch densely and
// summing the force along each helical edge.
func (c oracleCut) millingTorque(entry, exit float64) (mean, peak float64) {
	// φ = entry + u² clears the root of the law at a chip of nothing, from both ends.
	half := func(from, to float64) float64 {
		length := math.Sqrt(math.Abs(to - from))
		return quad.Fixed(func(u float64) float64 {
			return c.slice(from+math.Copysign(u*u, to-from), entry, exit) * 2 * u
		}, 0, length, 150, quad.Legendre{}, 0)
	}
	middle := (entry + exit) / 2
	radius := c.d / 2000
	mean = c.z / (2 * math.Pi) * c.ap * (half(entry, middle) + half(exit, middle)) * radius

	pitch := 2 * math.Pi / c.z
	lag := 2 * c.ap * math.Tan(c.helix*math.Pi/180) / c.d
	const turns = 4000
	for i := range turns {
		turn := pitch * float64(i) / turns
		sum := 0.0
		// every tooth with a part of its edge, from tip to top, in the arc
		for tip := turn + math.Ceil((entry-turn)/pitch)*pitch; tip-lag <= exit; tip += pitch {
			sum += c.edge(tip, lag, entry, exit)
		}
		peak = max(peak, sum*radius)
	}
	return mean, peak
}

// edge is the tangential force of one tooth whose tip is at an angle and whose top
// trails it by the lag, summed along the edge by quadrature.
func (c oracleCut) edge(tip, lag, entry, exit float64) float64 {
	if lag == 0 {
		return c.ap * c.slice(tip, entry, exit)
	}
	from, to := max(entry, tip-lag), min(exit, tip)
	if to <= from {
		return 0
	}
	return c.ap / lag * quad.Fixed(func(phi float64) float64 { return c.slice(phi, entry, exit) }, from, to, 24, quad.Legendre{}, 0)
}

// The oracle itself, against numbers of the trade that no code of ours made: the
// ratio of peak to mean torque in a full slot with straight teeth, and the torque
// of a constant specific energy, which is Q·u.
func TestOracleOfMilling(t *testing.T) {
	slot := oracleCut{operation: "slot-milling", d: 12, ap: 12, ae: 12, kappa: 90, fz: 0.05, kc11: 2000, mc: 0.2, wear: 1}
	for z, want := range map[float64]float64{1: 2.94, 2: 1.47, 3: 1.13, 4: 1.12, 5: 1.05} {
		slot.z = z
		entry, exit := slot.arc()
		mean, peak := slot.millingTorque(entry, exit)
		if got := peak / mean; math.Abs(got-want) > 0.006 {
			t.Errorf("%v teeth: peak is %.3f of the mean, want %.2f", z, got, want)
		}
	}
	slot.helix = 35
	for z, want := range map[float64]float64{2: 1.38, 3: 1.03} {
		slot.z = z
		entry, exit := slot.arc()
		mean, peak := slot.millingTorque(entry, exit)
		if got := peak / mean; math.Abs(got-want) > 0.006 {
			t.Errorf("%v helical teeth: peak is %.3f of the mean, want %.2f", z, got, want)
		}
	}
	// 2000 N/mm² everywhere: M·ω = kc·Q, so M = kc·ap·ae·f/(2π·1000)
	energy := oracleCut{operation: "face-milling", d: 80, ap: 3, ae: 60, kappa: 45, z: 6, fz: 0.2, kc11: 2000, wear: 1}
	entry, exit := energy.arc()
	mean, _ := energy.millingTorque(entry, exit)
	if want := 2000 * 3 * 60 * 6 * 0.2 / (2 * math.Pi * 1000); math.Abs(mean-want) > 1e-6*want {
		t.Errorf("constant energy: torque %v, want %v", mean, want)
	}
}
