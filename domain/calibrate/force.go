// Package calibrate fits records to what a shop measured: force constants from load
// readings, the law of life from edge logs. The published record is the prior; what comes
// out is a proposal with its interval, never a record by itself.
package calibrate

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Point is one accepted load reading: ln kc1.1 at the common exponent, ln h, the share of
// the edge's life, and by index which machine's meter and which metal. Metal 0 is the one
// that is asked about; others tell the meters apart from it.
type Point struct {
	ForceExp, ThicknessExp, WearRatio float64
	Machine, Metal                    int
}

// Prior is what a record says of a metal before the shop measured: ln kc1.1 and mc with the
// spread of the first, and the exponent at which the points were taken.
type Prior struct {
	ForceExp, SpreadRatio float64
	ThicknessExp          float64
}

// Basis is the exponent at which the points were taken, and the confidence of the intervals.
type Basis struct{ CommonExp, Confidence float64 }

// Beliefs about what is not the metal. Common practice, no source, but for the range of mc
// (PRACTICE's 0.05 to 0.45 about the usual value).
const (
	meterSpread = 0.10 // of a meter's ln bias, machine to machine
	wearMean    = 0.26 // ln 1.3: what a worn edge asks for
	wearSpread  = 0.10
	expSpread   = 0.06 // of mc about its record's
	noiseStart  = 0.08 // of one reading about its own mean
	tails       = 4.0  // degrees of freedom of the noise: a wild reading pulls little
	noiseWeight = 6.0  // readings that the belief in the noise is worth
	// LevelsRatio is how far apart the chips must be for mc to be fitted.
	LevelsRatio = 2.0
)

// Fit is a fitted force constant and exponent with intervals, what each meter reads off by,
// and the noise.
type Fit struct {
	ForceNPerMM2, ForceLowNPerMM2, ForceHighNPerMM2 float64 // kc1.1
	ThicknessExp, ThicknessLowExp, ThicknessHighExp float64 // mc
	ExpFitted                                       bool    // false: the chips were too much alike, mc is the record's
	SpreadRatio                                     float64 // of ln kc at the chips that were cut
	NoiseRatio                                      float64 // of one reading
	WearFactor                                      float64 // of a worn edge
	MeterExp                                        []float64
	Count                                           int // readings of the metal asked about
}

// ErrTooLittle says that no reading of the metal is there.
var ErrTooLittle = errors.New("no reading of this metal")

// Force fits ln kc = ln kc1.1 − (mc − mc0)·ln h + meter + wear·share + noise to the readings,
// all at once over metals and machines, so that a wrong meter is not blamed on the metal
// that happened to be on it. Priors are normal, the noise has heavy tails and is reweighted
// until it settles. mc is fitted only when the chips are a factor of two apart.
//
// Range: at least one point of metal 0, a prior for every metal. Errors: ErrTooLittle; a
// system that does not solve. Source: normal linear model with normal priors (A. Gelman et
// al., Bayesian Data Analysis, 3rd ed., sections 14.8 and 17.2, recalled); held against
// simulations in the tests.
func Force(points []Point, priors []Prior, as Basis) (Fit, error) {
	layout := layoutOf(points, priors, as.CommonExp)
	if layout.count == 0 {
		return Fit{}, ErrTooLittle
	}
	noise := noiseStart
	weights := make([]float64, len(points))
	for i := range weights {
		weights[i] = 1
	}
	var at *mat.VecDense
	apart := noise
	for range 60 {
		theta, _, err := layout.solve(points, weights, noise)
		if err != nil {
			return Fit{}, err
		}
		before := noise
		noise, apart = layout.reweigh(points, theta, weights)
		if at = theta; math.Abs(noise/before-1) < 1e-8 {
			break
		}
	}
	// How sure the fit is follows from how far the readings lie apart, each as one.
	for i := range weights {
		weights[i] = 1
	}
	_, cov, err := layout.solve(points, weights, apart)
	if err != nil {
		return Fit{}, err
	}
	return layout.fit(at, cov, apart, as.Confidence), nil
}

