package wire

import (
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"

	"swarf/domain/unit"
)

func TestAnswerAsJSON(t *testing.T) {
	a := &Answer{
		Ref: "a\"\\\n°", Units: "metric", DataRevision: 7, ModelVersion: "1.0", Verdict: "no",
		Engagement: &Engagement{DepthOfCut: number(12.7), Through: truth(false)},
		Parameters: &Motion{CuttingSpeed: unit.Some(152.4), SpindleSpeed: unit.Some(1591.5494309)},
		Loads: &Loads{Torque: unit.Some(1.3558179483314004), Interval: &Interval{CuttingForce: &Band{unit.Some(4.4482216152605), unit.Some(44.482216152605), 0.9}},
			Methods: []Method{{Method: "kienzle", Source: "s"}}},
		Findings: []Finding{{Code: "c", Limit: unit.Some(0.1234565), Unit: "mm"}},
		Assumed:  []Assumed{{Field: "f", Value: "x"}, {Field: "g", Value: 0.30000000000000004}, {Field: "h", Value: true}, {Field: "i", Value: Amount(2.0000001)}, {Field: "j", Value: 90.0}},
	}
	const tail = `"findings":[{"code":"c","severity":"","limit":0.123456,"unit":"mm","message":""}],` +
		`"assumed":[{"field":"f","value":"x","why":""},{"field":"g","value":0.3,"why":""},{"field":"h","value":true,"why":""},{"field":"i","value":2,"why":""},{"field":"j","value":90,"why":""}],` +
		`"unchecked":[],"sources":[]}`
	want := map[unit.System]string{
		unit.Metric: `{"ref":"a\"\\\n°","units":"metric","unit_of":{"depth_of_cut":"mm","cutting_speed":"m/min","spindle_speed":"/min","torque":"N.m","cutting_force":"N"},` +
			`"data_revision":7,"model_version":"1.0","verdict":"no","material":{"group":""},"operation":"","engagement":{"depth_of_cut":12.7,"through":false},` +
			`"parameters":{"cutting_speed":152.4,"spindle_speed":1591.55},"edge_state":"","loads":{"torque":1.35582,"interval":{"cutting_force":{"low":4.44822,"high":44.4822,"confidence":0.9}},` +
			`"methods":[{"method":"kienzle","source":"s","basis":"","used":false}]},` + tail,
		unit.Inch: `{"ref":"a\"\\\n°","units":"inch","unit_of":{"depth_of_cut":"[in_i]","cutting_speed":"[ft_i]/min","spindle_speed":"/min","torque":"[lbf_av].[ft_i]","cutting_force":"[lbf_av]"},` +
			`"data_revision":7,"model_version":"1.0","verdict":"no","material":{"group":""},"operation":"","engagement":{"depth_of_cut":0.5,"through":false},` +
			`"parameters":{"cutting_speed":500,"spindle_speed":1591.55},"edge_state":"","loads":{"torque":1,"interval":{"cutting_force":{"low":1,"high":10,"confidence":0.9}},` +
			`"methods":[{"method":"kienzle","source":"s","basis":"","used":false}]},` + tail,
	}
	for system, text := range want {
		got, err := AppendJSON([]byte("before"), a, system)
		if err != nil {
			t.Fatal(err)
		}
		if string(got) != "before"+text {
			t.Errorf("%v:\n got %s\nwant %s", system, got[len("before"):], text)
		}
		if !json.Valid(got[len("before"):]) {
			t.Error("not JSON")
		}
		byValue, err := AppendJSON(nil, *a, system)
		if err != nil || string(byValue) != text {
			t.Errorf("by value: %s (%v)", byValue, err)
		}
	}
}

func TestUnitsOfABatchStandOnce(t *testing.T) {
	b := &Batch{Units: "inch", DataRevision: 7, ModelVersion: "1.0", Items: []any{
		&Answer{Ref: "a", Verdict: "yes", Parameters: &Motion{CuttingSpeed: unit.Some(30.48)}, Findings: []Finding{}},
		&Problem{Title: "t", Status: 422, Faults: []Fault{}},
		&Answer{Ref: "b", Verdict: "yes", Chip: &Chip{Width: unit.Some(25.4)}, Parameters: &Motion{CuttingSpeed: unit.Some(30.48)}},
	}}
	got, err := AppendJSON(nil, b, unit.Inch)
	if err != nil {
		t.Fatal(err)
	}
	want := `{"units":"inch","unit_of":{"cutting_speed":"[ft_i]/min","width":"[in_i]"},"data_revision":7,"model_version":"1.0",`
	if !strings.HasPrefix(string(got), want) || strings.Count(string(got), "unit_of") != 1 || strings.Count(string(got), `"units"`) != 1 {
		t.Errorf("got %s", got)
	}
}

func TestListsAreNeverNull(t *testing.T) {
	got, err := AppendJSON(nil, &MaterialList{}, unit.Metric)
	if want := `{"items":[],"next_cursor":null,"data_revision":0,"model_version":""}`; err != nil || string(got) != want {
		t.Errorf("got %s (%v), want %s", got, err, want)
	}
	cursor := "x"
	got, err = AppendJSON(nil, &MaterialList{Items: []MaterialItem{{ID: "i"}}, NextCursor: &cursor}, unit.Metric)
	if want := `{"items":[{"id":"i","name":"","group":"","designations":[],"conditions":[]}],"next_cursor":"x","data_revision":0,"model_version":""}`; err != nil || string(got) != want {
		t.Errorf("got %s (%v), want %s", got, err, want)
	}
}

