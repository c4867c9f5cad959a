package wire_test

import (
	"net/url"
	"reflect"
	"strings"
	"testing"

	"swarf/api/wire"
)

const sidesOfACut = `"units":"metric","tool":{"class":"mill-end",`

// A property may be named by its symbol, and then means the same, converted likewise.
func TestSymbolsNameProperties(t *testing.T) {
	var cut wire.Cut
	in := wire.Decode([]byte(`{"units":"inch","tool":{"class":"mill-end","DC":0.5,"NOF":4,"RE":0.01,"KAPR":90,"APMX":1}}`), &cut, wire.DecodeOptions{})
	if len(in.Faults) > 0 {
		t.Fatal(in.Faults)
	}
	tool := cut.Tool
	if *tool.CuttingDiameter != 12.7 || *tool.EffectiveEdges != 4 || *tool.CornerRadius != 0.254 || *tool.CuttingEdgeAngle != 90 || *tool.MaxDepthOfCut != 25.4 {
		t.Errorf("%+v", tool)
	}
	for _, query := range []string{"units=inch&DC=0.5&ZEFP=4&RE=0.01&KAPR=90&tool.APMX=1&class=mill-end", "units=inch&cutting_diameter=.5&DC=0.50&NOF=4&RE=0.01&KAPR=90&APMX=1&class=mill-end"} {
		values, err := url.ParseQuery(query)
		if err != nil {
			t.Fatal(err)
		}
		var flat wire.Cut
		if in := wire.DecodeQuery(values, &flat, wire.DecodeOptions{}); len(in.Faults) > 0 {
			t.Fatal(in.Faults)
		}
		if !reflect.DeepEqual(flat.Tool, cut.Tool) {
			t.Errorf("%s: %+v, want %+v", query, flat.Tool, cut.Tool)
		}
	}
}

// Two names of one property agree, or the fault names both.
func TestSymbolsAgreeWithNames(t *testing.T) {
	for body, want := range map[string][]string{
		`"DC":10,"cutting_diameter":10.0`:                     nil,
		`"DC":10,"cutting_diameter":12`:                       {"fields-conflict", "DC (10)", "cutting_diameter (12)"},
		`"cutting_diameter":12,"DC":10`:                       {"fields-conflict", "cutting_diameter (12)", "DC (10)"},
		`"ZEFP":2,"NOF":4`:                                    {"fields-conflict", "ZEFP", "NOF"},
		`"GAMF":6,"GAMO":6`:                                   nil,
		`"DC":10,"DC":10`:                                     {"json-invalid", "DC stands here twice"},
		`"DC":10,"cutting_diameter":10,"DC":10`:               {"json-invalid", "DC stands here twice"},
		`"DC":10,"cutting_diameter":10,"cutting_diameter":10`: {"json-invalid", "cutting_diameter stands here twice"},
		`"DC":"ten"`:                                          {"wrong-type", "DC is the text"},
		`"cutting_diameter":10,"DC":"ten"`:                    {"wrong-type", "DC is the text"},
		`"dc":10`:                                             {"unknown-field", "spell it as DC or cutting_diameter"},
		`"QQ":10`:                                             {"unknown-field", "QQ"},
	} {
		in := wire.Decode([]byte("{"+sidesOfACut+body+"}}"), new(wire.Cut), wire.DecodeOptions{})
		expectFault(t, body, in.Faults, want)
	}
	for query, want := range map[string][]string{
		"DC=10&cutting_diameter=10":                    nil,
		"DC=10&tool.DC=10":                             nil,
		"DC=10&cutting_diameter=12":                    {"fields-conflict", "DC", "cutting_diameter", "10", "12"},
		"NOF=4&ZEFP=2":                                 {"fields-conflict", "NOF", "ZEFP"},
		"DC=ten":                                       {"wrong-type", "DC"},
		"DC=10&cutting_diameter=ten":                   {"wrong-type", "cutting_diameter"},
		"cutting_diameter=10&tool.cutting_diameter=10": {"wrong-type", "are the same member"},
	} {
		values, err := url.ParseQuery(query + "&units=metric")
		if err != nil {
			t.Fatal(err)
		}
		in := wire.DecodeQuery(values, new(wire.Cut), wire.DecodeOptions{})
		expectFault(t, query, in.Faults, want)
	}
}

func expectFault(t *testing.T, given string, faults []wire.InputFault, want []string) {
	t.Helper()
	if want == nil {
		if len(faults) > 0 {
			t.Errorf("%s: %v", given, faults)
		}
		return
	}
	if len(faults) != 1 {
		t.Errorf("%s: %v, want one fault", given, faults)
		return
	}
	text := strings.Join([]string{faults[0].Code, faults[0].Field, faults[0].Message, faults[0].Fix}, " ")
	for _, part := range want {
		if !strings.Contains(text, part) {
			t.Errorf("%s: %q does not say %q", given, text, part)
		}
	}
}
