package api

import (
	"regexp"
	"strconv"
	"strings"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/material"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// Bounds beyond which a constant of a record is a slip of the pen or the unit. Common
// practice, no source.
const (
	mostSpecificForce  = 50_000 // N/mm²
	mostSpecificEnergy = 100    // J/mm³
	mostChipMM         = 50
	mostExponent       = 1
	mostLifeExponent   = 2
	mostSpeedMPerMin   = 20_000
	mostDepthMM        = 1_000
	mostWorkFactor     = 1_000_000
	mostSpreadRatio    = 2
	mostLots           = 10_000
	mostRakeDeg        = 89
)

var plainRecordID = regexp.MustCompile(`^[a-z0-9]+([.-][a-z0-9]+)*$`)

// recordReader reads one record, with the faults it meets, under a field such as force.
type recordReader struct {
	checker
	snap  onRecord
	under string
}

// onRecord is what a record may refer to: the snapshot, or that with what is about to be
// written.
type onRecord interface {
	Source(id string) (*domain.Source, bool)
	Material(id string) (*material.Material, bool)
	Subgroup(key string) bool // such as M/austenitic
	Class(id string) (*tool.Class, bool)
}

// recordFromWire checks a record and turns it into the domain's, a draft. The wire shape is
// metric already; ranges carry units of their own.
func recordFromWire(snap onRecord, id string, w *wire.Record, system unit.System, faults *cut.Faults) *catalog.Record {
	r := recordReader{checker: checker{faults: faults, inch: system == unit.Inch}, snap: snap}
	if !plainRecordID.MatchString(id) || len(id) > longestName {
		faults.Any(fault(domain.Invalid, "value-out-of-range", "id", strconv.Quote(clip(id))+" is no id of a record", "take lower-case letters, digits, points and hyphens, such as kc-1.4301-turning-2026"))
	}
	life := &material.Curation{Kind: w.Kind, State: material.Draft, Supersedes: r.text("supersedes", w.Supersedes, longestName), ReviewBy: r.day("review_by", w.ReviewBy)}
	if lots, ok := r.read("lots", w.Lots, bound{unit.None, mostLots, true}); ok {
		life.Lots = int(lots)
		if float64(life.Lots) != lots {
			faults.Range("lots", "lots is {value}; lots are whole", unit.Of(unit.None, lots), nil, "send a whole number")
		}
	}
	if life.Supersedes == id {
		faults.Conflict("supersedes", "the record supersedes itself")
	}
	out := &catalog.Record{ID: id}
	given := 0
	for _, part := range []struct {
		kind string
		sent bool
		read func()
	}{
		{"force", w.Force != nil, func() { out.Force = r.force(w.Force) }},
		{"starting", w.Starting != nil, func() { out.Starting = r.starting(w.Starting) }},
		{"life", w.Life != nil, func() { out.Life = r.life(w.Life) }},
	} {
		switch {
		case part.sent && w.Kind == part.kind:
			given++
			r.under = part.kind
			part.read()
		case part.sent:
			faults.Conflict(part.kind, "kind is "+strconv.Quote(w.Kind)+"; only its own member belongs here")
		case w.Kind == part.kind:
			faults.Missing(part.kind, "a record of this kind has its numbers there")
		}
	}
	if w.Kind == "" {
		faults.Missing("kind", "say force, starting or life")
	}
	if given == 0 {
		out.Life = &material.Life{} // faults are told; nothing is stored
	}
	p := out.Provenance()
	p.ID, p.Curation = id, life
	return out
}

func (r *recordReader) at(name string) string { return join(r.under, name) }

// provenance is where the numbers come from: basis and a source on record are required.
func (r *recordReader) provenance(w *wire.Provenance) material.Provenance {
	p := material.Provenance{Basis: domain.Basis(w.Basis), Source: w.Source, Place: r.text(r.at("place"), w.Place, longestNote), Note: r.text(r.at("note"), w.Note, longestNote)}
	switch r.word(r.at("basis"), w.Basis, "published", "recalled", "common-practice", "shop", "derived") {
	case "":
		if w.Basis == "" {
			r.faults.Missing(r.at("basis"), "say what stands behind the numbers: published, recalled, common-practice, shop or derived")
		}
	case "published":
		if p.Place == "" {
			r.faults.Missing(r.at("place"), "a published number says where in its source it stands")
		}
	}
	if _, ok := r.snap.Source(w.Source); !ok {
		r.faults.Any(fault(domain.Invalid, "value-out-of-range", r.at("source"), "there is no source "+strconv.Quote(clip(w.Source)), "/v1/sources lists all"))
	}
	return p
}

// scope is what the numbers are about: a grade on record, a subgroup that has grades, or a
// group.
func (r *recordReader) scope(w wire.Scope) material.Scope {
	known := false
	switch r.word(r.at("scope.level"), w.Level, "material", "subgroup", "group") {
	case "material":
		_, known = r.snap.Material(w.Key)
	case "subgroup":
		known = r.snap.Subgroup(w.Key)
	case "group":
		for _, g := range material.Groups {
			known = known || string(g) == w.Key
		}
	case "":
		r.faults.Missing(r.at("scope"), "say what the record is about: level and key")
		return material.Scope{}
	}
	if !known {
		r.faults.Any(fault(domain.Invalid, "value-out-of-range", r.at("scope.key"), "there is no "+w.Level+" "+strconv.Quote(clip(w.Key)), "take the id of a grade, a subgroup such as M/austenitic, or a letter of ISO 513"))
	}
	return material.Scope{Level: w.Level, Key: w.Key}
}

// condition is one that the grade has, where the record is about a grade.
func (r *recordReader) condition(of wire.Scope, name string) string {
	name = r.text(r.at("condition"), name, longestName)
	m, known := r.snap.Material(of.Key)
	if name == "" || of.Level != "material" || !known {
		return name
	}
	if _, has := m.Condition(name); !has {
		var names []string
		for _, c := range m.Conditions {
			names = append(names, c.Name)
		}
		r.faults.Any(fault(domain.Invalid, "condition-unknown", r.at("condition"), m.Name+" has no condition "+strconv.Quote(clip(name)), "take one of "+strings.Join(names, ", ")+", or leave it out"))
	}
	return name
}

func (r *recordReader) force(w *wire.ForceRecord) *material.Force {
	num := func(name string, v *float64, q unit.Quantity, most float64) unit.Opt {
		return r.opt(r.at(name), v, bound{q, most, false})
	}
	share := func(name string, v *float64) unit.Opt {
		return r.opt(r.at(name), v, bound{unit.None, mostExponent, true})
	}
	f := &material.Force{Provenance: r.provenance(&w.Provenance), Scope: r.scope(w.Scope), Condition: r.condition(w.Scope, w.Condition),
		Process: w.Process, Method: material.Method(w.Method), Family: r.text(r.at("family"), w.Family, longestName),
		SpecificCuttingForce11NPerMM2: num("specific_cutting_force_1_1", w.SpecificCuttingForce11, unit.SpecificForce, mostSpecificForce),
		ChipThicknessExp:              share("chip_thickness_exponent", w.ChipThicknessExponent),
		FeedForce11NPerMM2:            num("specific_feed_force_1_1", w.FeedForce11, unit.SpecificForce, mostSpecificForce),
		FeedForceExp:                  share("feed_force_exponent", w.FeedForceExponent),
		PassiveForce11NPerMM2:         num("specific_passive_force_1_1", w.PassiveForce11, unit.SpecificForce, mostSpecificForce),
		PassiveForceExp:               share("passive_force_exponent", w.PassiveForceExponent),
		EnergyJPerMM3:                 num("specific_cutting_energy", w.SpecificCuttingEnergy, unit.SpecificEnergy, mostSpecificEnergy),
		EnergyThicknessMM:             num("energy_chip_thickness", w.EnergyChipThickness, unit.Length, mostChipMM),
		EnergyThicknessExp:            share("energy_thickness_exponent", w.EnergyThicknessExponent),
		DrillWorkFactor:               num("drill_work_factor", w.DrillWorkFactor, unit.None, mostWorkFactor),
		SpreadRatio:                   num("spread", w.Spread, unit.None, mostSpreadRatio),
	}
	if rake := w.ReferenceRake; rake != nil {
		if *rake < -mostRakeDeg || *rake > mostRakeDeg {
			r.faults.Range(r.at("reference_rake"), "a rake of {value} cannot be; {limit} is the most, either way", unit.Of(unit.Angle, *rake), unit.Of(unit.Angle, mostRakeDeg), "stay under a right angle")
		}
		f.ReferenceRakeDeg = unit.Some(*rake)
	}
	if f.Process = r.word(r.at("process"), w.Process, "turning", "milling", "drilling", "general"); w.Process == "" {
		r.faults.Missing(r.at("process"), "say in which process it was measured: turning, milling, drilling or general")
	}
	need := func(name string, given *float64) {
		if given == nil {
			r.faults.Missing(r.at(name), "the method "+w.Method+" needs it")
		}
	}
	switch r.word(r.at("method"), w.Method, string(material.Kienzle), string(material.UnitPower), string(material.DrillWork)) {
	case string(material.Kienzle):
		need("specific_cutting_force_1_1", w.SpecificCuttingForce11)
		need("chip_thickness_exponent", w.ChipThicknessExponent)
	case string(material.UnitPower):
		need("specific_cutting_energy", w.SpecificCuttingEnergy)
	case string(material.DrillWork):
		need("drill_work_factor", w.DrillWorkFactor)
	default:
		if w.Method == "" {
			r.faults.Missing(r.at("method"), "say kienzle, unit-power or drill-handbook")
		}
	}
	if e := f.ChipThicknessExp; e.OK && e.V >= 1 {
		r.faults.Range(r.at("chip_thickness_exponent"), "an exponent of {value} is not below {limit}", unit.Of(unit.None, e.V), unit.Of(unit.None, 1), "check the record")
	}
	if v := w.Valid; v != nil {
		f.ChipThickness = r.span("valid.chip_thickness", v.ChipThickness, unit.Length, "")
		f.Hardness = r.span("valid.hardness", v.Hardness, unit.None, string(material.HBW))
		f.Speed = r.span("valid.cutting_speed", v.CuttingSpeed, unit.Speed, "")
	}
	return f
}

func (r *recordReader) starting(w *wire.StartingRecord) *material.Starting {
	s := &material.Starting{Provenance: r.provenance(&w.Provenance), Scope: r.scope(w.Scope), Condition: r.condition(w.Scope, w.Condition),
		Operations: w.Operations, Classes: w.Classes, ToolMaterial: r.text(r.at("tool_material"), w.ToolMaterial, longestName), Kind: r.word(r.at("kind"), w.Kind, "rough", "finish", "general"),
		FeedKind: material.FeedKind(w.FeedKind), DepthMM: r.opt(r.at("depth_of_cut"), w.DepthOfCut, bound{unit.Length, mostDepthMM, false})}
	if s.Kind == "" {
		s.Kind = "general"
	}
	if len(w.Operations) == 0 {
		r.faults.Missing(r.at("operations"), "say which operations it serves")
	}
	for i, name := range w.Operations {
		if _, ok := cut.Find(name); !ok {
			r.faults.Any(fault(domain.Invalid, "operation-unknown", r.at("operations")+"["+strconv.Itoa(i)+"]", "there is no operation "+strconv.Quote(clip(name)), "take one of "+strings.Join(cut.Names(), ", ")))
		}
	}
	for i, id := range w.Classes {
		if _, ok := r.snap.Class(id); !ok {
			r.faults.Any(fault(domain.Invalid, "tool-class-unknown", r.at("classes")+"["+strconv.Itoa(i)+"]", "there is no tool class "+strconv.Quote(clip(id)), "/v1/tool-classes lists all"))
		}
	}
	s.Speed = r.span("cutting_speed", w.CuttingSpeed, unit.Speed, "")
	feed := unit.Length
	if s.FeedKind == material.DiameterPerTurn || s.FeedKind == material.DiameterPerTooth {
		feed = unit.None
	}
	s.Feed = r.span("feed", w.Feed, feed, "")
	if s.Feed.Known() && w.FeedKind == "" {
		r.faults.Missing(r.at("feed_kind"), "say what the feed counts")
	}
	if w.FeedKind == "" {
		s.FeedKind = material.PerRevolution
	}
	if !s.Speed.Known() && !s.Feed.Known() {
		r.faults.Alternative(r.under, "the record gives neither a speed nor a feed", "give cutting_speed, feed or both")
	}
	if v := w.Valid; v != nil {
		s.Hardness = r.span("valid.hardness", v.Hardness, unit.None, string(material.HBW))
	}
	return s
}

func (r *recordReader) life(w *wire.LifeRecord) *material.Life {
	l := &material.Life{Provenance: r.provenance(&w.Provenance), Scope: r.scope(w.Scope), ToolMaterial: r.text(r.at("tool_material"), w.ToolMaterial, longestName),
		TaylorExp: r.opt(r.at("taylor_exponent"), w.TaylorExponent, bound{unit.None, mostLifeExponent, false}), Criterion: r.text(r.at("criterion"), w.Criterion, longestName),
		TaylorSpeedMPerMin: r.opt(r.at("taylor_speed"), w.TaylorSpeed, bound{unit.Speed, mostSpeedMPerMin, false}),
		FeedExp:            r.opt(r.at("feed_exponent"), w.FeedExponent, bound{unit.None, mostLifeExponent, true}),
		DepthExp:           r.opt(r.at("depth_exponent"), w.DepthExponent, bound{unit.None, mostLifeExponent, true}),
		ReferenceFeedMM:    r.opt(r.at("reference_feed"), w.ReferenceFeed, bound{unit.Length, mostChipMM, false}),
		ReferenceDepthMM:   r.opt(r.at("reference_depth"), w.ReferenceDepth, bound{unit.Length, mostDepthMM, false}),
	}
	if l.Process = r.word(r.at("process"), w.Process, "turning", "milling", "drilling", "general"); w.Process == "" {
		r.faults.Missing(r.at("process"), "say in which process it was tested: turning, milling, drilling or general")
	}
	if l.FeedExp.OK && !l.ReferenceFeedMM.OK {
		r.faults.Missing(r.at("reference_feed"), "an exponent needs the feed at which taylor_speed holds")
	}
	if l.DepthExp.OK && !l.ReferenceDepthMM.OK {
		r.faults.Missing(r.at("reference_depth"), "an exponent needs the depth at which taylor_speed holds")
	}
	if w.TaylorExponent == nil {
		r.faults.Missing(r.at("taylor_exponent"), "n of vc·Tⁿ = C")
	}
	return l
}

// span reads a range with its unit beside it, in metric or inch.
func (r *recordReader) span(name string, w *wire.Span, q unit.Quantity, code string) domain.Range {
	out := domain.Range{Quantity: q}
	if w == nil {
		return out
	}
	system := unit.Metric
	switch metric := q.Code(unit.Metric); {
	case code != "" && w.Unit == code, code == "" && w.Unit == metric:
	case code == "" && w.Unit == q.Code(unit.Inch):
		system = unit.Inch
	case w.Unit == "":
		r.faults.Missing(r.at(name+".unit"), "a range names its unit")
	default:
		r.faults.Any(fault(domain.Invalid, "value-out-of-range", r.at(name+".unit"), "the unit "+strconv.Quote(clip(w.Unit))+" does not measure this", "send "+metric+" or "+q.Code(unit.Inch)+code))
	}
	end := func(of string, a *wire.Amount) unit.Opt {
		if a == nil {
			return unit.Opt{}
		}
		v := q.ToMetric(system, float64(*a))
		if v < 0 || of == "high" && v == 0 {
			r.faults.Range(r.at(name+"."+of), "{value} cannot be", unit.Of(q, v), nil, "send a number above zero")
		}
		return unit.Some(checker{inch: system == unit.Inch}.settled(v))
	}
	out.Low, out.High = end("low", w.Low), end("high", w.High)
	if out.Low.OK && out.High.OK && out.Low.V > out.High.V {
		r.faults.Range(r.at(name), "the range goes from {value} to {limit}", unit.Of(q, out.Low.V), unit.Of(q, out.High.V), "low comes first")
	}
	return out
}
