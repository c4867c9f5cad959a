package api_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
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
	// Slow for the record, so that what comes next limits: torque, thrust, the lowest gear.
	{`{"units":"metric","material":{"grade":"1.7225"},"operation":"face-milling","tool":{"class":"mill-face","cutting_diameter":80,"effective_edges":6},"engagement":{"axial_depth":%v,"radial_width":60},"parameters":{"spindle_speed":130,"feed_per_tooth":0.12},"work_holding":{"kind":"vice"},"machine":%q}`, "vmc-50"},
	{`{"units":"metric","material":{"grade":"1.1191"},"operation":"drilling","tool":{"class":"drill-twist-hss","cutting_diameter":16},"engagement":{"hole_depth":%v0,"through":true},"parameters":{"cutting_speed":6,"feed_per_revolution":0.12},"machine":%q}`, "vmc-40"},
	{`{"units":"metric","material":{"grade":"1.7225"},"operation":"face-milling","tool":{"class":"mill-face","cutting_diameter":80,"effective_edges":6},"engagement":{"axial_depth":%v,"radial_width":20},"parameters":{"spindle_speed":300,"feed_per_tooth":0.12},"machine":%q}`, "vmc-50"},
	// The caller's own force data: no record has a range, and the chip is the end.
	{`{"units":"metric","material":{"grade":"1.1191"},"operation":"side-milling","tool":{"class":"mill-end","cutting_diameter":12,"effective_edges":4},"engagement":{"axial_depth":%v,"radial_width":3},"parameters":{"cutting_speed":120,"feed_rate":1000},"force_data":{"specific_cutting_force_1_1":1700,"chip_thickness_exponent":0.25},"machine":%q}`, "hmc-63"},
	// Fast in light metal: the spindle, the tool, the axes.
	{`{"units":"metric","material":{"grade":"A96061"},"operation":"side-milling","tool":{"class":"mill-end","cutting_diameter":8,"effective_edges":3},"engagement":{"axial_depth":%v,"radial_width":1},"parameters":{"cutting_speed":250,"feed_per_tooth":0.06},"machine":%q}`, "vmc-40"},
	{`{"units":"metric","material":{"grade":"A96061"},"operation":"side-milling","tool":{"class":"mill-end","cutting_diameter":12,"effective_edges":3,"max_spindle_speed":10000},"engagement":{"axial_depth":%v,"radial_width":2},"parameters":{"spindle_speed":9000,"feed_per_tooth":0.1},"machine":%q}`, "hmc-63"},
	{`{"units":"metric","material":{"grade":"A96061"},"operation":"face-milling","tool":{"class":"mill-face","cutting_diameter":50,"effective_edges":6},"engagement":{"axial_depth":%v,"radial_width":10},"parameters":{"cutting_speed":1200,"feed_per_tooth":0.25},"machine":%q}`, "vmc-50"},
	// A chuck: its speed, and the grip that speed takes away.
	{`{"units":"metric","material":{"grade":"1.7225"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.8},"engagement":{"work_diameter":40,"depth_of_cut":%v},"parameters":{"spindle_speed":1500,"feed_per_revolution":0.2},"machine":%q}`, "lathe-315"},
	{`{"units":"metric","material":{"grade":"1.7225"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.8},"engagement":{"work_diameter":60,"depth_of_cut":%v},"parameters":{"spindle_speed":1600,"feed_per_revolution":0.12},"work_holding":{"static_grip":16000},"machine":%q}`, "lathe-200"},
}

// showsAs are the limits of a window that an answer shows as a finding of another name.
var showsAs = map[string]string{"chip-floor": "chip-too-thin", "gear": "spindle-speed-not-in-gear", "force-record": "chip-thickness-outside-record"}

// passes is what a cut passes that the cut as programmed does not: limits with the worn
// edge, codes of refusals and holds, and what else limits a window.
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
		if severity := member0(f, "severity"); severity == "refusal" || severity == "hold" {
			out = append(out, code)
		}
		for limit, shown := range showsAs {
			if code == shown {
				out = append(out, limit)
			}
		}
	}
	return slices.DeleteFunc(out, func(name string) bool { return slices.Contains(known, name) })
}

// leftPractice reports a cut whose speed the answer shows outside the starting record.
func leftPractice(got reply) bool {
	return slices.ContainsFunc(list(got.doc, "findings"), func(f any) bool {
		code := member0(f, "code")
		return code == "speed-outside-practice" || code == "unit-slip-suspected" && member0(f, "field") == "parameters.cutting_speed"
	})
}