// layout is where each unknown stands: ln kc1.1 of every metal, mc of metal 0 where it is
// fitted, wear, and the bias of every machine.
type layout struct {
	priors    []Prior
	common    float64
	exp       int // index of mc, −1 when it is the record's
	wear      int
	machine   int // index of the first machine's bias
	size      int
	machines  int
	count     int
	low, high float64 // of ln h of metal 0
	meanLnH   float64
}

func layoutOf(points []Point, priors []Prior, common float64) *layout {
	l := &layout{priors: priors, common: common, low: math.Inf(1), high: math.Inf(-1), exp: -1}
	for _, p := range points {
		l.machines = max(l.machines, p.Machine+1)
		if p.Metal == 0 {
			l.count++
			l.low, l.high = min(l.low, p.ThicknessExp), max(l.high, p.ThicknessExp)
			l.meanLnH += p.ThicknessExp
		}
	}
	if l.count > 0 {
		l.meanLnH /= float64(l.count)
	}
	l.size = len(priors)
	if l.high-l.low >= math.Log(LevelsRatio)*(1-1e-9) {
		l.exp = l.size
		l.size++
	}
	l.wear, l.machine = l.size, l.size+1
	l.size += 1 + l.machines
	return l
}

// row is a point as coefficients of the unknowns, and what is left to explain.
func (l *layout) row(p Point, row []float64) (y float64) {
	clear(row)
	row[p.Metal], row[l.wear], row[l.machine+p.Machine] = 1, p.WearRatio, 1
	y = p.ForceExp + (l.priors[p.Metal].ThicknessExp-l.common)*p.ThicknessExp // as if taken at the metal's own exponent
	if p.Metal == 0 && l.exp >= 0 {
		row[l.exp] = -p.ThicknessExp // of mc less the record's
	}
	return y
}

