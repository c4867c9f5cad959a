package stiffness_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"swarf/domain/stiffness"
)

// The reference is the least eigenvalue of the rod in finite differences, E·I·y”” =
// −N·y”, clamped at one end and guided at the other, or with both ends free to turn, by
// gonum.
func TestColumnAgreesWithEigenvalue(t *testing.T) {
	const length, diameter, modulus, n = 400.0, 8.0, 210.0, 160
	stiff := 1000 * modulus * math.Pi * math.Pow(diameter, 4) / 64
	least := func(clamped bool) float64 {
		h := length / n
		bend, push := mat.NewDense(n-1, n-1, nil), mat.NewDense(n-1, n-1, nil)
		add := func(m *mat.Dense, row, column int, v float64) {
			switch {
			case column == -1 && clamped: // y(−h) = y(h)
				column = 1
			case column == -1, column == n+1: // y'' = 0 at a free end: y(−h) = −y(h)
				column, v = map[bool]int{true: 1, false: n - 1}[column == -1], -v
			case column == 0 || column == n:
				return // the ends stay on the axis
			}
			m.Set(row-1, column-1, m.At(row-1, column-1)+v)
		}
		for i := 1; i < n; i++ {
			for k, v := range []float64{1, -4, 6, -4, 1} {
				add(bend, i, i+k-2, v*stiff/math.Pow(h, 4))
			}
			for k, v := range []float64{-1, 2, -1} {
				add(push, i, i+k-1, v/(h*h))
			}
		}
		var inverse, product mat.Dense
		if err := inverse.Inverse(push); err != nil {
			t.Fatal(err)
		}
		product.Mul(&inverse, bend)
		var eigen mat.Eigen
		if !eigen.Factorize(&product, mat.EigenNone) {
			t.Fatal("no eigenvalues")
		}
		load := math.Inf(1)
		for _, v := range eigen.Values(nil) {
			load = min(load, real(v))
		}
		return load
	}
	for name, x := range map[string]struct {
		ratio   float64
		clamped bool
	}{"free ends": {1, false}, "clamped and guided": {stiffness.GuidedEndRatio, true}} {
		want := least(x.clamped)
		got := stiffness.Column{LengthMM: length, DiameterMM: diameter, ModulusGPa: modulus, EndRatio: x.ratio}.BucklingN()
		if math.Abs(got-want) > 1e-3*want {
			t.Errorf("%s: %v N, by eigenvalue %v N", name, got, want)
		}
	}
	root := math.Pi / stiffness.GuidedEndRatio
	if math.Abs(math.Tan(root)-root) > 2e-3*root {
		t.Errorf("tan %v is %v", root, math.Tan(root))
	}
}
