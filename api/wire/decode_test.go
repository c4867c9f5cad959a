package wire

import (
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"swarf/domain/unit"
)

// told is a fault as "code field", with the message and the fix behind.
func told(faults []InputFault) []string {
	list := []string{}
	for _, f := range faults {
		status := "400"
		if f.Kind == Invalid {
			status = "422"
		}
		list = append(list, status+" "+f.Code+" "+f.Field)
	}
	return list
}

func TestDecodeFaults(t *testing.T) {
	cases := []struct {
		name, body string
		want       []string // of told
		says       string   // in a message or a fix
	}{
		// The rows of PLATFORM B.2 that concern the body.
		{"trailing value", `{"units":"metric"}{"units":"inch"} junk`, []string{"400 json-invalid "}, "more after the end"},
		{"trailing word", `{"units":"metric"} junk`, []string{"400 json-invalid "}, "at byte 19 (line 1, column 20)"},
		{"unknown member", `{"units":"metric","vc":1}`, []string{"400 unknown-field vc"}, "remove it"},
		{"other case", `{"units":"metric","Operation":"drilling"}`, []string{"400 unknown-field Operation"}, "spell it as operation"},
		{"same name twice", `{"units":"metric","operation":"a","operation":"b"}`, []string{"400 json-invalid operation"}, "twice"},
		{"same name twice, escaped", `{"units":"metric","operation":"a","\u006fperation":"b"}`, []string{"400 json-invalid operation"}, "twice"},
		{"empty", ``, []string{"400 json-invalid "}, "the body is empty"},
		{"blank", " \n\t", []string{"400 json-invalid "}, "the body is empty"},
		{"NaN", `{"units":"metric","confidence":NaN}`, []string{"400 json-invalid "}, "not finite"},
		{"Infinity", `{"units":"metric","confidence":-Infinity}`, []string{"400 json-invalid "}, "not finite"},
		{"decimal comma as text", `{"units":"metric","parameters":{"feed_rate":"1,5"}}`, []string{"400 wrong-type parameters.feed_rate"}, "write 1.5, not 1,5"},
		{"decimal comma", `{"units":"metric","parameters":{"feed_rate":1,5}}`, []string{"400 json-invalid "}, "name of a member"},

		{"a list", `[1]`, []string{"400 json-invalid "}, "a list, not an object"},
		{"a word", `"x"`, []string{"400 json-invalid "}, "text, not an object"},
		{"cut short", `{"units":"metric","tool":{"class":"x"`, []string{"400 json-invalid "}, "ends inside an object"},
		{"cut short in a string", `{"units":"met`, []string{"400 json-invalid "}, "ends inside a string"},
		{"comma at the end", `{"units":"metric",}`, []string{"400 json-invalid "}, "comma stands before"},
		{"comma missing", "{\"units\":\"metric\"\n \"ref\":\"a\"}", []string{"400 json-invalid "}, "at byte 19 (line 2, column 2)"},
		{"colon missing", `{"units" "metric"}`, []string{"400 json-invalid "}, "a colon belongs here"},
		{"single quotes", `{'units':'metric'}`, []string{"400 json-invalid "}, "double quotes"},
		{"comment", `{"units":/* here */"metric"}`, []string{"400 json-invalid "}, "no comments"},
		{"number without zero", `{"units":"metric","confidence":.9}`, []string{"400 json-invalid "}, "such as 0.5"},
		{"number with plus", `{"units":"metric","confidence":+1}`, []string{"400 json-invalid "}, "such as 0.5"},
		{"leading zero", `{"units":"metric","confidence":01}`, []string{"400 json-invalid "}, "such as 0.5"},
		{"control character", "{\"ref\":\"a\nb\"}", []string{"400 json-invalid "}, "bare control character"},
		{"bad escape", `{"ref":"\x"}`, []string{"400 json-invalid "}, "no such escape"},
		{"half a pair", `{"units":"metric","ref":"\ud800"}`, []string{"400 json-invalid "}, "surrogate"},
		{"bad UTF-8", "{\"ref\":\"a\xff\"}", []string{"400 json-invalid "}, "at byte 9"},
		{"too deep", `{"units":"metric","x":` + strings.Repeat("[", 32) + strings.Repeat("]", 32) + `}`, []string{"400 json-invalid "}, "nested"},
		{"deep and unclosed", strings.Repeat(`{"tool":`, 100_000), []string{"400 json-invalid "}, ""},

		{"null number", `{"units":"metric","confidence":null}`, []string{"400 wrong-type confidence"}, "leave it out"},
		{"null object", `{"units":"metric","tool":null}`, []string{"400 wrong-type tool"}, "leave it out"},
		{"null text", `{"units":"metric","ref":null}`, []string{"400 wrong-type ref"}, "leave it out"},
		{"quoted number", `{"units":"metric","tool":{"cutting_diameter":"30"}}`, []string{"400 wrong-type tool.cutting_diameter"}, "without quotes: 30"},
		{"number with unit", `{"units":"metric","tool":{"cutting_diameter":"30 mm"}}`, []string{"400 wrong-type tool.cutting_diameter"}, "without unit, such as 30"},
		{"word for a number", `{"units":"metric","tool":{"cutting_diameter":"big"}}`, []string{"400 wrong-type tool.cutting_diameter"}, "a number without unit"},
		{"object for a number", `{"units":"metric","confidence":{"a":[1]}}`, []string{"400 wrong-type confidence"}, "confidence is an object, where a number belongs"},
		{"list for a number", `{"units":"metric","confidence":[0.9]}`, []string{"400 wrong-type confidence"}, "is a list"},
		{"number for text", `{"units":"metric","material":{"grade":1.4301}}`, []string{"400 wrong-type material.grade"}, `write it in quotes: "1.4301"`},
		{"text for truth", `{"units":"metric","unattended":"true"}`, []string{"400 wrong-type unattended"}, "without quotes"},
		{"number for truth", `{"units":"metric","unattended":1}`, []string{"400 wrong-type unattended"}, "true or false"},
		{"text for an object", `{"units":"metric","tool":"drill"}`, []string{"400 wrong-type tool"}, "an object with class"},
		{"number for a machine", `{"units":"metric","machine":5}`, []string{"400 wrong-type machine"}, "id of a machine"},
		{"empty machine", `{"units":"metric","machine":""}`, []string{"400 wrong-type machine"}, "is empty"},
		{"too large", `{"units":"metric","confidence":1e999}`, []string{"422 value-out-of-range confidence"}, "more than can be computed"},
		{"too small", `{"units":"metric","parameters":{"cutting_speed":5e-324}}`, []string{"422 value-out-of-range parameters.cutting_speed"}, "less than can be computed"},
		{"too large when converted", `{"units":"inch","tool":{"cutting_diameter":1.7e308}}`, []string{"422 value-out-of-range tool.cutting_diameter"}, "more than"},
		{"long text", `{"units":"metric","ref":"` + strings.Repeat("x", longestText+1) + `"}`, []string{"422 value-out-of-range ref"}, "10001 bytes"},
		{"NUL", `{"units":"metric","ref":"a\u0000b"}`, []string{"422 value-out-of-range ref"}, "control character"},

		{"units unknown", `{"units":"imperial","tool":{"cutting_diameter":1}}`, []string{"400 units-unknown units"}, "say metric or inch"},
		{"units in capitals", `{"units":"Metric"}`, []string{"400 units-unknown units"}, "say metric or inch"},
		{"units of another type", `{"units":1,"tool":{"cutting_diameter":1}}`, []string{"400 wrong-type units"}, ""},
		{"hardness without scale", `{"units":"metric","material":{"hardness":40}}`, []string{"400 hardness-scale-missing material.hardness"}, "HBW, HRC, HRB and HV"},
		{"hardness as text", `{"units":"metric","material":{"hardness":"40 HRC"}}`, []string{"400 hardness-scale-missing material.hardness"}, "HBW"},
		{"hardness of an unknown scale", `{"units":"metric","material":{"hardness":{"value":40,"scale":"HB"}}}`, []string{"422 hardness-scale-unknown material.hardness.scale"}, "HBW"},
		{"no such word", `{"units":"metric","coolant":{"delivery":"trough-tool"}}`, []string{"422 value-out-of-range coolant.delivery"}, "did you mean through-tool?"},
		{"no such word, few", `{"units":"metric","edge_state":"blunt"}`, []string{"422 value-out-of-range edge_state"}, "say sharp or worn"},

		{"misspelt depth", `{"units":"metric","engagement":{"depht_of_cut":3}}`, []string{"400 unknown-field engagement.depht_of_cut"}, "spell it as depth_of_cut"},
		{"suffix of a unit", `{"units":"metric","engagement":{"hole_depth_mm":3}}`, []string{"400 unknown-field engagement.hole_depth_mm"}, "spell it as hole_depth"},
		{"wrong place", `{"units":"metric","hole_depth":3}`, []string{"400 unknown-field hole_depth"}, "it belongs in engagement.hole_depth"},
		{"all at once", `{"engagement":{"depht":1,"hole_depth":"x"},"tool":{"class":5},"edge_state":"blunt","ref":"a","ref":"b"}`,
			[]string{"400 unknown-field engagement.depht", "400 wrong-type engagement.hole_depth", "400 wrong-type tool.class",
				"422 value-out-of-range edge_state", "400 json-invalid ref"}, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var got Cut
			in := Decode([]byte(c.body), &got, DecodeOptions{})
			if diff := cmp.Diff(c.want, told(in.Faults)); diff != "" {
				t.Fatalf("faults differ (-want +got):\n%s\n%+v", diff, in.Faults)
			}
			text := ""
			for _, f := range in.Faults {
				text += f.Message + " | " + f.Fix + "\n"
				if f.Message == "" || f.Fix == "" {
					t.Errorf("%s has no message or no fix", f.Code)
				}
			}
			if !strings.Contains(text, c.says) {
				t.Errorf("%q is not said in:\n%s", c.says, text)
			}
			if broken := c.want[0] == "400 json-invalid "; in.Readable == broken {
				t.Errorf("readable is %v", in.Readable)
			}
		})
	}
}

