package generate

import (
	"reflect"
	"slices"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"

	"swarf/api/wire"
	"swarf/domain/cut"
	"swarf/domain/unit"
)

// shapes are the wire types behind the schemas, whose tags say more than swag reads.
var shapes = []any{
	wire.Cut{}, wire.Answer{}, wire.SpindleCheck{}, wire.SpindleResults{}, wire.CorrectionRequest{}, wire.CorrectionAnswer{}, wire.Batch{}, wire.Problem{}, wire.Machine{},
	wire.MaterialList{}, wire.MaterialRecord{}, wire.MaterialSpread{}, wire.ToolClassList{}, wire.UnitList{}, wire.ToolAsset{}, wire.MachineList{}, wire.SourceList{}, wire.Source{}, wire.ChangeList{}, wire.HardnessConversion{},
	wire.RecordList{}, wire.Record{}, wire.Impact{}, wire.KeptCutList{}, wire.KeptCut{}, wire.Approval{}, wire.Withdrawal{},
	wire.SheetList{}, wire.SheetInfo{}, wire.ImportReport{}, wire.ImportApproval{},
	wire.PlanRequest{}, wire.Plan{}, wire.Job{}, wire.JobList{},
	wire.KeyRequest{}, wire.Rotation{}, wire.Revocation{}, wire.KeyList{}, wire.Key{},
	wire.Observation{}, wire.Observed{}, wire.ObservationList{}, wire.ObservedBatch{}, wire.CalibrationRequest{}, wire.Calibration{}, wire.DiagnosisRequest{}, wire.Diagnosis{},
}

// requests are schemas that callers send: what an answer always has, they may leave out.
var requests = []string{"Cut", "Material", "Hardness", "Tool", "Engagement", "Parameters", "Coolant", "ForceData", "Duty", "Target", "Stock", "Certificate", "Wall",
	"WorkHolding", "Control", "Rotary", "Rates", "SpindleCheck", "CorrectionRequest", "Override", "Machine", "Spindle", "Gear", "Rating", "Point", "Axes", "MachineCoolant", "Meter",
	"Record", "ForceRecord", "StartingRecord", "LifeRecord", "Approval", "Withdrawal", "KeptCut",
	"PlanRequest", "PlanCut", "Allowances", "KeyRequest", "Rotation", "Revocation",
	"Observation", "LoadReading", "EdgeLog", "Surface", "CalibrationRequest", "DiagnosisRequest", "Known"}

// must are the members that a schema cannot do without, where its type does not say so.
var must = map[string][]string{
	"Cut": {"material", "operation", "tool"}, "Tool": {"class"}, "Hardness": {"value", "scale"}, "Override": {"code", "by", "reason"},
	"Machine": {"process", "spindle"}, "Spindle": {"max_speed", "efficiency", "gears"}, "Gear": {"ratings"}, "Rating": {"rating"}, "Point": {"speed", "power"},
	"Record": {"kind"}, "ForceRecord": {"scope", "method", "basis", "source"}, "StartingRecord": {"scope", "operations", "basis", "source"}, "LifeRecord": {"scope", "basis", "source"},
	"Observation": {"kind", "cut"}, "EdgeLog": {"minutes", "reason"}, "CalibrationRequest": {"kind", "record", "material", "process"}, "DiagnosisRequest": {"cut", "load"},
	"PlanRequest": {"cuts"}, "PlanCut": {"material", "operation", "tool"},
	"KeyRequest": {"name"}, "Approval": {"reason"}, "Withdrawal": {"reason"},
	"CorrectionRequest": {"feature", "sides_cut", "programmed", "register"},
	"Health":            {"status"}, "Readiness": {"status", "mode", "data_revision", "model_version"}, "Staleness": {"age_seconds", "since", "reason"},
	"Version": {"version", "go", "model_version", "mode"}, "ProblemList": {"items"}, "ProblemKind": {"code", "title", "status", "when", "fix"},
	"Linkset": {"linkset"}, "LinkContext": {"anchor", "service-desc", "service-doc", "status", "service-meta"}, "LinkTarget": {"href", "type", "title"},
}

// called are members that name a cut or a machine of the request: by its ref or id, or by its
// place where it has none.
var called = map[string][]string{
	"SpindleResult": {"cut", "machine"}, "SpindleProgram": {"machine"}, "PlanResult": {"ref", "machine"}, "PlanMachine": {"machine"}, "PlanMargin": {"ref", "machine"}, "PlanFinding": {"ref", "from"},
}

