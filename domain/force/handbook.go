package force

import "math"

// TwistDrill is a high-speed-steel twist drill in the handbook's method: work
// material factor Kd, feed per revolution, diameter, ratio of chisel edge to
// diameter, wear factor W.
type TwistDrill struct {
	WorkFactorRatio, FeedPerRevolutionMM, DiameterMM, ChiselRatio, WearRatio float64
}

// StandardChiselRatio and SplitChiselRatio are the chisel edges of a standard and
// of a split or thinned point, as shares of the diameter.
const (
	StandardChiselRatio = 0.18
	SplitChiselRatio    = 0.03
)

// chiselFactors are the handbook's A (torque), B and J (thrust) by chisel ratio.
type chiselFactors struct{ ratio, a, b, j float64 }

// chisels is the table of p. 1152. A at 0.15 stands as printed, although it breaks
// the run of its neighbours.
var chisels = [...]chiselFactors{
	{SplitChiselRatio, 1.000, 1.100, 0.001},
	{0.05, 1.005, 1.140, 0.003},
	{0.08, 1.015, 1.200, 0.006},
	{0.10, 1.020, 1.235, 0.010},
	{0.13, 1.040, 1.270, 0.017},
	{0.15, 1.080, 1.310, 0.022},
	{StandardChiselRatio, 1.085, 1.355, 0.030},
	{0.20, 1.105, 1.380, 0.040},
	{0.25, 1.155, 1.445, 0.065},
	{0.30, 1.235, 1.500, 0.090},
	{0.35, 1.310, 1.575, 0.120},
	{0.40, 1.395, 1.620, 0.160},
}

// chisel interpolates between the rows of the table and holds its ends: the method
// says nothing of blunter or sharper points.
func chisel(ratio float64) chiselFactors {
	last := len(chisels) - 1
	if ratio <= chisels[0].ratio {
		return chisels[0]
	}
	if ratio >= chisels[last].ratio {
		return chisels[last]
	}
	i := 1
	for ratio > chisels[i].ratio {
		i++
	}
	lo, hi := chisels[i-1], chisels[i]
	t := (ratio - lo.ratio) / (hi.ratio - lo.ratio)
	mix := func(x, y float64) float64 { return x + t*(y-x) }
	return chiselFactors{ratio, mix(lo.a, hi.a), mix(lo.b, hi.b), mix(lo.j, hi.j)}
}

// TwistDrillTorqueNm returns M = Kd·f^0.8·D^1.8·A·W/40,000 in N·m.
//
// Range: high-speed-steel drills of about 1.6 to 76 mm at 0.01 to 1.25 mm/rev, the
// span of the handbook's factor tables. Errors: none. Source: Machinery's Handbook,
// 31st ed., pp. 1152-1153.
func TwistDrillTorqueNm(t TwistDrill) float64 {
	return t.WorkFactorRatio * math.Pow(t.FeedPerRevolutionMM, 0.8) * math.Pow(t.DiameterMM, 1.8) *
		chisel(t.ChiselRatio).a * t.WearRatio / 40000
}

// TwistDrillThrustN returns T = 0.05·Kd·f^0.8·D^0.8·B·W + 0.007·Kd·D²·J·W in N.
//
// Range: as TwistDrillTorqueNm. Errors: none. Source: Machinery's Handbook, 31st ed.,
// pp. 1152-1153.
func TwistDrillThrustN(t TwistDrill) float64 {
	c := chisel(t.ChiselRatio)
	return 0.05*t.WorkFactorRatio*math.Pow(t.FeedPerRevolutionMM, 0.8)*math.Pow(t.DiameterMM, 0.8)*c.b*t.WearRatio +
		0.007*t.WorkFactorRatio*t.DiameterMM*t.DiameterMM*c.j*t.WearRatio
}