func TestDecodeKeepsWhatIsGoodBesideFaults(t *testing.T) {
	var c Cut
	in := Decode([]byte(`{"units":"inch","tool":{"cutting_diameter":1,"class":7},"oops":[{"a":[1,2]}],"ref":"r"}`), &c, DecodeOptions{})
	if len(in.Faults) != 2 || c.Tool == nil || *c.Tool.CuttingDiameter != 25.4 || c.Ref != "r" || in.System != unit.Inch {
		t.Fatalf("%+v %+v", in, c)
	}
}

func TestDecodeTellsOfManyFaultsOnlyInPart(t *testing.T) {
	var b strings.Builder
	b.WriteString(`{"units":"metric"`)
	for range 1000 {
		b.WriteString(`,"x":1`)
	}
	b.WriteString("}")
	var c Cut
	in := Decode([]byte(b.String()), &c, DecodeOptions{})
	if len(in.Faults) != mostFaults+1 || !strings.Contains(in.Faults[mostFaults].Message, "950 more") {
		t.Fatalf("%d faults, the last %+v", len(in.Faults), in.Faults[len(in.Faults)-1])
	}
}

// A body of nothing but faults must not cost more than reading it.
func TestDecodeOfManyFaultsIsQuick(t *testing.T) {
	var b strings.Builder
	b.WriteString(`{"units":"metric"`)
	for i := range 100_000 {
		b.WriteString(`,"x` + strconv.Itoa(i) + `":1`)
	}
	b.WriteString("}")
	body := []byte(b.String())
	var c Cut
	if n := testing.AllocsPerRun(1, func() { Decode(body, &c, DecodeOptions{}) }); n > 50_000 {
		t.Errorf("%v allocations for %d faults", n, 100_000)
	}
}

