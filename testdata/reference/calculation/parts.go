package calculation

import (
	"swarf/domain/correction"
	"swarf/domain/stiffness"
	"swarf/domain/thread"
)

// registers are the calculations of package correction.
type registers struct{ *given }

func (r registers) change(diameter bool) float64 {
	return correction.Of(correction.Feature{SidesCount: r.in("sides", "1"), ErrorMM: r.in("error", "mm"), Diameter: diameter}).ValueMM
}

var registerTable = table[registers]{
	"radius":   {"mm", func(r registers) float64 { return r.change(false) }},
	"diameter": {"mm", func(r registers) float64 { return r.change(true) }},
}

// beams are the calculations of package stiffness.
type beams struct{ *given }

var beamTable = table[beams]{
	"deflection": {"mm", func(b beams) float64 {
		d, length := b.in("diameter", "mm"), b.in("length", "mm")
		shaft := stiffness.Shaft{LengthMM: length, TipLengthMM: length, TipDiameterMM: d, RootDiameterMM: d, ModulusGPa: b.in("elastic_modulus", "GPa")}
		return shaft.DeflectionMM(b.in("force", "N"))
	}},
}

// threads are the calculations of package thread.
type threads struct{ *given }

func (t threads) thread() thread.Thread {
	return thread.Thread{NominalMM: t.in("nominal_diameter", "mm"), PitchMM: t.in("pitch", "mm")}
}

func (t threads) limit() thread.Limit {
	l, _ := t.thread().MinorLimit()
	return l
}

func (t threads) percent(b thread.Base) float64 {
	return thread.Hole{Thread: t.thread(), HoleMM: t.in("hole", "mm")}.PercentOn(b)
}

var threadTable = table[threads]{
	"minor":            {"mm", func(t threads) float64 { return t.thread().MinorMM() }},
	"pitch":            {"mm", func(t threads) float64 { return t.thread().PitchDiameterMM() }},
	"screw_minor":      {"mm", func(t threads) float64 { return t.thread().ScrewMinorMM() }},
	"minor_low":        {"mm", func(t threads) float64 { return t.limit().LowMM }},
	"minor_high":       {"mm", func(t threads) float64 { return t.limit().HighMM }},
	"percent_internal": {"%", func(t threads) float64 { return t.percent(thread.Internal) }},
	"percent_national": {"%", func(t threads) float64 { return t.percent(thread.National) }},
}
