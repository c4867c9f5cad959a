package api_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"swarf/api/wire"
)

const inchEndMill = "units=inch&grade=1.4301&operation=side-milling&class=mill-end&axial_depth=0.5&radial_width=0.1"

const anEndMill = "units=metric&grade=1.4301&operation=side-milling&class=mill-end&axial_depth=12&radial_width=3"

// A cut may name its tool by symbols; the answer is the same to a digit.
func TestCutsBySymbols(t *testing.T) {
	h := embeddedService(t)
	names := call(t, h, "GET", "/v1/recommendations?"+anEndMill+"&cutting_diameter=12&effective_edges=4&corner_radius=0.5&flute_helix_angle=38", "")
	for what, got := range map[string]reply{
		"flat": call(t, h, "GET", "/v1/recommendations?"+anEndMill+"&DC=12&ZEFP=4&tool.RE=0.5&FHA=38", ""),
		"body": call(t, h, "POST", "/v1/recommendations", `{"units":"metric","material":{"grade":"1.4301"},"operation":"side-milling","engagement":{"axial_depth":12,"radial_width":3},
			"tool":{"class":"mill-end","DC":12,"cutting_diameter":12,"NOF":4,"RE":0.5,"FHA":38}}`, asJSON),
	} {
		if got.status != 200 || string(got.body) != string(names.body) {
			t.Errorf("%s: %d %.400s", what, got.status, got.body)
		}
	}
	if strings.Contains(string(names.body), `"tool":`) {
		t.Error("the tool is shown without being asked for")
	}
	both := call(t, h, "GET", "/v1/recommendations?"+anEndMill+"&DC=12&cutting_diameter=10&effective_edges=4", "")
	if both.status != 422 || !strings.Contains(string(both.body), "DC") || !strings.Contains(string(both.body), "cutting_diameter") {
		t.Errorf("two diameters: %d %s", both.status, both.body)
	}
}

// Asked for, symbols stand beside the readable names, with what the class filled in.
func TestCodesAreShownWhenAsked(t *testing.T) {
	h := embeddedService(t)
	got := call(t, h, "GET", "/v1/estimates?codes=iso13399&"+inchEndMill+"&DC=0.5&ZEFP=4&cutting_speed=300&feed_per_tooth=0.003", "")
	if got.status != 200 {
		t.Fatalf("%d %s", got.status, got.body)
	}
	want := map[string][3]any{"cutting_diameter": {"DC", 0.5, "[in_i]"}, "effective_edges": {"ZEFP", 4.0, nil}, "cutting_edge_angle": {"KAPR", 90.0, "deg"}}
	for _, item := range member0(member0(got.doc, "tool"), "properties").([]any) {
		p := item.(map[string]any)
		if w, ok := want[p["name"].(string)]; ok && (p["code"] != w[0] || p["value"] != w[1] || p["unit"] != w[2]) {
			t.Errorf("%v, want %v", p, w)
		}
		delete(want, p["name"].(string))
	}
	if len(want) > 0 || member0(member0(got.doc, "tool"), "class") != "mill-end" {
		t.Errorf("%v missing in %s", want, got.body)
	}
	for target, status := range map[string]int{
		"/v1/estimates?codes=din&" + aCutFlat: 422,
		"/v1/corrections?codes=iso13399&units=metric&feature=internal&sides_cut=2&programmed=40&measured=39.98&register=radius": 400,
	} {
		if got := call(t, h, "GET", target, ""); got.status != status || !strings.Contains(string(got.body), "codes") {
			t.Errorf("%s: %d %s", target, got.status, got.body)
		}
	}
	many := call(t, h, "POST", "/v1/estimates/batch?codes=iso13399", `{"units":"metric","items":[{"material":{"grade":"C45E"},"operation":"drilling","tool":{"class":"drill-twist-hss","DC":8},"engagement":{"hole_depth":20,"through":true},"parameters":{"cutting_speed":22,"feed_per_revolution":0.16}}]}`, asJSON)
	if many.status != 200 || !strings.Contains(string(many.body), `"code":"SIG"`) {
		t.Errorf("%d %.400s", many.status, many.body)
	}
}

// The symbols that are taken and those that the classes show are the same.
func TestSymbolsAreThoseOfTheClasses(t *testing.T) {
	taken := map[string][]string{}
	for _, p := range wire.Properties(reflect.TypeFor[wire.Tool]()) {
		taken[p.Name] = p.Codes
	}
	shown := 0
	for _, c := range snapshotOf(t, embeddedData(t)).Classes() {
		for _, p := range c.Properties {
			if p.Code == "" {
				continue
			}
			shown++
			if !slices.Contains(taken[p.Name], p.Code) {
				t.Errorf("%s shows %s as %s; taken are %v", c.ID, p.Name, p.Code, taken[p.Name])
			}
		}
	}
	if shown < 100 {
		t.Errorf("%d symbols", shown)
	}
}
