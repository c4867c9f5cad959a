package estimate

import (
	"math"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/force"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// factor is one K of the product ΠK and why it stands there.
type factor struct {
	name, why string
	ratio     float64
}

// factors are the few K of one law, kept without allocating.
type factors struct {
	list  [5]factor
	count int
}

// processOf names the process of force records that an operation belongs to.
func processOf(c *cut.Cut) string {
	switch {
	case c.Operation.Name == "boring-internal":
		return "boring"
	case c.Operation.Name == "grooving" || c.Operation.Name == "parting":
		return "grooving"
	case c.Operation.Family == cut.TurningFamily:
		return "turning"
	case c.Operation.Family == cut.MillingFamily:
		return "milling"
	}
	return "drilling"
}

// lawOf returns a record's law with the factors that hold for this cut.
func lawOf(c *cut.Cut, r *material.Force) (force.Law, factors) {
	law := force.Law{SpecificForce11NPerMM2: r.SpecificCuttingForce11NPerMM2.V, ThicknessExp: r.ChipThicknessExp.V}
	var ks factors
	add := func(name string, ratio float64, why string) {
		if ratio != 1 {
			ks.list[ks.count] = factor{name, why, ratio}
			ks.count++
			law = law.Scaled(ratio)
		}
	}
	if c.Tool.RakeAngleDeg != nil && r.ReferenceRakeDeg.OK {
		add("rake", force.RakeRatio(force.Rake{ToolDeg: *c.Tool.RakeAngleDeg, ReferenceDeg: r.ReferenceRakeDeg.V}), "rake against the record's")
	}
	add("process", force.ProcessRatio(force.Process{Family: r.Family, MeasuredIn: r.Process, UsedFor: processOf(c)}), "the record was measured in another process")
	if c.Tool.Material == "HSS" {
		add("tool-material", force.HighSpeedSteelRatio, "high-speed steel against carbide")
	}
	if c.Operation.Name == "reaming" {
		add("friction", force.ReamingFrictionRatio, "margins rub in the hole: 1.3 to 2")
	}
	if hb := recordHBW(c, r); hb > 0 && c.Material.HardnessMoves() {
		add("hardness", force.HardnessRatio(force.Harder{HardnessHBW: c.Material.HardnessHBW, RecordHBW: hb}), "harder or softer than the record's work")
	}
	return law, ks
}

// recordHBW is the hardness a record stands for: the middle of its own range, else
// of the condition's.
func recordHBW(c *cut.Cut, r *material.Force) float64 {
	if r.Hardness.Low.OK && r.Hardness.High.OK {
		return (r.Hardness.Low.V + r.Hardness.High.V) / 2
	}
	if k := c.Material.Condition; k != nil && k.Hardness.Scale == material.HBW {
		return (k.Hardness.Low + k.Hardness.High) / 2
	}
	return 0
}

// serve decides whose law serves: the caller's, else the record's. It reports
// false when there is none.
func (e *Estimate) serve() bool {
	c := e.Cut
	if c.Force.HasLaw() {
		if c.Force.SpecificEnergyJPerMM3 != nil {
			e.law = force.EnergyLaw(*c.Force.SpecificEnergyJPerMM3)
		} else {
			e.law = force.Law{SpecificForce11NPerMM2: *c.Force.SpecificCuttingForce11NPerMM2, ThicknessExp: *c.Force.ChipThicknessExp}
		}
		e.Basis = domain.Request
		e.SpreadRatio = value(c.Force.SpreadRatio, domain.Request.SpreadRatio())
		return true
	}
	r := c.Material.Force.Served
	if r == nil {
		e.Unchecked = append(e.Unchecked, domain.Unchecked{Check: "no-data", Needs: "a force record of this material, or force_data"})
		return false
	}
	e.Served, e.Basis = r, r.Basis
	e.SpreadRatio = e.spreadOf(r)
	if c.Force != nil && c.Force.SpreadRatio != nil {
		e.SpreadRatio = *c.Force.SpreadRatio
	}
	if r.Method == material.UnitPower {
		e.law = energyLawOf(r, e.Motion.FeedPerToothMM)
	} else {
		e.law, e.factors = lawOf(c, r)
	}
	return true
}

// spreadOf is the spread of a record: its own where it tells one, that of a shop's own
// basis, else what the catalogue works out from the sources, and more where the cut lies
// outside what the record was made for. A value of a subgroup or a group is an analogy, and
// spreads as one at the least.
func (e *Estimate) spreadOf(r *material.Force) float64 {
	choice := &e.Cut.Material.Force
	spread := r.Basis.SpreadRatio()
	switch {
	case r.SpreadRatio.OK:
		spread = r.SpreadRatio.V
	case r.Basis != domain.Shop && choice.SpreadRatio > 0:
		spread = choice.SpreadRatio
		if choice.SourcesCount == 1 {
			e.Assumed = append(e.Assumed, domain.Assumption{Field: "loads", Text: r.ID, Why: "one source gives this force; its spread is that of sources in general"})
		}
	}
	if choice.FallBack != "" {
		spread = max(spread, domain.CommonPractice.SpreadRatio())
	}
	return math.Hypot(spread, e.beyond(r))
}

// What a decade outside a record's chips, or a doubling outside its hardness, adds to its
// spread, as a logarithm: the exponent is known to 0.06, and force goes with hardness to the
// power 0.4 to 0.55. Common practice, no source.
const (
	beyondChip     = 0.06
	beyondHardness = 0.5
)

// beyond is the spread that distance from the record's own conditions adds.
func (e *Estimate) beyond(r *material.Force) float64 {
	away := 0.0
	if h := e.Chip.ThicknessMeanMM; h > 0 {
		if low := r.ChipThickness.Low; low.OK && low.V > 0 && h < low.V {
			away = math.Hypot(away, beyondChip*math.Log(low.V/h))
		}
		if high := r.ChipThickness.High; high.OK && high.V > 0 && h > high.V {
			away = math.Hypot(away, beyondChip*math.Log(h/high.V))
		}
	}
	if hb := e.Cut.Material.HardnessHBW; hb > 0 && e.Cut.Material.Hardness != nil {
		if low := r.Hardness.Low; low.OK && low.V > 0 && hb < low.V {
			away = math.Hypot(away, beyondHardness*math.Log(low.V/hb))
		}
		if high := r.Hardness.High; high.OK && high.V > 0 && hb > high.V {
			away = math.Hypot(away, beyondHardness*math.Log(hb/high.V))
		}
	}
	return away
}

// energyLawOf is a unit-power record as a law at this feed.
func energyLawOf(r *material.Force, feed float64) force.Law {
	return force.EnergyLaw(force.Tabulated{
		EnergyJPerMM3: r.EnergyJPerMM3.V, AtMM: r.EnergyThicknessMM.Or(0), ThicknessExp: r.EnergyThicknessExp.Or(0),
	}.SpecificEnergyJPerMM3(feed))
}

// mostCompeting bounds how many competing records an answer shows.
const mostCompeting = 2

// compare fills Methods: what served, the records that compete with it and the
// unit-power method, each giving its torque for the sharp edge by torqueOf.
func (e *Estimate) compare(torqueOf func(force.Law) float64) {
	if e.alone {
		return
	}
	c := e.Cut
	n := e.Motion.SpindleSpeedPerMin
	method := func(name, record, source string, basis domain.Basis, torque float64, used bool) {
		e.Methods = append(e.Methods, Method{Name: name, TorqueNm: torque,
			PowerKW: force.PowerKW(force.Rotating{TorqueNm: torque, SpindleSpeedPerMin: n}),
			Record:  record, Source: source, Basis: basis, Used: used})
	}
	e.Methods = make([]Method, 0, 4)
	choice := &c.Material.Force
	if c.Force.HasLaw() {
		method("request", "", "request", domain.Request, e.Sharp.TorqueNm, true)
	} else if e.Served != nil {
		method(methodName(e.Served), e.Served.ID, e.Served.Source, e.Served.Basis, e.Sharp.TorqueNm, true)
	} else if e.HasLoads { // the handbook drilling method served
		record, source := "", "request"
		if r := c.Material.DrillWork; r != nil && e.Basis != domain.Request {
			record, source = r.ID, r.Source
		}
		method("handbook-drilling", record, source, e.Basis, e.Sharp.TorqueNm, true)
	}
	shown := 0
	other := func(r *material.Force) {
		if r == nil || r == e.Served || shown >= mostCompeting {
			return
		}
		var l force.Law
		if r.Method == material.UnitPower {
			l = energyLawOf(r, e.Motion.FeedPerToothMM)
		} else {
			l, _ = lawOf(c, r)
		}
		shown++
		method(methodName(r), r.ID, r.Source, r.Basis, torqueOf(l), false)
	}
	other(choice.Served)
	if len(choice.UnitPower) > 0 { // the second, independent method has its place kept
		other(choice.UnitPower[0])
	}
	for _, r := range choice.Competing {
		other(r)
	}
}

func methodName(r *material.Force) string { return string(r.Method) }

// uses lists a source, where anybody will read it.
func (e *Estimate) uses(u domain.Used) {
	if !e.alone {
		e.Sources = append(e.Sources, u)
	}
}

// cite lists the records behind the loads.
func (e *Estimate) cite(r *material.Force, usedFor string) {
	if e.alone {
		return
	}
	e.uses(domain.Used{ID: r.Source, Basis: r.Basis, UsedFor: usedFor, Place: r.Place, Valid: validity(r)})
}

func validity(r *material.Force) string {
	if !r.ChipThickness.Known() {
		return ""
	}
	return "chip thickness " + span(r.ChipThickness.Low, r.ChipThickness.High) + " mm"
}

func span(low, high unit.Opt) string {
	switch {
	case !low.OK:
		return "up to " + number(high.V)
	case !high.OK:
		return "from " + number(low.V)
	}
	return number(low.V) + " to " + number(high.V)
}
