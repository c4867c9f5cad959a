// Package stiffness says how far tools and walls give way, and how firmly a chuck holds.
package stiffness

import "math"

// Elastic moduli of tools, GPa. Handbook values from memory: steel 210, sintered carbide
// around 600; a damped bar is steel outside.
const (
	SteelGPa   = 210.0
	CarbideGPa = 600.0
)

// CoreRatio is the diameter of an end mill that carries, over its cutting diameter: the
// flutes take the rest. Common practice, no source.
const CoreRatio = 0.8

// Shaft is a round cantilever in two steps: from its tip a part of one diameter, then one
// of another to where it is held. TipLengthMM is at most LengthMM.
type Shaft struct {
	LengthMM, TipLengthMM         float64
	TipDiameterMM, RootDiameterMM float64
	ModulusGPa                    float64
}

// DeflectionMM returns how far the tip gives way under a force across it,
// δ = F·(L1³/(3·E·I1) + (L³ − L1³)/(3·E·I2)), I = π·d⁴/64; with one diameter
// F·L³/(3·E·I).
//
// Range: slender shafts, elastic. Errors: none. Source: beam theory, e.g. J. Wickert,
// K. Lewis, An Introduction to Mechanical Engineering, example 3.6.
func (s Shaft) DeflectionMM(forceN float64) float64 {
	third := func(length, diameter float64) float64 {
		inertia := math.Pi * math.Pow(diameter, 4) / 64
		return math.Pow(length, 3) / (3 * 1000 * s.ModulusGPa * inertia)
	}
	tip := min(s.TipLengthMM, s.LengthMM)
	return forceN * (third(tip, s.TipDiameterMM) + third(s.LengthMM, s.RootDiameterMM) - third(tip, s.RootDiameterMM))
}

// Wall is an upright strip of metal, fixed at its foot.
type Wall struct{ HeightMM, ThicknessMM, WidthMM, ModulusGPa float64 }

// DeflectionMM returns how far the top of the strip gives way under a force across it,
// δ = 4·F·h³/(E·w·t³).
//
// Range: height well over thickness, elastic. Errors: none. Source: beam theory, a
// cantilever of rectangular section; a wall's neighbours on both sides are left out.
func (w Wall) DeflectionMM(forceN float64) float64 {
	return 4 * forceN * math.Pow(w.HeightMM, 3) / (1000 * w.ModulusGPa * w.WidthMM * math.Pow(w.ThicknessMM, 3))
}
