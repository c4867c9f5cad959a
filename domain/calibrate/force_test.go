package calibrate_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"swarf/domain/calibrate"
)

var about = calibrate.Basis{CommonExp: 0.25, Confidence: 0.9}

// shop is a simulated shop: metals and meters drawn from the beliefs of the package, so
// that a stated interval can be held to its probability.
type shop struct {
	r      *rand.Rand
	priors []calibrate.Prior
	truth  []float64 // ln kc1.1 of every metal
	mc     float64   // of metal 0
	meters []float64
	wear   float64
	noise  float64
}

func newShop(r *rand.Rand, metals, machines int) *shop {
	s := &shop{r: r, wear: 0.26 + 0.10*r.NormFloat64(), noise: 0.06}
	for range metals {
		p := calibrate.Prior{ForceExp: math.Log(2000), SpreadRatio: 0.25, ThicknessExp: 0.25}
		s.priors = append(s.priors, p)
		s.truth = append(s.truth, p.ForceExp+p.SpreadRatio*r.NormFloat64())
	}
	s.mc = 0.25 + 0.06*r.NormFloat64()
	for range machines {
		s.meters = append(s.meters, 0.10*r.NormFloat64())
	}
	return s
}

// measure takes readings of a metal on a machine over chips from 0.1 to 0.3 mm.
func (s *shop) measure(metal, machine, count int) []calibrate.Point {
	var out []calibrate.Point
	mc := 0.25
	if metal == 0 {
		mc = s.mc
	}
	for range count {
		p := calibrate.Point{ThicknessExp: math.Log(0.1 + 0.2*s.r.Float64()), WearRatio: s.r.Float64(), Machine: machine, Metal: metal}
		ln := s.truth[metal] - mc*p.ThicknessExp + s.meters[machine] + s.wear*p.WearRatio + s.noise*s.r.NormFloat64()
		p.ForceExp = ln + 0.25*p.ThicknessExp // at the common exponent
		out = append(out, p)
	}
	return out
}

// In a thousand seeded shops the 90 % intervals of kc1.1 and of mc hold the truth in 88 to
// 92 %, and the fit is off by nothing on the whole.
func TestForceIntervalsHoldWhatTheySay(t *testing.T) {
	const runs = 1000
	inForce, inExp, fitted, bias := 0, 0, 0, 0.0
	for seed := range uint64(runs) {
		s := newShop(rand.New(rand.NewPCG(seed, 7)), 3, 3)
		var points []calibrate.Point
		for metal := range 3 {
			for machine := range 3 {
				points = append(points, s.measure(metal, machine, 4)...)
			}
		}
		f, err := calibrate.Force(points, s.priors, about)
		if err != nil {
			t.Fatal(err)
		}
		true11 := math.Exp(s.truth[0])
		bias += math.Log(f.ForceNPerMM2/true11) / runs
		if f.ForceLowNPerMM2 <= true11 && true11 <= f.ForceHighNPerMM2 {
			inForce++
		}
		if f.ExpFitted {
			fitted++
		}
		if f.ExpFitted && f.ThicknessLowExp <= s.mc && s.mc <= f.ThicknessHighExp {
			inExp++
		}
	}
	t.Logf("seeds 0 to %d: kc1.1 in its 90 %% interval %.1f %%, mc, fitted in %d, %.1f %%, bias of ln kc1.1 %.4f",
		runs-1, float64(inForce)/10, fitted, 100*float64(inExp)/float64(fitted), bias)
	for what, share := range map[string]float64{"kc1.1": float64(inForce) / runs, "mc": float64(inExp) / float64(fitted)} {
		if share < 0.88 || share > 0.92 {
			t.Errorf("%s lies in its 90 %% interval in %v of the runs", what, share)
		}
	}
	if fitted < 900 {
		t.Errorf("mc was fitted in %d runs only", fitted)
	}
	if math.Abs(bias) > 0.01 {
		t.Errorf("ln kc1.1 is off by %v on average", bias)
	}
}

