package api_test

import (
	"encoding/json"
	"fmt"
	"math"
	"net/http"
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

// Every way, sent back as told and with nothing else changed, gives the verdict it says,
// and a change a little smaller does not: for any amount of too much, either unit system,
// and for a release as for a what-if.
func TestWaysLeadToYes(t *testing.T) {
	h := embeddedService(t)
	seen := map[string]int{}
	rapid.Check(t, func(rt *rapid.T) {
		c := rapid.SampledFrom(tooMuch).Draw(rt, "case")
		units := rapid.SampledFrom([]string{"metric", "inch"}).Draw(rt, "units")
		purpose := rapid.SampledFrom([]string{"what-if", "what-if", "release"}).Draw(rt, "purpose")
		cut := fmt.Sprintf(c.cut, math.Round(1000*rapid.Float64Range(2, 15).Draw(rt, "size"))/1000)
		if units == "inch" {
			cut = inInches(t, cut)
		}
		r := firstResult(t, askPair(t, h, units, purpose, cut, c.machine))
		ways := list(r, "ways")
		if r["verdict"] != "no" {
			if len(ways) > 0 {
				t.Fatalf("%s: %v has ways", c.name, r["verdict"])
			}
			return
		}
		last := 0.0
		for _, w := range ways {
			way := w.(map[string]any)
			field, from, to := way["field"].(string), way["from"].(float64), way["to"].(float64)
			if cost, ok := way["time_factor"].(float64); !ok || cost < last || cost <= 0 {
				t.Fatalf("%s: %v after %v", c.name, way, last)
			} else {
				last = cost
			}
			again := firstResult(t, askPair(t, h, units, purpose, withField(t, cut, field, to), c.machine))
			if again["verdict"] != way["verdict"] {
				t.Fatalf("%s in %s: %v\nasked again %v: %s", c.name, units, way, again["verdict"], withField(t, cut, field, to))
			}
			seen[way["lever"].(string)+" "+way["verdict"].(string)]++
			if way["lever"] == "gear" {
				continue // it is the nearest in another gear
			}
			less := to * math.Pow(from/to, 0.02)
			if name := way["lever"]; name == "tool" || name == "passes" {
				if less = to + math.Copysign(1, from-to); less == from {
					continue
				}
			}
			short := firstResult(t, askPair(t, h, units, purpose, withField(t, cut, field, less), c.machine))
			if better[short["verdict"].(string)] >= better[way["verdict"].(string)] {
				t.Fatalf("%s: %v is not the smallest: %v is %v too", c.name, way, less, short["verdict"])
			}
		}
	})
	t.Log(seen)
	for _, lever := range []string{"speed", "feed", "depth", "width", "tool", "passes"} {
		if seen[lever+" yes"]+seen[lever+" conditional"] == 0 {
			t.Errorf("no way by %s was seen", lever)
		}
	}
}

// A request is told ways for a hundred pairs at most, and says so.
func TestWaysAreTold(t *testing.T) {
	h := embeddedService(t)
	cut := fmt.Sprintf(tooMuch[0].cut, 12)
	var cuts []string
	for range 120 {
		cuts = append(cuts, cut)
	}
	got := ask(t, h, "POST /v1/spindle-checks", []byte(`{"units":"metric","cuts":[`+strings.Join(cuts, ",")+`],"machine":"vmc-40"}`))
	with, without := 0, 0
	for _, r := range list(got.doc, "results") {
		if len(list(r, "ways")) > 0 {
			with++
		} else if strings.Contains(fmt.Sprint(member0(r, "unchecked")), "ways") {
			without++
		}
	}
	if with != 100 || without != 20 {
		t.Errorf("%d with ways, %d that say why not", with, without)
	}
}

// Several cuts are a program: what they lean on short-term ratings, by machine.
func TestProgramsOfASpindleCheck(t *testing.T) {
	h := embeddedService(t)
	deep := strings.Replace(fmt.Sprintf(tooMuch[0].cut, 3), `"radial_width":60`, `"radial_width":60,"length":400`, 1)
	light := strings.Replace(fmt.Sprintf(tooMuch[0].cut, 0.5), `"radial_width":60`, `"radial_width":60,"length":4000`, 1)
	got := ask(t, h, "POST /v1/spindle-checks", []byte(`{"units":"metric","cuts":[`+deep+`,`+light+`,`+fmt.Sprintf(tooMuch[0].cut, 1)+`],"machines":["vmc-50","hmc-63"]}`))
	programs := list(got.doc, "programs")
	if got.status != 200 || len(programs) != 2 {
		t.Fatalf("%d %s", got.status, got.body)
	}
	small := programs[0]
	if over, all := number(t, small, "over_continuous"), number(t, small, "cutting"); over <= 0 || over >= all || number(t, small, "unknown") != 1 || member0(small, "allowed") != true || len(list(small, "allowed_by")) == 0 {
		t.Errorf("%v", small)
	}
	if one := ask(t, h, "POST /v1/spindle-checks", []byte(`{"units":"metric","cut":`+deep+`,"machine":"vmc-50"}`)); len(list(one.doc, "programs")) != 0 {
		t.Errorf("one cut is a program: %s", one.body)
	}
}