func TestNoNumberIsWrittenThatIsNotFinite(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(-1)
	cases := map[string]*Answer{
		"loads.interval.torque.high":     {Loads: &Loads{Interval: &Interval{Torque: &Band{High: unit.Some(nan)}}}},
		"loads.interval.torque.confiden": {Loads: &Loads{Interval: &Interval{Torque: &Band{Confidence: nan}}}},
		"engagement.hole_depth":          {Engagement: &Engagement{HoleDepth: &inf}},
		"findings[1].value":              {Findings: []Finding{{}, {Value: unit.Some(inf)}}},
		"machine.limits[0].allowed":      {Machine: &MachineLoad{Limits: []Limit{{Allowed: Amount(nan)}}}},
		"assumed[0].value":               {Assumed: []Assumed{{Value: nan}}},
	}
	for path, a := range cases {
		for name, write := range map[string]func([]byte, any, unit.System) ([]byte, error){"JSON": AppendJSON, "text": AppendText, "CSV": AppendCSV} {
			got, err := write([]byte("x"), a, unit.Inch)
			if err == nil || !strings.Contains(err.Error(), path) || string(got) != "x" {
				t.Errorf("%s of %s: %q, %v", name, path, got, err)
			}
		}
	}
}

func TestAValueWithoutAFormIsAnError(t *testing.T) {
	_, err := AppendJSON(nil, &Answer{Assumed: []Assumed{{Value: []int{1}}}}, unit.Metric)
	if err == nil || !strings.Contains(err.Error(), "assumed[0].value") {
		t.Errorf("got %v", err)
	}
}

func TestEncoderRecoversFromAnError(t *testing.T) {
	if _, err := AppendJSON(nil, &Answer{Loads: &Loads{Torque: unit.Some(1), Interval: &Interval{Torque: &Band{High: unit.Some(math.NaN())}}}}, unit.Metric); err == nil {
		t.Fatal("no error")
	}
	got, err := AppendJSON(nil, &Machine{ID: "m", Axes: &Axes{MaxFeedForce: number(1)}}, unit.Metric)
	if want := `{"id":"m","unit_of":{"max_feed_force":"N"},"axes":{"max_feed_force":1}}`; err != nil || string(got) != want {
		t.Errorf("got %s (%v)", got, err)
	}
}

func TestStringsAreValidJSON(t *testing.T) {
	for _, s := range []string{"", "plain", "a\"b\\c/d", "\x00\x1f\x7f", "tab\tline\nreturn\r", "°²·–×≤µ", "😀", "\xff\xfea", "a\xf0\x9f", "<script>&"} {
		text := appendString(nil, s)
		var back string
		if err := json.Unmarshal(text, &back); err != nil {
			t.Fatalf("%q is written %s: %v", s, text, err)
		}
		if want := string([]rune(s)); back != want { // each bad byte becomes U+FFFD
			t.Errorf("%q comes back as %q, want %q", s, back, want)
		}
	}
}

// shapes are the types that are sent; their parts are among them.
var shapes = []reflect.Type{
	reflect.TypeFor[Answer](), reflect.TypeFor[Batch](), reflect.TypeFor[Machine](), reflect.TypeFor[MachineList](), reflect.TypeFor[MaterialRecord](),
	reflect.TypeFor[MaterialList](), reflect.TypeFor[ToolClass](), reflect.TypeFor[ToolClassList](), reflect.TypeFor[SourceList](), reflect.TypeFor[ChangeList](),
	reflect.TypeFor[SpindleResults](), reflect.TypeFor[Problem](), reflect.TypeFor[Cut](), reflect.TypeFor[SpindleCheck](),
}

// unit_of is flat, so within one answer a name has one quantity everywhere.
func TestANameHasOneQuantity(t *testing.T) {
	for _, shape := range shapes {
		quantities := map[string]map[unit.Quantity]bool{}
		var collect func(p *plan)
		collect = func(p *plan) {
			for i := range p.members {
				m := &p.members[i]
				number := m.kind == kindOpt || m.kind == kindFloat
				if m.measured || number && !m.inherit {
					if quantities[m.name] == nil {
						quantities[m.name] = map[unit.Quantity]bool{}
					}
					quantities[m.name][m.quantity] = true
				}
				if m.kind == kindList {
					if m.elem.plan != nil {
						collect(m.elem.plan)
					}
				} else if m.plan != nil {
					collect(m.plan)
				}
			}
		}
		collect(planOf(shape))
		for name, all := range quantities {
			if len(all) > 1 {
				t.Errorf("%s: %s has %d quantities", shape, name, len(all))
			}
		}
	}
}

func TestMachineRefWithEncodingJSON(t *testing.T) {
	for _, text := range []string{`{"machine":"vmc-50"}`, `{"machine":{"id":"x","unit_of":{},"spindle":{"gears":[]}}}`, `{}`} {
		var c Cut
		if err := json.Unmarshal([]byte(text), &c); err != nil {
			t.Fatal(err)
		}
		got, err := json.Marshal(&c)
		if err != nil {
			t.Fatal(err)
		}
		if strings.ReplaceAll(string(got), `,"unit_of":{}`, "") != strings.ReplaceAll(text, `,"unit_of":{}`, "") {
			t.Errorf("%s became %s", text, got)
		}
	}
	var c Cut
	if err := json.Unmarshal([]byte(`{"machine":5}`), &c); err == nil {
		t.Error("a number passes for a machine")
	}
}
