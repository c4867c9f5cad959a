package api_test

import (
	"encoding/json"
	"fmt"
	"math"
	"net/http"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// tooMuch are cuts that some machine of the demonstration cannot make, one for each kind of
// reason; %v takes a number that makes them worse.
var tooMuch = []struct{ name, machine, cut string }{
	{"deep face mill", "vmc-40", `{"material":{"grade":"1.7225"},"operation":"face-milling","tool":{"class":"mill-face","cutting_diameter":80,"effective_edges":6},"engagement":{"axial_depth":%v,"radial_width":60},"parameters":{"cutting_speed":150,"feed_per_tooth":0.2}}`},
	{"slot", "drill-tap-30", `{"material":{"grade":"1.4301"},"operation":"slot-milling","tool":{"class":"mill-end","cutting_diameter":20,"effective_edges":4},"engagement":{"axial_depth":%v},"parameters":{"spindle_speed":1600,"feed_per_tooth":0.1}}`},
	{"large drill", "drill-tap-30", `{"material":{"grade":"1.1191"},"operation":"drilling","tool":{"class":"drill-indexable","cutting_diameter":40},"engagement":{"hole_depth":%v,"through":true},"parameters":{"cutting_speed":160,"feed_per_revolution":0.14}}`},
	{"heavy turning", "lathe-200", `{"material":{"grade":"1.7225"},"operation":"turning","tool":{"class":"turning-external","corner_radius":1.2},"engagement":{"work_diameter":120,"depth_of_cut":%v},"parameters":{"cutting_speed":180,"feed_per_revolution":0.5}}`},
	{"too fast", "vmc-40", `{"material":{"grade":"A96061"},"operation":"side-milling","tool":{"class":"mill-end","cutting_diameter":6,"effective_edges":3},"engagement":{"axial_depth":%v,"radial_width":1},"parameters":{"cutting_speed":600,"feed_per_tooth":0.05}}`},
	{"out of gear", "vmc-50", `{"material":{"grade":"1.1191"},"operation":"slot-milling","tool":{"class":"mill-end","cutting_diameter":25,"effective_edges":4},"engagement":{"axial_depth":2%v},"parameters":{"cutting_speed":133,"feed_per_tooth":0.12}}`},
	{"near the shift", "lathe-315", `{"material":{"grade":"1.7225"},"operation":"turning","tool":{"class":"turning-external","corner_radius":1.2},"engagement":{"work_diameter":80,"depth_of_cut":%v},"parameters":{"spindle_speed":960,"feed_per_revolution":0.45}}`},
	{"drill into the solid", "vmc-50", `{"material":{"grade":"1.7225"},"operation":"drilling","tool":{"class":"drill-twist-hss","cutting_diameter":30},"engagement":{"hole_depth":5%v,"through":true},"parameters":{"cutting_speed":22,"feed_per_revolution":0.35}}`},
	{"drill on a light axis", "drill-tap-30", `{"material":{"grade":"1.1191"},"operation":"drilling","tool":{"class":"drill-twist-hss","cutting_diameter":14},"engagement":{"hole_depth":%v,"through":true},"parameters":{"spindle_speed":600,"feed_rate":150}}`},
	{"over the continuous", "vmc-50", `{"material":{"grade":"1.7225"},"operation":"face-milling","tool":{"class":"mill-face","cutting_diameter":80,"effective_edges":6},"engagement":{"axial_depth":3,"radial_width":6%v},"parameters":{"cutting_speed":150,"feed_per_tooth":0.1}}`},
	{"thread in few passes", "lathe-200", `{"material":{"grade":"1.4301"},"operation":"thread-turning","tool":{"class":"turning-threading"},"engagement":{"work_diameter":60,"pitch":6,"thread_depth":3.68,"passes":3,"length":%v},"parameters":{"cutting_speed":80}}`},
}

// askPair is one spindle check.
func askPair(t *testing.T, h http.Handler, units, purpose, cut, machine string) reply {
	t.Helper()
	return ask(t, h, "POST /v1/spindle-checks", []byte(fmt.Sprintf(`{"units":%q,"purpose":%q,"cut":%s,"machine":%q}`, units, purpose, cut, machine)))
}

func firstResult(t *testing.T, got reply) map[string]any {
	t.Helper()
	if got.status != http.StatusOK {
		t.Fatalf("%d %s", got.status, got.body)
	}
	return list(got.doc, "results")[0].(map[string]any)
}

func decodeAny(t *testing.T, text string) map[string]any {
	t.Helper()
	var doc map[string]any
	if err := json.Unmarshal([]byte(text), &doc); err != nil {
		t.Fatal(err)
	}
	return doc
}

func encodeAny(t *testing.T, doc any) string {
	t.Helper()
	text, err := json.Marshal(doc)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// withField is a cut with one member changed.
func withField(t *testing.T, cut, path string, value float64) string {
	t.Helper()
	doc := decodeAny(t, cut)
	object, name, _ := strings.Cut(path, ".")
	doc[object].(map[string]any)[name] = value
	return encodeAny(t, doc)
}

// inInches converts the members that these cuts have.
func inInches(t *testing.T, cut string) string {
	t.Helper()
	doc := decodeAny(t, cut)
	for _, object := range []string{"tool", "engagement", "parameters"} {
		for name, v := range doc[object].(map[string]any) {
			number, ok := v.(float64)
			switch {
			case !ok || name == "effective_edges" || name == "passes" || name == "spindle_speed":
				continue
			case name == "cutting_speed":
				number /= 0.3048
			default:
				number /= 25.4
			}
			doc[object].(map[string]any)[name] = number
		}
	}
	return encodeAny(t, doc)
}

var better = map[string]int{"no": 0, "conditional": 1, "yes": 2}

// asking is a cut that is asked on a machine again and again.
type asking struct {
	t                            *testing.T
	h                            http.Handler
	units, purpose, cut, machine string
}

func (a *asking) pair(cut string) map[string]any {
	a.t.Helper()
	return firstResult(a.t, askPair(a.t, a.h, a.units, a.purpose, cut, a.machine))
}

// changed asks with the field of a way at a value; a pilot of that size counts too.
func (a *asking) changed(way map[string]any, to float64) (verdict, gear string) {
	a.t.Helper()
	r := a.pair(withField(a.t, a.cut, way["field"].(string), to))
	verdict = r["verdict"].(string)
	gear, _ = r["gear"].(string)
	if way["pilot"] == nil {
		return verdict, gear
	}
	if first := a.pair(a.pilot(to))["verdict"].(string); better[first] < better[verdict] {
		verdict = first
	}
	return verdict, gear
}

// pilot is the pilot hole of a cut: its feed in the proportion of the diameters, at the
// same speed over the surface.
func (a *asking) pilot(diameter float64) string {
	a.t.Helper()
	motion := member0(a.estimate(a.cut), "parameters")
	cut := cutWithout(a.t, a.cut, "cutting_speed", "spindle_speed", "feed_rate", "feed_per_revolution")
	whole := member0(decodeAny(a.t, cut)["tool"], "cutting_diameter").(float64)
	cut = withField(a.t, withField(a.t, cut, "tool.cutting_diameter", diameter), "parameters.cutting_speed", number(a.t, motion, "cutting_speed"))
	return withField(a.t, cut, "parameters.feed_per_revolution", number(a.t, motion, "feed_per_revolution")*diameter/whole)
}

func (a *asking) estimate(cut string) map[string]any {
	a.t.Helper()
	doc := decodeAny(a.t, cut)
	doc["units"], doc["machine"] = a.units, a.machine
	got := ask(a.t, a.h, "POST /v1/estimates", []byte(encodeAny(a.t, doc)))
	if got.status != http.StatusOK {
		a.t.Fatalf("%d %s", got.status, got.body)
	}
	return got.doc.(map[string]any)
}

// rubs reports a chip under the least one and thinner than as asked.
func (a *asking) rubs(cut string) bool {
	a.t.Helper()
	thin := slices.ContainsFunc(list(a.estimate(cut), "findings"), func(f any) bool { return member0(f, "code") == "chip-too-thin" })
	chip := func(cut string) float64 { return number(a.t, member0(a.estimate(cut), "chip"), "thickness_max") }
	return thin && chip(cut) < chip(a.cut)*(1-1e-5)
}

// smaller is a value a little nearer to the one as asked than a way's, none where there is no
// such value.
func (a *asking) smaller(way map[string]any) (float64, bool) {
	from, to := way["from"].(float64), way["to"].(float64)
	switch way["lever"] {
	case "tool", "passes":
		less := to + math.Copysign(1, from-to)
		if way["pilot"] != nil {
			tenth := 0.1
			if a.units == "inch" {
				tenth /= 25.4
			}
			less = to - tenth
			return less, less >= 0.18*member0(decodeAny(a.t, a.cut)["tool"], "cutting_diameter").(float64)
		}
		return less, less != from
	}
	less := to * math.Pow(from/to, 1e-4/math.Abs(math.Log(from/to)))
	return less, math.Abs(math.Log(from/to)) > 1e-4
}

// Every way, sent back as told and with nothing else changed, gives the verdict it says in
// the gear it says; a change that is smaller by a ten-thousandth does not, nor any between;
// and no way rubs: for any amount of too much, either unit system, and for a release as for
// a what-if.
func TestWaysLeadToYes(t *testing.T) {
	h := embeddedService(t)
	seen := map[string]int{}
	rapid.Check(t, func(rt *rapid.T) {
		c := rapid.SampledFrom(tooMuch).Draw(rt, "case")
		a := asking{t, h, rapid.SampledFrom([]string{"metric", "inch"}).Draw(rt, "units"), rapid.SampledFrom([]string{"what-if", "what-if", "release"}).Draw(rt, "purpose"),
			fmt.Sprintf(c.cut, math.Round(1000*rapid.Float64Range(2, 9.99).Draw(rt, "size"))/1000), c.machine}
		share := rapid.Float64Range(0.02, 0.98).Draw(rt, "share")
		if a.units == "inch" {
			a.cut = inInches(t, a.cut)
		}
		r := a.pair(a.cut)
		asked := r["verdict"].(string)
		if told := len(list(r, "ways")) + len(list(r, "no_ways")); (asked == "yes") != (told == 0) {
			t.Fatalf("%s: %v is told %d", c.name, asked, told)
		}
		last := 0.0
		for _, w := range list(r, "ways") {
			way := w.(map[string]any)
			lever, to := way["lever"].(string), way["to"].(float64)
			if cost, ok := way["time_factor"].(float64); !ok || cost < last || cost <= 0 {
				t.Fatalf("%s: %v after %v", c.name, way, last)
			} else {
				last = cost
			}
			verdict, gear := a.changed(way, to)
			if verdict != way["verdict"] || better[verdict] <= better[asked] {
				t.Fatalf("%s in %s: %s, %v\nasked again %v: %s", c.name, a.units, asked, way, verdict, withField(t, a.cut, way["field"].(string), to))
			}
			told, before := way["gear"], r["gear"]
			if moved := before != nil && before != gear; moved != (lever == "gear") || moved != (told != nil) || moved && told != gear {
				t.Fatalf("%s: %v from gear %v to %v", c.name, way, r["gear"], gear)
			}
			if a.rubs(withField(t, a.cut, way["field"].(string), to)) {
				t.Fatalf("%s: %v rubs", c.name, way)
			}
			seen[lever+" "+verdict]++
			seen[lever+" from "+asked]++
			if way["pilot"] != nil {
				seen["pilot"]++
			}
			less, exists := a.smaller(way)
			for _, value := range []float64{less, less * math.Pow(way["from"].(float64)/less, share)} {
				if !exists || value == 0 || value != less && (lever == "tool" || lever == "passes") {
					continue
				}
				if short, in := a.changed(way, value); better[short] >= better[verdict] && (lever != "gear" || in == gear) {
					t.Fatalf("%s: %v is not the smallest: %v is %v too", c.name, way, value, short)
				}
			}
		}
		for _, n := range list(r, "no_ways") {
			for _, lever := range list(n, "levers") {
				seen["no "+lever.(string)]++
			}
		}
	})
	t.Log(seen)
	for _, lever := range []string{"speed", "feed", "depth", "width", "gear", "tool", "passes"} {
		if seen[lever+" yes"]+seen[lever+" conditional"] == 0 {
			t.Errorf("no way by %s was seen", lever)
		}
	}
	for _, what := range []string{"pilot", "feed from conditional", "no speed", "no feed"} {
		if seen[what] == 0 {
			t.Errorf("%s was never seen", what)
		}
	}
}
