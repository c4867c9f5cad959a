package api_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// checkMany asks one cut so many times on a machine.
func checkMany(count int, cut, machine string) []byte {
	return []byte(`{"units":"metric","cuts":[` + strings.TrimSuffix(strings.Repeat(cut+",", count), ",") + `],"machine":"` + machine + `"}`)
}

// told counts results that have ways or say why they have none, and those that say that
// nothing was looked for.
func told(results []any) (with, without int) {
	for _, r := range results {
		if len(list(r, "ways"))+len(list(r, "no_ways")) > 0 {
			with++
		} else if strings.Contains(fmt.Sprint(member0(r, "unchecked")), "ways") {
			without++
		}
	}
	return with, without
}

func decodeLines(t *testing.T, body []byte) []any {
	t.Helper()
	var out []any
	for line := range strings.Lines(string(body)) {
		out = append(out, decodeAny(t, line))
	}
	return out
}

// overContinuous is a cut that vmc-50 makes with a short-term rating: a conditional.
const overContinuous = `{"material":{"grade":"1.7225"},"operation":"face-milling","tool":{"class":"mill-face","cutting_diameter":80,"effective_edges":6},"engagement":{"axial_depth":2.5,"radial_width":60},"parameters":{"cutting_speed":150,"feed_per_tooth":0.12}}`

// A request is told ways for a hundred pairs at most, and says so; conditionals only in
// requests that have no more.
func TestWaysAreTold(t *testing.T) {
	h := embeddedService(t)
	no := fmt.Sprintf(tooMuch[0].cut, 12)
	for _, x := range []struct {
		name, cut, machine string
		count              int
		with, without      int
	}{
		{"many noes", no, "vmc-40", 120, 100, 20},
		{"a hundred conditionals", overContinuous, "vmc-50", 100, 100, 0},
		{"more conditionals", overContinuous, "vmc-50", 101, 0, 0},
	} {
		one := firstResult(t, askPair(t, h, "metric", "what-if", x.cut, x.machine))
		got := list(ask(t, h, "POST /v1/spindle-checks", checkMany(x.count, x.cut, x.machine)).doc, "results")
		if with, without := told(got); with != x.with || without != x.without {
			t.Errorf("%s: %d told, %d that say why not", x.name, with, without)
		}
		if x.with > 0 && encodeAny(t, member0(got[x.with-1], "ways")) != encodeAny(t, one["ways"]) {
			t.Errorf("%s: the last told differs from one alone", x.name)
		}
		item := `{"cut":` + x.cut + `,"machine":"` + x.machine + `"}`
		items := strings.TrimSuffix(strings.Repeat(item+",", x.count), ",")
		batch := list(ask(t, h, "POST /v1/spindle-checks/batch", []byte(`{"units":"metric","items":[`+items+`]}`)).doc, "items")
		if with, without := told(batch); with != x.with || without != x.without {
			t.Errorf("%s in a batch: %d told, %d that say why not", x.name, with, without)
		}
		lines := call(t, h, "POST", "/v1/spindle-checks/batch?units=metric", strings.Repeat(item+"\n", x.count), "Content-Type: application/x-ndjson")
		if with, without := told(decodeLines(t, lines.body)); with != x.with || without != x.without {
			t.Errorf("%s as lines: %d told, %d that say why not", x.name, with, without)
		}
	}
}

// What stands in the way of a lever is told: a chip that would rub, a speed below every
// gear, a finding that no lever moves.
func TestNoWaysSayWhatStands(t *testing.T) {
	h := embeddedService(t)
	for _, x := range []struct{ name, machine, cut, lever, codes string }{
		{"a feed that would rub", "vmc-40", fmt.Sprintf(tooMuch[0].cut, 4), "feed", "[spindle-torque-exceeded spindle-power-exceeded chip-too-thin]"},
		{"a speed in no gear", "vmc-40", fmt.Sprintf(tooMuch[0].cut, 4), "speed", "[spindle-torque-exceeded spindle-power-exceeded spindle-speed-not-in-gear]"},
		{"a drill's feed that would rub", "drill-tap-30", fmt.Sprintf(tooMuch[2].cut, 40), "feed", "[spindle-torque-exceeded spindle-power-exceeded feed-force-exceeded chip-too-thin]"},
		{"speed against torque", "vmc-50", `{"material":{"grade":"1.1191"},"operation":"slot-milling","tool":{"class":"mill-end","cutting_diameter":25,"effective_edges":4},"engagement":{"axial_depth":30},"parameters":{"cutting_speed":133,"feed_per_tooth":0.12}}`, "speed", "[spindle-torque-exceeded spindle-power-exceeded]"},
		{"a group instead of a grade", "vmc-50", `{"material":{"group":"P"},"operation":"drilling","tool":{"class":"drill-solid-carbide","cutting_diameter":10},"engagement":{"hole_depth":20,"through":true},"parameters":{"cutting_speed":80,"feed_per_revolution":0.15}}`, "feed", "[group-record-used]"},
		{"a tap out of step", "lathe-315", `{"material":{"grade":"1.1191"},"operation":"tapping","tool":{"class":"tap-cutting","cutting_diameter":10},"engagement":{"nominal_diameter":10,"pitch":1.5,"hole_depth":30,"thread_depth":15,"hole_diameter":8.5,"through":true},"parameters":{"cutting_speed":12}}`, "speed", "[tapping-not-synchronised]"},
	} {
		r := firstResult(t, askPair(t, h, "metric", "what-if", x.cut, x.machine))
		at := slices.IndexFunc(list(r, "no_ways"), func(n any) bool { return slices.Contains(list(n, "levers"), any(x.lever)) })
		if at < 0 {
			t.Errorf("%s: %v has %v and %v", x.name, r["verdict"], r["ways"], r["no_ways"])
			continue
		}
		if n := list(r, "no_ways")[at]; fmt.Sprint(member0(n, "codes")) != x.codes || member0(n, "why").(string) == "" {
			t.Errorf("%s: %v", x.name, n)
		}
	}
}

