package unit

import (
	"math"
	"testing"
)

func TestEveryQuantityIsComplete(t *testing.T) {
	names := map[string]bool{}
	for q := None; q < quantities; q++ {
		name := q.Name()
		if back, ok := Named(name); !ok || back != q || names[name] {
			t.Errorf("the name %q does not lead back to quantity %d", name, q)
		}
		names[name] = true
		for _, s := range []System{Metric, Inch} {
			if q.Code(s) == "" {
				t.Errorf("%s has no code in %v", name, s)
			}
			if (q.Label(s) == "") != (q == None) {
				t.Errorf("%s is labelled %q in %v", name, q.Label(s), s)
			}
		}
		same := q.Code(Metric) == q.Code(Inch)
		if same != (q.FromMetric(Inch, 1) == 1) || same != (q.Label(Metric) == q.Label(Inch)) {
			t.Errorf("%s: code, label and factor do not agree on whether the systems differ", name)
		}
		for _, v := range []float64{0, 1, -40, 12.7, 1e6} {
			back := q.ToMetric(Inch, q.FromMetric(Inch, v))
			if math.Abs(back-v) > 1e-13*math.Max(math.Abs(v), 100) {
				t.Errorf("%s: %v comes back as %v", name, v, back)
			}
		}
	}
}

// Conversions as published: NIST Special Publication 811 (2008), appendix B.8
// (figures with 7 digits as printed there, exact ones in bold there), written
// down from memory.
func TestFactorsAsPublished(t *testing.T) {
	cases := []struct {
		q       Quantity
		inch    float64
		metric  float64
		printed float64 // relative error allowed by the digits printed
	}{
		{Length, 1, 25.4, 0},
		{Speed, 1, 0.3048, 0},
		{Force, 1, 4.448222, 1e-7},
		{Torque, 1, 1.355818, 3e-7},
		{Power, 1, 0.7456999, 1e-7},
		{RemovalRate, 1, 16.387064, 1e-12},
		{SpecificForce, 1, 6.894757, 1e-7},
		{Pressure, 1, 0.06894757, 1e-7},
		{Modulus, 1, 6.894757, 1e-7},
		{Mass, 1, 0.45359237, 0},
		{Density, 1, 27.67990, 2e-7},
		{Temperature, 212, 100, 1e-14},
		{Temperature, 32, 0, 0},
	}
	for _, c := range cases {
		got := c.q.ToMetric(Inch, c.inch)
		if math.Abs(got-c.metric) > c.printed*math.Abs(c.metric)+1e-13 {
			t.Errorf("%s: %v is %v metric, published %v", c.q.Name(), c.inch, got, c.metric)
		}
	}
}

// The label of a code is that of its quantity, in both systems; a pure number has none.
func TestLabelOfCode(t *testing.T) {
	for q := None; q < quantities; q++ {
		for _, s := range []System{Metric, Inch} {
			if got, want := LabelOf(q.Code(s)), q.Label(s); got != want {
				t.Errorf("%s is %q, want %q", q.Code(s), got, want)
			}
		}
	}
	if got := LabelOf("furlong"); got != "furlong" {
		t.Error(got)
	}
}