func TestDecodeTakesWhatRFC8259Allows(t *testing.T) {
	var c Cut
	body := "\ufeff \t\r\n{ \"ref\" : \"\\u00b0\\ud83d\\ude00\\\"\\\\\\/\\n ä\" ,\n\"units\"\t:\"metric\",\"confidence\":9E-1 } \n"
	in := Decode([]byte(body), &c, DecodeOptions{})
	if len(in.Faults) > 0 || c.Ref != "°😀\"\\/\n ä" || *c.Confidence != 0.9 {
		t.Fatalf("%+v %+v", in, c)
	}
}

func TestDecodeIgnoresOurMembersOfAMachine(t *testing.T) {
	var m Machine
	in := Decode([]byte(`{"id":"a","units":"metric","unit_of":{"power":["kW"]},"data_revision":"x","model_version":null,"spindle":{"gears":[{"ratings":[]}]}}`), &m, DecodeOptions{RequireUnits: true})
	if len(in.Faults) > 0 || m.DataRevision != 0 || len(m.Spindle.Gears) != 1 || m.Spindle.Gears[0].Ratings == nil {
		t.Fatalf("%+v %+v", in, m)
	}
}

func TestDecodePathsThroughLists(t *testing.T) {
	var m Machine
	in := Decode([]byte(`{"units":"metric","spindle":{"gears":[{"ratings":[]},{"ratings":[{"points":[{"speed":1},{"speed":"x"}]}]}]},"coolant":{"deliveries":["a",2]}}`), &m, DecodeOptions{})
	want := []string{"400 wrong-type spindle.gears[1].ratings[0].points[1].speed", "400 wrong-type coolant.deliveries[1]"}
	if diff := cmp.Diff(want, told(in.Faults)); diff != "" {
		t.Fatal(diff)
	}
}