// moved is a cut with one of its two overrides at a factor, as the window says what it holds.
func moved(t *testing.T, cut string, programmed any, axis, held string, k float64) string {
	t.Helper()
	speed, feed, rate := number(t, programmed, "cutting_speed"), number(t, programmed, "feed_per_revolution"), number(t, programmed, "feed_rate")
	changed := cutWithout(t, cut, "cutting_speed", "spindle_speed", "feed_per_tooth", "feed_per_revolution", "feed_rate")
	if axis == "feed" {
		return withField(t, withField(t, changed, "parameters.cutting_speed", speed), "parameters.feed_per_revolution", feed*k)
	}
	changed = withField(t, changed, "parameters.cutting_speed", speed*k)
	switch {
	case decodeAny(t, cut)["operation"] == "tapping":
		return changed
	case held == "feed_rate":
		return withField(t, changed, "parameters.feed_rate", rate)
	}
	return withField(t, changed, "parameters.feed_per_revolution", feed)
}

// Inside the window nothing more is passed than as programmed; just outside, what it names
// is. A feed over the starting record is the one limit that no answer shows.
func TestOverrideWindowIsTight(t *testing.T) {
	h := embeddedService(t)
	named := map[string]int{}
	rapid.Check(t, func(rt *rapid.T) {
		size := math.Round(100*rapid.Float64Range(1.5, 4).Draw(rt, "size")) / 100
		for _, c := range windowed {
			cut := fmt.Sprintf(c.cut, size, c.machine)
			base := ask(t, h, "POST /v1/estimates?window=true", []byte(cut))
			programmed := passes(t, base, nil)
			// A person may answer a hold; a limit of the machine, the chip and the gear stay.
			known := slices.DeleteFunc(slices.Clone(programmed), func(name string) bool {
				return name == "chip-floor" || name == "gear" || !strings.Contains(name, "-")
			})
			for _, axis := range []string{"feed", "speed"} {
				side := member0(member0(base.doc, "override_window"), axis)
				at := func(k float64) reply {
					return ask(t, h, "POST /v1/estimates", []byte(moved(t, cut, member0(base.doc, "parameters"), axis, member0(side, "held").(string), k)))
				}
				for _, end := range []string{"low", "high"} {
					k, open := member0(side, end).(float64)
					limit := member0(side, end+"_limit").(string)
					if !open { // what it names stands against the cut as programmed
						if !slices.Contains(programmed, limit) || member0(side, "low_limit") != limit || member0(side, "high_limit") != limit {
							rt.Fatalf("%s: no %s end, %v, and %v", cut, end, side, programmed)
						}
						named["none for "+limit]++
						continue
					}
					named[limit]++
					if limit == "pitch" {
						if k != 1 {
							rt.Fatalf("a thread's feed at %v", k)
						}
						continue
					}
					beyond := 0.0005
					if limit == "grip" { // falls with the square of the speed: hardly, where that is low
						beyond = 0.1
					}
					inside, outside := k*1.00001, k*(1-beyond)
					if end == "high" {
						inside, outside = k*0.99999, k*(1+beyond)
					}
					if more := passes(t, at(inside), known); len(more) > 0 {
						rt.Fatalf("%s: %s %s %v by %s: inside passes %v", cut, axis, end, k, limit, more)
					}
					got := at(outside)
					switch more := passes(t, got, known); {
					case limit == "nothing-met":
						if k != 2.99999 && k > 0.050001 {
							rt.Fatalf("%s: %s %s ends at %v for nothing", cut, axis, end, k)
						}
					case limit == "starting-record":
						if axis == "speed" && !leftPractice(got) {
							rt.Fatalf("%s: speed %s %v by the record: outside it is still in practice", cut, end, k)
						}
					case !slices.Contains(more, limit):
						rt.Fatalf("%s: %s %s %v by %s: outside passes %v", cut, axis, end, k, limit, more)
					}
				}
			}
		}
	})
	t.Log(named)
	for _, limit := range []string{"chip-floor", "gear", "force-record", "starting-record", "nothing-met", "pitch",
		"torque", "power", "feed_force", "feed_rate", "spindle_speed", "tool_speed", "chuck_speed", "grip", "clamping-unknown", "none for power"} {
		if named[limit] == 0 {
			t.Errorf("%s was never seen to limit", limit)
		}
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
