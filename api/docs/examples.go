package docs

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"net/url"
	"reflect"
	"strings"

	"swarf/api/docs/worked"
	"swarf/api/page"
	"swarf/api/wire"
	"swarf/domain/cut"
	"swarf/domain/unit"
)

//go:embed examples.html
var examplesText string

// shownCut is an example as the page has it.
type shownCut struct {
	worked.Example
	Name                  string
	Fields                []field
	Loads, Runs, Machines string // addresses of the three questions
	Body                  string
}

// field is a member to be changed.
type field struct {
	ID, Name, Label, Unit, Value string
	Number                       bool
	Words                        []string // to choose from; nil: any
}

// family is the examples of one kind of operation.
type family struct {
	Name string
	Cuts []shownCut
}

// other is a question that is not about the loads of one cut.
type other struct{ ID, Name, Says, Href string }

var others = []other{
	{"correction", "Correction of a register", "A bore came out two hundredths small; what goes into the radius register",
		"/v1/corrections?units=metric&feature=internal&sides_cut=2&programmed=40&measured=39.98&register=radius&format=html"},
	{"diagnosis", "A meter that reads high", "The spindle's meter shows 7.5 kW; what is the likeliest cause",
		"/v1/diagnoses?units=metric&grade=1.4301&condition=annealed&operation=turning&class=turning-external&corner_radius=0.8&work_diameter=60&depth_of_cut=2&cutting_speed=140&feed_per_revolution=0.25&machine=lathe-315&power=7.5&minutes_in_cut=9&other_machine_ratio=1.02&format=html"},
	{"refused", "A cut that must not run", "Eight edges at 6 mm on a small spindle: the refusals, and how far each limit is exceeded",
		"/v1/estimates?units=metric&grade=1.7225&operation=face-milling&class=mill-face&cutting_diameter=100&effective_edges=8&axial_depth=6&radial_width=80&cutting_speed=220&feed_per_tooth=0.3&machine=vmc-40&format=html"},
	{"mistaken", "A request with mistakes", "A misspelt member and an ambiguous grade: all faults at once, each with what to do",
		"/v1/estimates?units=metric&grade=stainless&operation=drilling&class=drill-indexable&cutting_diamter=30&format=html"},
}

// familyNames are the kinds of operations in the order of the page.
var familyNames = []struct {
	family cut.Family
	name   string
}{{cut.TurningFamily, "Turning"}, {cut.MillingFamily, "Milling"}, {cut.HoleFamily, "Holes"}, {cut.ThreadFamily, "Threads with taps"}}

// checkedOn are the machines of a spindle check by the process of the example's machine.
var checkedOn = map[bool]string{true: "lathe-200,lathe-315", false: "vmc-40,vmc-50,hmc-63"}

// examplesPage writes the page of examples, the same each time.
func examplesPage() []byte {
	data := struct {
		Families []family
		Others   []other
	}{Others: others}
	for _, f := range familyNames {
		shown := family{Name: f.name}
		for _, e := range worked.Examples {
			if o, _ := cut.Find(e.Operation); o.Family == f.family {
				shown.Cuts = append(shown.Cuts, show(e))
			}
		}
		data.Families = append(data.Families, shown)
	}
	out, err := page.New(examplesText).Write("Worked examples", data)
	if err != nil {
		panic(err) // a test writes it
	}
	return out
}

// show lays an example out for the page.
func show(e worked.Example) shownCut {
	address := func(path string, values url.Values) string { return path + "?" + values.Encode() + "&format=html" }
	check := e.Query()
	machine := check.Get("machine")
	check.Del("machine")
	check.Set("machines", checkedOn[strings.HasPrefix(machine, "lathe")])
	s := shownCut{Example: e, Name: page.Operation(e.Operation), Loads: address("/v1/estimates", e.Query()), Runs: address("/v1/recommendations", e.Open()),
		Machines: address("/v1/spindle-checks", check)}
	var indented bytes.Buffer
	if err := json.Indent(&indented, e.Body(), "", "  "); err != nil {
		panic(err) // a test writes it
	}
	s.Body = indented.String()
	system, _ := unit.ParseSystem(e.Query().Get("units"))
	for _, m := range e.Members() {
		s.Fields = append(s.Fields, fieldOf(e.Operation, m, system))
	}
	return s
}

// columns are the members of a cut by their path, and the paths by their flat names.
var (
	columns = func() map[string]wire.Column {
		list := map[string]wire.Column{}
		for _, c := range wire.ColumnsOf(reflect.TypeFor[wire.Cut]()) {
			list[c.Path] = c
		}
		return list
	}()
	flatNames = wire.FlatNames(reflect.TypeFor[wire.Cut]())
)

// fieldOf is a member of an example as a field of a form.
func fieldOf(operation string, m worked.Member, system unit.System) field {
	path := m.Name
	if full, ok := flatNames[m.Name]; ok {
		path = full
	}
	c := columns[path]
	f := field{ID: operation + "-" + strings.ReplaceAll(m.Name, ".", "-"), Name: m.Name, Value: m.Value, Unit: c.Quantity.Label(system), Number: c.Number, Words: c.Words}
	f.Label = words(m.Name[strings.LastIndexByte(m.Name, '.')+1:])
	switch {
	case m.Name == "units":
		f.Words = []string{m.Value} // the numbers below are in these
	case m.Name == "operation":
		f.Words = []string{m.Value} // the members below are of this one
	case m.Value == "true", m.Value == "false":
		f.Words = []string{"true", "false"}
	}
	return f
}

// words writes a word of the wire as people do.
func words(name string) string {
	text := strings.NewReplacer("-", " ", "_", " ").Replace(name)
	return strings.ToUpper(text[:1]) + text[1:]
}
