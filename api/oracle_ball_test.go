package api_test

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// ballDiameter is the effective diameter of a tilted ball.
func (c oracleCut) ballDiameter() float64 {
	lean := c.tilt*math.Pi/180 + math.Acos(1-2*c.ap/c.d)
	if lean >= math.Pi/2 {
		return c.d
	}
	return c.d * math.Sin(lean)
}

// ballTorque is the mean torque of a ball: the energy of a turn over 2π. The section a
// pass takes out is summed column by column; a point of it at a distance ρ from the
// ball's middle has a chip of fz·√(1 − ρ²/R²) and shows 1/√(1 − ρ²/R²) of its area.
func (c oracleCut) ballTorque() float64 {
	r := c.d / 2
	energy := func(perArea func(cos float64) float64) float64 {
		half := math.Sqrt(r*r - (r-c.ap)*(r-c.ap))
		sum := func(from, to float64) float64 {
			if to <= from {
				return 0
			}
			return quad.Fixed(func(y float64) float64 {
				bottom, top := math.Sqrt(r*r-y*y), r-c.ap
				if beside := r*r - (y-c.step)*(y-c.step); beside > 0 { // the pass before
					top = max(top, math.Sqrt(beside))
				}
				if top >= bottom {
					return 0
				}
				return quad.Fixed(func(u float64) float64 {
					return perArea(u*math.Sqrt(2*bottom-u*u)/r) * 2 * u
				}, 0, math.Sqrt(bottom-top), 80, quad.Legendre{}, 0)
			}, from, to, 300, quad.Legendre{}, 0)
		}
		corner := min(c.step/2, max(-half, c.step-half))
		return sum(-half, corner) + sum(corner, min(half, c.step/2))
	}
	force := energy(func(cos float64) float64 { return c.kc(c.fz*cos) * c.fz })
	area := energy(func(float64) float64 { return 1 })
	return c.z * force * c.ap * c.step / area / (2 * math.Pi) / 1000
}