// A meter that reads 20 % high on every metal is found out, not the metal that is asked
// about; with that metal alone on it, nobody can tell, and the interval says so.
func TestAWrongMeterIsNotBlamedOnTheMetal(t *testing.T) {
	s := newShop(rand.New(rand.NewPCG(3, 9)), 4, 3)
	s.truth = []float64{math.Log(2000), math.Log(2000), math.Log(2000), math.Log(2000)}
	s.meters, s.mc, s.wear, s.noise = []float64{math.Log(1.2), 0, 0}, 0.25, 0.26, 0.03
	var points []calibrate.Point
	for metal := range 4 {
		for machine := range 3 {
			if metal == 0 && machine > 0 {
				continue // the metal asked about has only been on the wrong meter
			}
			points = append(points, s.measure(metal, machine, 10)...)
		}
	}
	f, err := calibrate.Force(points, s.priors, about)
	if err != nil {
		t.Fatal(err)
	}
	if off := f.MeterExp[0] - (f.MeterExp[1]+f.MeterExp[2])/2; math.Abs(off-math.Log(1.2)) > 0.04 {
		t.Errorf("the meter is %v off, found %v", math.Log(1.2), off)
	}
	if math.Abs(math.Log(f.ForceNPerMM2/2000)) > 0.12 {
		t.Errorf("kc1.1 %v", f.ForceNPerMM2)
	}
	alone, err := calibrate.Force(s.measure(0, 0, 40), s.priors[:1], about)
	if err != nil {
		t.Fatal(err)
	}
	if wide := math.Log(alone.ForceHighNPerMM2 / alone.ForceLowNPerMM2); wide < 2*1.6*0.09 {
		t.Errorf("one meter alone, and the interval is only ±%v", wide/2)
	}
}

// One wild reading in ten moves the fit little.
func TestWildReadingsPullLittle(t *testing.T) {
	s := newShop(rand.New(rand.NewPCG(1, 1)), 1, 2)
	points := append(s.measure(0, 0, 20), s.measure(0, 1, 20)...)
	before, err := calibrate.Force(points, s.priors, about)
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(points); i += 10 {
		points[i].ForceExp += math.Log(2.5)
	}
	after, err := calibrate.Force(points, s.priors, about)
	if err != nil {
		t.Fatal(err)
	}
	if moved := math.Abs(math.Log(after.ForceNPerMM2 / before.ForceNPerMM2)); moved > 0.03 {
		t.Errorf("four wild readings of forty moved kc1.1 by %v", moved)
	}
}

// Chips less than a factor of two apart leave mc as the record has it; without a reading of
// the metal there is no fit; ever more readings leave the noise of the meters.
func TestWhatIsNotFitted(t *testing.T) {
	s := newShop(rand.New(rand.NewPCG(5, 5)), 1, 1)
	points := s.measure(0, 0, 10)
	for i := range points {
		points[i].ThicknessExp = math.Log(0.2) + 0.3*float64(i%2)
	}
	f, err := calibrate.Force(points, s.priors, about)
	if err != nil || f.ExpFitted || f.ThicknessExp != 0.25 {
		t.Errorf("%+v, %v", f, err)
	}
	points[0].ThicknessExp += math.Log(2)
	if f, err = calibrate.Force(points, s.priors, about); err != nil || !f.ExpFitted {
		t.Errorf("two levels of chip: %+v, %v", f, err)
	}
	if _, err := calibrate.Force(nil, s.priors, about); err != calibrate.ErrTooLittle {
		t.Errorf("no reading: %v", err)
	}
}

// The two-point example of common practice: kc 4100 at h 0.05 mm and 3050 at 0.20 mm give mc
// 0.213 and kc1.1 2163, with no word on their error (arithmetic, no source).
func TestThroughTwoPoints(t *testing.T) {
	force, exp := calibrate.Through(calibrate.Level{ThicknessMM: 0.05, ForceNPerMM2: 4100}, calibrate.Level{ThicknessMM: 0.2, ForceNPerMM2: 3050})
	if math.Abs(exp-0.213) > 0.0005 || math.Abs(force-2163) > 1 {
		t.Errorf("kc1.1 %v, mc %v", force, exp)
	}
}

// A fit of a hundred thousand readings takes well under two seconds: see the benchmark.
func BenchmarkForce(b *testing.B) {
	s := newShop(rand.New(rand.NewPCG(2, 2)), 5, 8)
	var points []calibrate.Point
	for metal := range 5 {
		for machine := range 8 {
			points = append(points, s.measure(metal, machine, 2500)...)
		}
	}
	for b.Loop() {
		if _, err := calibrate.Force(points, s.priors, about); err != nil {
			b.Fatal(err)
		}
	}
}
