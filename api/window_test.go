package api_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// windowed are cuts that run, on machines of the demonstration.
var windowed = []struct{ cut, machine string }{
	{`{"units":"metric","material":{"grade":"1.7225"},"operation":"face-milling","tool":{"class":"mill-face","cutting_diameter":80,"effective_edges":6,"corner_radius":0.8},"engagement":{"axial_depth":%v,"radial_width":50},"parameters":{"cutting_speed":150,"feed_per_tooth":0.15},"machine":%q}`, "vmc-50"},
	{`{"units":"metric","material":{"grade":"1.4301"},"operation":"side-milling","tool":{"class":"mill-end","cutting_diameter":16,"effective_edges":4},"engagement":{"axial_depth":%v,"radial_width":2},"parameters":{"spindle_speed":2200,"feed_rate":700},"machine":%q}`, "vmc-40"},
	{`{"units":"metric","material":{"grade":"1.1191"},"operation":"drilling","tool":{"class":"drill-indexable","cutting_diameter":24},"engagement":{"hole_depth":%v0,"through":true},"parameters":{"cutting_speed":140,"feed_per_revolution":0.1},"machine":%q}`, "vmc-50"},
	{`{"units":"metric","material":{"grade":"1.7225"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.8},"engagement":{"work_diameter":80,"depth_of_cut":%v},"parameters":{"cutting_speed":160,"feed_per_revolution":0.25},"machine":%q}`, "lathe-315"},
	{`{"units":"metric","material":{"grade":"1.1191"},"operation":"tapping","tool":{"class":"tap-cutting","cutting_diameter":10},"engagement":{"nominal_diameter":10,"pitch":1.5,"hole_depth":30,"thread_depth":1%v,"hole_diameter":8.5,"through":true},"parameters":{"cutting_speed":12},"machine":%q}`, "vmc-40"},
}

// passes is what a cut passes that the cut as programmed does not: limits with the worn
// edge, and codes of refusals and holds.
func passes(t *testing.T, got reply, known []string) []string {
	t.Helper()
	if got.status != 200 {
		t.Fatalf("%d %s", got.status, got.body)
	}
	var out []string
	for _, l := range list(member0(got.doc, "machine"), "limits") {
		if used, ok := member0(l, "utilisation_worn").(float64); ok && used > 1+1e-5 {
			out = append(out, member0(l, "limit").(string))
		}
	}
	for _, f := range list(got.doc, "findings") {
		code := member0(f, "code").(string)
		if severity := member0(f, "severity"); (severity == "refusal" || severity == "hold") && !slices.Contains(known, code) {
			out = append(out, code)
		}
	}
	return out
}

// Inside the window nothing more is passed than as programmed; just outside, what it names
// is, where the answer can show it.
func TestOverrideWindowIsTight(t *testing.T) {
	h := embeddedService(t)
	named := map[string]int{}
	rapid.Check(t, func(rt *rapid.T) {
		c := rapid.SampledFrom(windowed).Draw(rt, "case")
		cut := fmt.Sprintf(c.cut, math.Round(100*rapid.Float64Range(1.5, 4).Draw(rt, "size"))/100, c.machine)
		base := ask(t, h, "POST /v1/estimates?window=true", []byte(cut))
		known := passes(t, base, nil)
		window := member0(base.doc, "override_window")
		programmed := member0(base.doc, "parameters")
		for _, axis := range []string{"feed", "speed"} {
			side := member0(window, axis)
			held := member0(side, "held").(string)
			at := func(k float64) []string {
				speed, feed := member0(programmed, "cutting_speed").(float64), member0(programmed, "feed_per_revolution").(float64)
				rate := member0(programmed, "feed_rate").(float64)
				changed := cutWithout(t, cut, "cutting_speed", "spindle_speed", "feed_per_tooth", "feed_per_revolution", "feed_rate")
				switch {
				case axis == "feed":
					changed = withField(t, withField(t, changed, "parameters.cutting_speed", speed), "parameters.feed_per_revolution", feed*k)
				case held == "feed_rate":
					changed = withField(t, withField(t, changed, "parameters.cutting_speed", speed*k), "parameters.feed_rate", rate)
				case member0(base.doc, "operation") == "tapping":
					changed = withField(t, changed, "parameters.cutting_speed", speed*k)
				default:
					changed = withField(t, withField(t, changed, "parameters.cutting_speed", speed*k), "parameters.feed_per_revolution", feed)
				}
				return passes(t, ask(t, h, "POST /v1/estimates", []byte(changed)), known)
			}
			for _, end := range []string{"low", "high"} {
				k, open := member0(side, end).(float64)
				limit := member0(side, end+"_limit").(string)
				if !open { // what it names stands against the cut as programmed
					if !slices.Contains(known, limit) || member0(side, "low_limit") != limit || member0(side, "high_limit") != limit {
						rt.Fatalf("%s: no %s end, %v, and %v", cut, end, side, known)
					}
					continue
				}
				if limit == "pitch" {
					if k != 1 {
						rt.Fatalf("a thread's feed at %v", k)
					}
					continue
				}
				inside := k * 1.00001
				if end == "high" {
					inside = k * 0.99999
				}
				if more := at(inside); len(more) > 0 {
					rt.Fatalf("%s: %s %s %v by %s: inside passes %v", cut, axis, end, k, limit, more)
				}
				named[limit]++
				outside := k * 0.999
				if end == "high" {
					outside = k * 1.001
				}
				shown := limit != "nothing-met" && limit != "chip-floor" && limit != "gear" && limit != "force-record" && limit != "starting-record"
				if more := at(outside); shown && !slices.Contains(more, limit) {
					rt.Fatalf("%s: %s %s %v by %s: outside passes %v", cut, axis, end, k, limit, more)
				}
			}
		}
	})
	t.Log(named)
	if len(named) < 4 {
		t.Errorf("only %v were seen to limit", named)
	}
}

// cutWithout is a cut without some of its parameters.
func cutWithout(t *testing.T, cut string, names ...string) string {
	t.Helper()
	doc := decodeAny(t, cut)
	for _, name := range names {
		delete(doc["parameters"].(map[string]any), name)
	}
	return encodeAny(t, doc)
}