// Where a speed mends in its gear and another in the next gear, both are told, each by its
// own lever.
func TestSpeedAndGearAreTwoLevers(t *testing.T) {
	h := embeddedService(t)
	cut := fmt.Sprintf(`{"material":{"grade":"1.7225"},"operation":"turning","tool":{"class":"turning-external","corner_radius":1.2},"engagement":{"work_diameter":80,"depth_of_cut":%v},"parameters":{"spindle_speed":1150,"feed_per_revolution":0.45}}`, 2.3)
	r := firstResult(t, askPair(t, h, "metric", "what-if", cut, "lathe-315"))
	speeds := map[string]float64{}
	for _, w := range list(r, "ways") {
		if name := member0(w, "lever").(string); name == "speed" || name == "gear" {
			speeds[name] = number(t, w, "to")
			if (name == "gear") != (member0(w, "gear") == "low") {
				t.Errorf("%v", w)
			}
		}
	}
	if r["gear"] != "high" || speeds["speed"] <= 900 || speeds["gear"] > 900 || speeds["gear"] < 899 {
		t.Errorf("from 1150/min in gear %v: %v, %v", r["gear"], speeds, r["findings"])
	}
}

// A pilot hole is told as it is drilled: sent as a cut of its own it holds, and its time and
// that of the drill behind it are what the way costs.
func TestPilotsAreCuts(t *testing.T) {
	h := embeddedService(t)
	for _, units := range []string{"metric", "inch"} {
		a := asking{t, h, units, "what-if", `{"material":{"grade":"1.7225"},"operation":"drilling","tool":{"class":"drill-twist-hss","cutting_diameter":30},"engagement":{"hole_depth":55,"through":true},"parameters":{"cutting_speed":22,"feed_per_revolution":0.35}}`, "vmc-50"}
		if units == "inch" {
			a.cut = inInches(t, a.cut)
		}
		r := a.pair(a.cut)
		at := slices.IndexFunc(list(r, "ways"), func(w any) bool { return member0(w, "pilot") != nil })
		if at < 0 {
			t.Fatalf("no pilot: %v", r)
		}
		way := list(r, "ways")[at].(map[string]any)
		pilot, to := way["pilot"], way["to"].(float64)
		first := a.pilot(to)
		if verdict := a.pair(first)["verdict"]; verdict != "yes" {
			t.Errorf("the pilot is %v", verdict)
		}
		drilled, after := a.estimate(first), a.estimate(withField(t, a.cut, "engagement.start_diameter", to))
		minutes := func(doc any) float64 { return number(t, member0(doc, "time"), "cutting") }
		want := (minutes(drilled) + minutes(after)) / minutes(a.estimate(a.cut))
		if got := number(t, way, "time_factor"); math.Abs(got/want-1) > 1e-4 {
			t.Errorf("%s: it takes %v times as long, not %v", units, got, want)
		}
		if got := number(t, pilot, "cutting"); math.Abs(got/minutes(drilled)-1) > 1e-4 || number(t, pilot, "cutting_diameter") != to {
			t.Errorf("%s: a pilot of %v, and %v minutes", units, pilot, minutes(drilled))
		}
		for _, name := range []string{"cutting_speed", "spindle_speed", "feed_per_revolution", "feed_rate"} {
			if got, want := number(t, pilot, name), number(t, member0(drilled, "parameters"), name); math.Abs(got/want-1) > 1e-4 {
				t.Errorf("%s: %s of the pilot is %v, not %v", units, name, got, want)
			}
		}
	}
}
