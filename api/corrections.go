package api

import (
	"context"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/correction"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/unit"
)

// correctOne answers "it measures this: what do I change?".
func correctOne(_ context.Context, snap *catalog.Snapshot, req *wire.CorrectionRequest, opt *ComputeOptions) (any, int, error) {
	f := featureFromWire(req, opt.Faults)
	if len(opt.Faults.List) > 0 {
		return nil, 0, nil
	}
	c := correction.Of(f)
	a := &wire.CorrectionAnswer{Ref: req.Ref, Correction: wire.Correction{Register: req.Register, Value: unit.Some(c.ValueMM)},
		Findings: findingsOf(c.Findings, opt.System), Unchecked: uncheckedOf(c.Unchecked)}
	if !opt.Batch {
		a.Units, a.DataRevision, a.ModelVersion = opt.System.String(), snap.Revision, estimate.ModelVersion
	}
	return a, len(c.Findings), nil
}

// featureFromWire checks a correction's request; the register is never assumed.
func featureFromWire(w *wire.CorrectionRequest, faults *cut.Faults) correction.Feature {
	f := correction.Feature{Internal: w.Feature == "internal", Diameter: w.Register == "diameter", TemperatureCelsius: w.Temperature, ExpansionPerMK: w.Expansion}
	need := func(given bool, field, what string) {
		if !given {
			faults.Missing(field, what)
		}
	}
	need(w.Feature != "", "feature", "external or internal decides the sign")
	need(w.Register != "", "register", "radius or diameter is a factor of two and is never assumed")
	need(w.Programmed != nil, "programmed", "a correction needs the programmed size")
	need(w.SidesCut != nil, "sides_cut", "a correction needs the number of sides the tool cuts, 1 or 2")
	size := bound{unit.Length, mostLengthMM, false}
	check := checker{faults: faults}
	check.opt("programmed", w.Programmed, size)
	check.opt("measured", w.Measured, size)
	if s := w.SidesCut; s != nil && *s != 1 && *s != 2 {
		faults.Range("sides_cut", "sides_cut is {value}; a tool cuts one side or both", unit.Of(unit.None, *s), nil, "send 1 or 2")
	} else if s != nil {
		f.SidesCount = *s
	}
	switch {
	case w.Measured != nil && w.Error != nil:
		faults.Conflict("error", "measured and error are both given")
	case w.Measured == nil && w.Error == nil:
		faults.Alternative("measured", "a correction needs what was measured", "give measured, or error = measured − programmed")
	}
	if t := w.Temperature; t != nil && (*t < -50 || *t > 400) {
		faults.Range("temperature", "temperature is {value}; a part is measured between -50 and 400 °C", unit.Of(unit.Temperature, *t), nil, "check the unit")
	}
	if e := w.Expansion; e != nil && (*e < 0 || *e > 300) {
		faults.Range("expansion", "expansion is {value}; metals have up to 40, plastics up to 300", unit.Of(unit.Expansion, *e), nil, "send it in 10⁻⁶/K")
	}
	if w.Programmed != nil {
		f.ProgrammedMM = *w.Programmed
		if w.Measured != nil {
			f.ErrorMM = *w.Measured - *w.Programmed
		}
	}
	if w.Error != nil {
		f.ErrorMM = *w.Error
	}
	return f
}

// settledVerdict is the verdict of a correction for the counts of a batch: it always answers.
func settledVerdict(any) domain.Verdict { return domain.Yes }