// solve is the posterior for given weights and noise: normal equations with the priors on
// their diagonal.
func (l *layout) solve(points []Point, weights []float64, noise float64) (*mat.VecDense, *mat.SymDense, error) {
	a, b := mat.NewSymDense(l.size, nil), mat.NewVecDense(l.size, nil)
	believe := func(i int, mean, spread float64) {
		a.SetSym(i, i, a.At(i, i)+1/(spread*spread))
		b.SetVec(i, b.AtVec(i)+mean/(spread*spread))
	}
	for k, p := range l.priors {
		believe(k, p.ForceExp, p.SpreadRatio)
	}
	if l.exp >= 0 {
		believe(l.exp, 0, expSpread)
	}
	believe(l.wear, wearMean, wearSpread)
	for m := range l.machines {
		believe(l.machine+m, 0, meterSpread)
	}
	sums := l.sums(points, weights)
	for i := range l.size {
		b.SetVec(i, b.AtVec(i)+sums.y[i]/(noise*noise))
		for j := i; j < l.size; j++ {
			a.SetSym(i, j, a.At(i, j)+sums.x[i*l.size+j]/(noise*noise))
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(a) {
		return nil, nil, errors.New("the readings and the priors do not determine the constants")
	}
	var theta mat.VecDense
	var cov mat.SymDense
	if err := chol.SolveVecTo(&theta, b); err != nil {
		return nil, nil, err
	}
	if err := chol.InverseTo(&cov); err != nil {
		return nil, nil, err
	}
	return &theta, &cov, nil
}

// sums are the weighted products of the rows; a row has five entries at most.
type sums struct{ x, y []float64 }

func (l *layout) sums(points []Point, weights []float64) sums {
	s := sums{make([]float64, l.size*l.size), make([]float64, l.size)}
	row := make([]float64, l.size)
	var at [5]int
	for i, p := range points {
		y := l.row(p, row)
		entries := append(at[:0], p.Metal, l.wear, l.machine+p.Machine)
		if p.Metal == 0 && l.exp >= 0 {
			entries = append(entries, l.exp)
		}
		slices.Sort(entries)
		for a, j := range entries {
			s.y[j] += weights[i] * row[j] * y
			for _, k := range entries[a:] {
				s.x[j*l.size+k] += weights[i] * row[j] * row[k]
			}
		}
	}
	return s
}

// reweigh sets each reading's weight by how far it lies off. It returns the scale of the
// noise that the weights go with, and the standard deviation of plain readings that would
// determine as much: the mean square of the pull over the square of its mean slope.
func (l *layout) reweigh(points []Point, theta *mat.VecDense, weights []float64) (noise, apart float64) {
	row := make([]float64, l.size)
	residuals := make([]float64, len(points))
	for i, p := range points {
		y := l.row(p, row)
		for j, x := range row {
			if x != 0 {
				y -= x * theta.AtVec(j)
			}
		}
		residuals[i] = y
	}
	scale := noiseStart * noiseStart
	for range 20 {
		sum := noiseWeight * noiseStart * noiseStart
		for i, r := range residuals {
			weights[i] = (tails + 1) / (tails + r*r/scale)
			sum += weights[i] * r * r
		}
		scale = sum / (noiseWeight + float64(len(points)))
	}
	pull, slope := noiseWeight*noiseStart*noiseStart, noiseWeight
	for i, r := range residuals {
		pull += weights[i] * weights[i] * r * r
		slope += weights[i] * (1 - 2*r*r/(tails*scale+r*r))
	}
	n := noiseWeight + float64(len(points))
	return math.Sqrt(scale), math.Sqrt(pull/n) / (slope / n)
}

// fit reads the posterior.
func (l *layout) fit(theta *mat.VecDense, cov *mat.SymDense, noise, confidence float64) Fit {
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: noiseWeight + float64(l.count)}
	z := t.Quantile((1 + confidence) / 2)
	p := l.priors[0]
	f := Fit{Count: l.count, NoiseRatio: noise, WearFactor: math.Exp(theta.AtVec(l.wear)), ThicknessExp: p.ThicknessExp, ThicknessLowExp: p.ThicknessExp, ThicknessHighExp: p.ThicknessExp}
	sd := math.Sqrt(cov.At(0, 0))
	f.ForceNPerMM2 = math.Exp(theta.AtVec(0))
	f.ForceLowNPerMM2, f.ForceHighNPerMM2 = math.Exp(theta.AtVec(0)-z*sd), math.Exp(theta.AtVec(0)+z*sd)
	variance := cov.At(0, 0)
	if l.exp >= 0 {
		f.ExpFitted = true
		half := z * math.Sqrt(cov.At(l.exp, l.exp))
		f.ThicknessExp += theta.AtVec(l.exp)
		f.ThicknessLowExp, f.ThicknessHighExp = f.ThicknessExp-half, f.ThicknessExp+half
		variance += l.meanLnH*l.meanLnH*cov.At(l.exp, l.exp) - 2*l.meanLnH*cov.At(0, l.exp)
	}
	f.SpreadRatio = math.Sqrt(max(0, variance))
	for m := range l.machines {
		f.MeterExp = append(f.MeterExp, theta.AtVec(l.machine+m))
	}
	return f
}

// Level is one chip thickness and the specific cutting force measured at it.
type Level struct{ ThicknessMM, ForceNPerMM2 float64 }

// Through is the power law through two levels: mc = ln(kc1/kc2)/ln(h2/h1). Two points
// determine two numbers and say nothing of their error.
//
// Range: different thicknesses. Errors: none. Source: Kienzle's law.
func Through(a, b Level) (forceNPerMM2, thicknessExp float64) {
	thicknessExp = math.Log(a.ForceNPerMM2/b.ForceNPerMM2) / math.Log(b.ThicknessMM/a.ThicknessMM)
	return a.ForceNPerMM2 * math.Pow(a.ThicknessMM, thicknessExp), thicknessExp
}
