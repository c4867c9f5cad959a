package calibrate

import (
	"math"

	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/stat/distuv"
)

// Edge is one edge's log: speed, minutes in the cut, and whether it was at its end. One
// that was not had at least so long to live.
type Edge struct {
	SpeedMPerMin, Minutes float64
	Failed                bool
}

// LifePrior is what a record says: n and C of vc·Tⁿ = C. A spread of nought says nothing.
type LifePrior struct {
	LifeExp, LifeSpreadRatio                float64 // of ln n
	OneMinuteSpeedMPerMin, SpeedSpreadRatio float64 // of ln C
}

// LifeFit is a fitted law of life with intervals, and the scatter of single edges about it.
type LifeFit struct {
	LifeExp, LifeLowExp, LifeHighExp                         float64
	OneMinuteSpeedMPerMin, SpeedLowMPerMin, SpeedHighMPerMin float64
	ScatterRatio                                             float64 // standard deviation of ln T at one speed
	Count, FailedCount                                       int
	at                                                       []float64
	cov                                                      *mat.SymDense
}

// scatterStart and its weight are what is believed of the scatter of edges before any was
// logged: a third of a life. Common practice, no source.
const (
	scatterStart  = 0.35
	scatterSpread = 0.5 // of its logarithm
)

// Life fits n and C to edge logs: ln T is normal about (ln C − ln v)/n, an edge that was
// changed before its end counts with the probability of having lasted longer. The most
// probable law and its curvature give the intervals (Laplace's approximation).
//
// Range: speeds and minutes above nought; at least one edge at its end, two speeds unless
// the prior tells n. Errors: ErrTooLittle without an edge at its end; an optimum that is
// not found. Source: right-censored log-normal regression (J. F. Lawless, Statistical Models
// and Methods for Lifetime Data, 2nd ed., chapter 6, recalled); without priors held against
// survreg of R's package survival in the tests.
func Life(edges []Edge, prior LifePrior, confidence float64) (LifeFit, error) {
	fit := LifeFit{Count: len(edges)}
	start := []float64{math.Log(0.25), 0, math.Log(scatterStart)}
	if prior.LifeExp > 0 {
		start[0] = math.Log(prior.LifeExp)
	}
	for _, e := range edges {
		if e.Failed {
			fit.FailedCount++
			start[1] += math.Log(e.SpeedMPerMin) + math.Exp(start[0])*math.Log(e.Minutes)
		}
	}
	if fit.FailedCount == 0 {
		return fit, ErrTooLittle
	}
	start[1] /= float64(fit.FailedCount)
	minus := func(x []float64) float64 { return -logPosterior(edges, prior, x) }
	best, err := optimize.Minimize(optimize.Problem{Func: minus, Grad: func(g, x []float64) { fd.Gradient(g, minus, x, &fd.Settings{Formula: fd.Central}) }},
		start, &optimize.Settings{GradientThreshold: 1e-6, MajorIterations: 500}, &optimize.BFGS{})
	if err != nil && best == nil {
		return fit, err
	}
	polished, err := optimize.Minimize(optimize.Problem{Func: minus}, best.X, &optimize.Settings{FuncEvaluations: 4000}, &optimize.NelderMead{})
	if err == nil || polished != nil {
		best = polished
	}
	hessian := mat.NewSymDense(3, nil)
	fd.Hessian(hessian, minus, best.X, &fd.Settings{Formula: fd.Central, Step: 1e-3})
	var chol mat.Cholesky
	if !chol.Factorize(hessian) {
		return fit, ErrTooLittle
	}
	fit.cov, fit.at = new(mat.SymDense), best.X
	if err := chol.InverseTo(fit.cov); err != nil {
		return fit, err
	}
	z := distuv.UnitNormal.Quantile((1 + confidence) / 2)
	span := func(i int) (mid, low, high float64) {
		half := z * math.Sqrt(fit.cov.At(i, i))
		return math.Exp(best.X[i]), math.Exp(best.X[i] - half), math.Exp(best.X[i] + half)
	}
	fit.LifeExp, fit.LifeLowExp, fit.LifeHighExp = span(0)
	fit.OneMinuteSpeedMPerMin, fit.SpeedLowMPerMin, fit.SpeedHighMPerMin = span(1)
	fit.ScatterRatio = math.Exp(best.X[2])
	return fit, nil
}

// logPosterior is the logarithm of the probability of a law, x = ln n, ln C, ln scatter.
func logPosterior(edges []Edge, prior LifePrior, x []float64) float64 {
	n, lnC, scatter := math.Exp(x[0]), x[1], math.Exp(x[2])
	sum := 0.0
	for _, e := range edges {
		z := (math.Log(e.Minutes) - (lnC-math.Log(e.SpeedMPerMin))/n) / scatter
		if e.Failed {
			sum += -z*z/2 - x[2]
		} else {
			sum += logSurvival(z)
		}
	}
	believe := func(value, mean, spread float64) {
		if spread > 0 {
			d := (value - mean) / spread
			sum -= d * d / 2
		}
	}
	believe(x[0], math.Log(max(prior.LifeExp, 1e-9)), prior.LifeSpreadRatio)
	believe(x[1], math.Log(max(prior.OneMinuteSpeedMPerMin, 1e-9)), prior.SpeedSpreadRatio)
	if prior.LifeSpreadRatio > 0 {
		believe(x[2], math.Log(scatterStart), scatterSpread)
	}
	return sum
}

// logSurvival is ln(1 − Φ(z)), without loss far out.
func logSurvival(z float64) float64 {
	if z < 10 {
		return math.Log(0.5 * math.Erfc(z/math.Sqrt2))
	}
	return -z*z/2 - math.Log(z*math.Sqrt(2*math.Pi))
}

// QuantileMinutes is the life that a share of edges does not reach at a speed, with how
// unsure the law is and how edges scatter taken together.
//
// Range: a fit, 0 < share < 1. Errors: none. Source: as Life.
func (f *LifeFit) QuantileMinutes(speedMPerMin float64, q Share) float64 {
	n := f.LifeExp
	distance := math.Log(f.OneMinuteSpeedMPerMin) - math.Log(speedMPerMin)
	mean := distance / n
	// d mean / d ln n = −mean, d mean / d ln C = 1/n
	v := mean*mean*f.cov.At(0, 0) + f.cov.At(1, 1)/(n*n) - 2*mean/n*f.cov.At(0, 1)
	return math.Exp(mean + distuv.UnitNormal.Quantile(float64(q))*math.Sqrt(v+f.ScatterRatio*f.ScatterRatio))
}

// Share is a share of edges, between nought and one.
type Share float64