// shape makes the schemas say what is on the wire.
func shape(schemas openapi3.Schemas) {
	seen := map[reflect.Type]bool{}
	for _, s := range shapes {
		describe(schemas, reflect.TypeOf(s), seen)
	}
	for name, list := range must {
		closed(schemas[name].Value)
		schemas[name].Value.Required = list
	}
	machine := openapi3.NewOneOfSchema(openapi3.NewStringSchema().WithMinLength(1))
	machine.OneOf = append(machine.OneOf, refer(schemas, "Machine"))
	machine.Description = "id of a machine, or the machine itself with units of its own"
	schemas["MachineRef"] = machine.NewRef()
	schemas["Cut"].Value.Properties["machine"] = refer(schemas, "MachineRef")
	schemas["PlanCut"].Value.Properties["machine"] = refer(schemas, "MachineRef")
	schemas["SpindleCheck"].Value.Properties["machine"] = refer(schemas, "MachineRef")
	machines := openapi3.NewArraySchema()
	machines.Items = refer(schemas, "MachineRef")
	schemas["SpindleCheck"].Value.Properties["machines"] = machines.NewRef()
	schemas["PlanRequest"].Value.Properties["machines"] = machines.NewRef()

	schemas["Assumed"].Value.Properties["value"] = openapi3.NewOneOfSchema(openapi3.NewStringSchema(), openapi3.NewFloat64Schema(), openapi3.NewBoolSchema()).NewRef()
	for name, members := range called {
		for _, member := range members {
			either := openapi3.NewOneOfSchema(openapi3.NewStringSchema(), openapi3.NewIntegerSchema().WithMin(0))
			either.Description = "ref or id, or the index from 0"
			schemas[name].Value.Properties[member] = either.NewRef()
		}
	}
	operations := openapi3.NewStringSchema()
	for _, name := range cut.Names() {
		operations.Enum = append(operations.Enum, name)
	}
	schemas["Cut"].Value.Properties["operation"] = operations.NewRef()
	schemas["Machine"].Value.Properties["units"].Value.Description = "required; in a list they stand once, beside the items"
	for _, name := range []string{"Cut", "SpindleCheck", "CorrectionRequest", "DiagnosisRequest", "Observation"} {
		schemas[name].Value.Properties["units"].Value.Description = "required; an item of a batch and a cut of a spindle check inherit theirs"
	}
}

// describe carries tags of a wire type over to its schema, and goes on inside.
func describe(schemas openapi3.Schemas, t reflect.Type, seen map[reflect.Type]bool) {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct || seen[t] {
		return
	}
	seen[t] = true
	for i := range t.NumField() {
		describe(schemas, t.Field(i).Type, seen)
	}
	if ref := schemas[t.Name()]; ref != nil {
		closed(ref.Value)
		ref.Value.Extensions = map[string]any{orderName: ordered(t)}
		members(ref.Value, t, slices.Contains(requests, t.Name()))
	}
}

// orderName is the extension that lists the members in the order in which text and CSV
// have them; the properties of a schema have none.
const orderName = "x-text-order"

// ordered lists the members of a type in their order.
func ordered(t reflect.Type) []string {
	var names []string
	for i := range t.NumField() {
		field := t.Field(i)
		if field.Anonymous {
			names = append(names, ordered(field.Type)...)
			continue
		}
		if name, _, _ := strings.Cut(field.Tag.Get("json"), ","); name != "" && name != "-" {
			names = append(names, name)
		}
	}
	return names
}

// members says which members are words of a list, quantities, or always there.
func members(s *openapi3.Schema, t reflect.Type, request bool) {
	for i := range t.NumField() {
		field := t.Field(i)
		if field.Anonymous {
			members(s, field.Type, request)
			continue
		}
		name, options, _ := strings.Cut(field.Tag.Get("json"), ",")
		ref := s.Properties[name]
		if ref == nil {
			continue
		}
		if field.Type == reflect.TypeOf(wire.UnitOf{}) {
			units := openapi3.NewObjectSchema().WithAdditionalProperties(openapi3.NewStringSchema())
			units.Description = "UCUM code of every member with a unit, by the member's own name"
			s.Properties[name] = units.NewRef()
			continue
		}
		if ref.Value != nil && ref.Ref == "" {
			member(ref.Value, field)
			symbols(s, ref.Value, name, field)
			if field.Type.Kind() == reflect.Pointer && field.Type.Elem().Kind() == reflect.String && options == "" {
				ref.Value.Nullable = true
			}
		}
		if !request && !strings.Contains(options, "omit") && field.Type != reflect.TypeOf(unit.Opt{}) && !slices.Contains(s.Required, name) {
			s.Required = append(s.Required, name)
		}
	}
}

// member puts a member's words and quantity into its schema.
func member(s *openapi3.Schema, field reflect.StructField) {
	if words := field.Tag.Get("enum"); words != "" {
		s.Enum = nil
		for _, w := range strings.Split(words, ",") {
			s.Enum = append(s.Enum, w)
		}
	}
	q, ok := unit.Named(field.Tag.Get("q"))
	if !ok || q == unit.None {
		return
	}
	text := "in " + q.Code(unit.Metric)
	if inch := q.Code(unit.Inch); inch != q.Code(unit.Metric) {
		text += "; inch: " + inch
	}
	s.Description = strings.TrimSpace(s.Description + " " + text)
}

// symbols adds the ISO 13399 symbols that a property of a tool goes by as well.
func symbols(s, readable *openapi3.Schema, name string, field reflect.StructField) {
	if field.Tag.Get("iso") == "" {
		return
	}
	for _, symbol := range strings.Split(field.Tag.Get("iso"), ",") {
		same := *readable
		same.Description = "ISO 13399, for " + name
		s.Properties[symbol] = same.NewRef()
	}
}

// closed lets an object have no members but its own.
func closed(s *openapi3.Schema) {
	no := false
	s.AdditionalProperties = openapi3.AdditionalProperties{Has: &no}
}
