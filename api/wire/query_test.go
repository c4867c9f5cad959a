package wire

import (
	"net/url"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"swarf/domain/unit"
)

func TestQueryFaults(t *testing.T) {
	cases := []struct {
		name, query string
		want        []string
		says        string
	}{
		// The rows of PLATFORM B.2 that concern the query.
		{"NaN", "spindle_speed=NaN", []string{"422 value-out-of-range parameters.spindle_speed"}, "not finite"},
		{"Inf", "spindle_speed=Inf", []string{"422 value-out-of-range parameters.spindle_speed"}, "not finite"},
		{"minus infinity", "spindle_speed=-Infinity", []string{"422 value-out-of-range parameters.spindle_speed"}, "not finite"},
		{"too large", "spindle_speed=1e999", []string{"422 value-out-of-range parameters.spindle_speed"}, "more than"},
		{"empty", "spindle_speed=", []string{"400 wrong-type parameters.spindle_speed"}, "is empty"},
		{"empty word", "operation=", []string{"400 wrong-type operation"}, "is empty"},
		{"twice", "spindle_speed=1&spindle_speed=2", []string{"400 wrong-type parameters.spindle_speed"}, "2 times"},
		{"twice by two names", "spindle_speed=1&parameters.spindle_speed=2", []string{"400 wrong-type parameters.spindle_speed"}, "the same member"},
		{"decimal comma", "spindle_speed=1,5", []string{"400 wrong-type parameters.spindle_speed"}, "write 1.5, not 1,5"},
		{"hexadecimal", "spindle_speed=0x10", []string{"400 wrong-type parameters.spindle_speed"}, "without unit"},
		{"exponent alone", "spindle_speed=1e", []string{"400 wrong-type parameters.spindle_speed"}, "a number belongs"},
		{"underscore", "spindle_speed=1_000", []string{"400 wrong-type parameters.spindle_speed"}, "a number belongs"},
		{"unit", "spindle_speed=1500rpm", []string{"400 wrong-type parameters.spindle_speed"}, "such as 1500"},
		{"thousands", "spindle_speed=1,500.5", []string{"400 wrong-type parameters.spindle_speed"}, "without unit"},
		{"word for truth", "through=yes", []string{"400 wrong-type engagement.through"}, "true or false"},

		{"unknown", "spindel_speed=1", []string{"400 unknown-parameter spindel_speed"}, "spell it as spindle_speed"},
		{"unknown path", "tool.spindle_speed=1", []string{"400 unknown-parameter tool.spindle_speed"}, "spell it as spindle_speed"},
		{"two of a name", "width=1", []string{"400 unknown-parameter width"}, "engagement.width or wall.width"},
		{"nothing alone", "value=1", []string{"400 unknown-parameter value"}, "material.hardness.value"},
		{"an object", "tool=drill", []string{"400 unknown-parameter tool"}, "give its members, such as class"},
		{"our members of a machine", "data_revision=1", []string{"400 unknown-parameter data_revision"}, ""},
		{"units unknown", "units=imperial", []string{"400 units-unknown units"}, "metric or inch"},
		{"units missing", "cutting_diameter=3", []string{"400 units-missing units"}, "metric or inch"},
		{"no such word", "edge_state=blunt", []string{"422 value-out-of-range edge_state"}, "sharp or worn"},
		{"all at once", "depht=1&hole_depth=x&width=2", []string{"400 unknown-parameter depht", "400 wrong-type engagement.hole_depth", "400 unknown-parameter width"}, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			values, err := url.ParseQuery(c.query)
			if err != nil {
				t.Fatal(err)
			}
			var got Cut
			in := DecodeQuery(values, &got, DecodeOptions{})
			if diff := cmp.Diff(c.want, told(in.Faults)); diff != "" {
				t.Fatalf("faults differ (-want +got):\n%s\n%+v", diff, in.Faults)
			}
			text := ""
			for _, f := range in.Faults {
				text += f.Message + " | " + f.Fix + "\n"
			}
			if !strings.Contains(text, c.says) {
				t.Errorf("%q is not said in:\n%s", c.says, text)
			}
		})
	}
}

func TestQueryNames(t *testing.T) {
	values, _ := url.ParseQuery("units=inch&grade=1.4301&condition=annealed&class=drill-solid&cutting_diameter=.5&hole_depth=0012.500&usable_length=3." +
		"&hardness.value=180&hardness.scale=HBW&wall.width=1&engagement.width=2&machine=vmc-50&through=true&explain=true&as_of=7&face_slope=-0.50&dwell=1e1")
	var c Cut
	in := DecodeQuery(values, &c, DecodeOptions{RequireUnits: true, Reserved: []string{"explain", "as_of"}})
	if len(in.Faults) > 0 || in.System != unit.Inch {
		t.Fatalf("%+v", in)
	}
	want := Cut{
		Units: "inch", Material: &Material{Grade: "1.4301", Condition: "annealed", Hardness: &Hardness{number(180), "HBW"}},
		Tool:       &Tool{Class: "drill-solid", CuttingDiameter: number(12.7), UsableLength: number(76.2)},
		Engagement: &Engagement{HoleDepth: number(317.5), Width: number(50.8), Through: truth(true), FaceSlope: number(-0.5), Dwell: number(10)},
		Machine:    &MachineRef{ID: "vmc-50"}, Wall: &Wall{Width: number(25.4)},
	}
	if diff := cmp.Diff(want, c, near(1e-15)); diff != "" {
		t.Fatal(diff)
	}
}

func TestQueryListsAreSeparatedByCommas(t *testing.T) {
	type request struct {
		Words    []string     `json:"words,omitempty"`
		Machines []MachineRef `json:"machines,omitempty"`
		Cuts     []Cut        `json:"cuts,omitempty"`
	}
	var got request
	in := DecodeQuery(url.Values{"words": {"a, b"}, "machines": {"m-1,m-2"}}, &got, DecodeOptions{})
	if len(in.Faults) > 0 || !reflect.DeepEqual(got, request{Words: []string{"a", "b"}, Machines: []MachineRef{{ID: "m-1"}, {ID: "m-2"}}}) {
		t.Fatalf("%+v %+v", in, got)
	}
	in = DecodeQuery(url.Values{"words": {"a,,b"}, "cuts": {"x"}}, &got, DecodeOptions{})
	if diff := cmp.Diff([]string{"400 unknown-parameter cuts", "400 wrong-type words"}, told(in.Faults)); diff != "" {
		t.Fatal(diff)
	}
}

func TestFlatNamesOfACut(t *testing.T) {
	names := FlatNames(reflect.TypeFor[Cut]())
	for name, path := range map[string]string{
		"grade": "material.grade", "condition": "material.condition", "group": "material.group", "class": "tool.class",
		"cutting_diameter": "tool.cutting_diameter", "units": "units", "machine": "machine", "ra": "target.ra",
		"wall.width": "wall.width", "hardness.value": "material.hardness.value", "tool.hand": "tool.hand",
		"lot": "stock.lot", "certificate.heat": "stock.certificate.heat", "certificate.hardness.value": "stock.certificate.hardness.value",
	} {
		if names[name] != path {
			t.Errorf("%s stands for %q, want %s", name, names[name], path)
		}
	}
	for _, name := range []string{"width", "hand", "value", "scale", "tool", "unit_of", "heat", "number", "type", "tensile_strength"} {
		if path, ok := names[name]; ok {
			t.Errorf("%s stands for %s, but says too little", name, path)
		}
	}
}
