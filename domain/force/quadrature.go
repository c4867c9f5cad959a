package force

import "gonum.org/v1/gonum/integrate/quad"

// rulePoints is the number of points of a quadrature.
const rulePoints = 16

// legendre is gonum's Gauss-Legendre rule on 0 to 1, looked up once.
var legendre = func() (r struct{ at, weight [rulePoints]float64 }) {
	quad.Legendre{}.FixedLocations(r.at[:], r.weight[:], 0, 1)
	return r
}()

// integrate is the integral of f between two ends.
func integrate(f func(float64) float64, from, to float64) float64 {
	sum := 0.0
	for i, at := range legendre.at {
		sum += legendre.weight[i] * f(from+(to-from)*at)
	}
	return sum * (to - from)
}
