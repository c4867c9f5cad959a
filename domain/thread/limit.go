package thread

import "math"

// metricPitches are the pitches of ISO 261 and the tolerance of the minor diameter of an
// internal thread in grade 6, in µm, where ISO 965-1 has one.
//
// Source: ISO 965-1 (recalled); P 1.5, 1.75 and 2 held against printed limits.
var metricPitches = []struct{ pitchMM, gradeSixUM float64 }{
	{0.2, 0}, {0.25, 0}, {0.3, 0}, {0.35, 0}, {0.4, 0}, {0.45, 0}, {0.5, 140}, {0.6, 160}, {0.7, 180}, {0.75, 190}, {0.8, 200},
	{1, 236}, {1.25, 265}, {1.5, 300}, {1.75, 335}, {2, 375}, {2.5, 450}, {3, 500}, {3.5, 560}, {4, 600}, {4.5, 670}, {5, 710}, {5.5, 750}, {6, 800},
}

// Limit is the range of an internal thread's minor diameter and the tolerance class it
// belongs to.
type Limit struct {
	LowMM, HighMM float64
	Class         string
}

// MinorLimit returns the limits of an internal thread's minor diameter: class 6H for
// the metric pitches, 2B for whole threads per inch. ok is false for other pitches and
// where the class has no tolerance.
//
// Range: metric from P 0.5 to 6; unified from 4 threads per inch up. Errors: none.
// Source: ISO 965-1 (recalled, part held against print); ASME B1.1, 2B:
// 0.25·P − 0.40·P² from 1/4 in up, 0.05·P^(2/3) + 0.03·P/D − 0.002 below (recalled), at
// most 0.394·P, P and D in inches.
func (t Thread) MinorLimit() (limit Limit, ok bool) {
	low := t.MinorMM()
	for _, row := range metricPitches {
		if math.Abs(row.pitchMM-t.PitchMM) < 1e-6 {
			return Limit{low, low + row.gradeSixUM/1000, "6H"}, row.gradeSixUM > 0
		}
	}
	perInch := 25.4 / t.PitchMM
	if math.Abs(perInch-math.Round(perInch)) > 1e-3 || perInch < 4-1e-3 {
		return Limit{}, false
	}
	p, d := t.PitchMM/25.4, t.NominalMM/25.4
	tolerance := 0.25*p - 0.40*p*p
	if d < 0.25-1e-6 {
		tolerance = min(0.394*p, 0.05*math.Cbrt(p*p)+0.03*p/d-0.002)
	}
	return Limit{low, low + 25.4*tolerance, "2B"}, true
}
