package api_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// A drive that contradicts itself is refused, with the place and both numbers.
func TestCurvesThatCannotBe(t *testing.T) {
	h := newShop(t).handler()
	put := func(gears string) reply {
		return call(t, h, "PUT", "/v1/machines/own", `{"units":"metric","process":"milling","spindle":{"max_speed":8000,"efficiency":0.9,"gears":[`+gears+`]}}`, asJSON, "If-None-Match: *")
	}
	for name, c := range map[string]struct{ gears, field, says string }{
		"gap between gears":      {`{"gear":"low","max_speed":1500,"ratings":[{"rating":"S1","power":11,"torque":200}]},{"gear":"high","min_speed":2000,"max_speed":8000,"ratings":[{"rating":"S1","power":11,"torque":60}]}`, "spindle.gears[1].min_speed", "1500"},
		"power never reached":    {`{"max_speed":8000,"ratings":[{"rating":"S1","power":30,"torque":20}]}`, "spindle.gears[0].ratings[0].power", "16.75"},
		"torque never had":       {`{"min_speed":2000,"max_speed":8000,"ratings":[{"rating":"S1","power":11,"torque":200}]}`, "spindle.gears[0].ratings[0].torque", "52.5"},
		"point beyond the gear":  {`{"max_speed":6000,"ratings":[{"rating":"S1","points":[{"speed":500,"power":5},{"speed":8000,"power":9}]}]}`, "spindle.gears[0].ratings[0].points[1].speed", "6000"},
		"speed that falls":       {`{"max_speed":8000,"ratings":[{"rating":"S1","points":[{"speed":900,"power":5},{"speed":700,"power":9}]}]}`, "spindle.gears[0].ratings[0].points[1].speed", "900"},
		"torque against power":   {`{"max_speed":8000,"ratings":[{"rating":"S1","points":[{"speed":500,"power":5,"torque":95.5},{"speed":1000,"power":10,"torque":50}]}]}`, "spindle.gears[0].ratings[0].points[1].torque", "95.4"},
		"a rating without power": {`{"max_speed":8000,"ratings":[{"rating":"S1","torque":50}]}`, "spindle.gears[0].ratings[0].power", ""},
	} {
		got := put(c.gears)
		if got.status/100 != 4 || !strings.Contains(string(got.body), `"`+c.field+`"`) || !strings.Contains(string(got.body), c.says) {
			t.Errorf("%s: %d %s", name, got.status, got.body)
		}
	}
	if got := put(`{"gear":"low","max_speed":2000,"ratings":[{"rating":"S1","power":11,"torque":200}]},{"gear":"high","min_speed":1500,"max_speed":8000,"ratings":[{"rating":"S1","points":[{"speed":1800,"power":11,"torque":58.4},{"speed":8000,"power":9}]}]}`); got.status != http.StatusCreated {
		t.Errorf("a sound drive: %d %s", got.status, got.body)
	}
}

// A limit on circles binds what goes round, and nothing else.
func TestFeedOnCircles(t *testing.T) {
	h := newShop(t).handler()
	call(t, h, "PUT", "/v1/machines/own", `{"units":"metric","process":"milling","spindle":{"max_speed":8000,"efficiency":0.9,"gears":[{"ratings":[{"rating":"S1","power":11,"torque":60}]}]},"axes":{"max_feed_rate":20000,"max_arc_feed_rate":300}}`, asJSON, "If-None-Match: *")
	const looped = `{"units":"metric","machine":"own","material":{"grade":"A96061"},"operation":"circular-milling","tool":{"class":"mill-end","cutting_diameter":10,"effective_edges":3},"engagement":{"start_diameter":29,"end_diameter":30,"internal":true,"axial_depth":10},"parameters":{"cutting_speed":200,"feed_per_tooth":0.05}}`
	got := ask(t, h, "POST /v1/estimates", []byte(looped))
	if got.status != 200 || !strings.Contains(fmt.Sprint(member0(member0(got.doc, "machine"), "limits")), "arc_feed_rate") || member0(got.doc, "verdict") != "no" {
		t.Errorf("%d %s", got.status, got.body)
	}
	straight := strings.NewReplacer("circular-milling", "side-milling", `"start_diameter":29,"end_diameter":30,"internal":true,`, `"radial_width":1,`).Replace(looped)
	if got := ask(t, h, "POST /v1/estimates", []byte(straight)); got.status != 200 || strings.Contains(string(got.body), "arc_feed_rate") {
		t.Errorf("%d %s", got.status, got.body)
	}
}

// A machine that has more of anything, or on file a rating that gives no more than S1, is never
// less feasible.
func TestAStrongerMachineIsNeverWorse(t *testing.T) {
	h := embeddedService(t)
	type drive struct{ speed, power, torque, feed, thrust, short float64 }
	written := func(d drive) string {
		ratings := fmt.Sprintf(`{"rating":"S1","power":%v,"torque":%v}`, d.power, d.torque)
		if d.short > 0 {
			ratings += fmt.Sprintf(`,{"rating":"S6-40","power":%v,"torque":%v}`, d.power*d.short, d.torque*d.short)
		}
		return fmt.Sprintf(`{"units":"metric","process":"milling","spindle":{"max_speed":%v,"efficiency":0.85,"gears":[{"ratings":[%s]}]},"axes":{"max_feed_rate":%v,"max_feed_force":%v}}`, d.speed, ratings, d.feed, d.thrust)
	}
	worse := 0
	rapid.Check(t, func(rt *rapid.T) {
		c := rapid.SampledFrom(tooMuch[:3]).Draw(rt, "case")
		cut := fmt.Sprintf(c.cut, rapid.Float64Range(1, 12).Draw(rt, "size"))
		f := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(rt, name) }
		weak := drive{speed: f("speed", 800, 8000), torque: f("torque", 10, 300), feed: f("feed", 100, 4000), thrust: f("thrust", 200, 9000)}
		weak.power = weak.torque * f("knee", 0.1, 0.9) * weak.speed / 9549
		strong := weak
		switch rapid.IntRange(0, 5).Draw(rt, "what") {
		case 0: // as much torque, power held for longer
			strong.power = min(weak.power*1.5, strong.torque*strong.speed/9549)
		case 1:
			strong.torque, strong.power = weak.torque*1.5, weak.power*1.5
		case 2:
			strong.feed *= 2
		case 3:
			strong.thrust *= 2
		case 4: // a short-term rating that gives no more than S1
			strong.short = f("short", 0.5, 1)
		default: // more for a short time
			weak.short = f("short", 1.05, 1.5)
			strong = weak
			strong.short *= 1.3
		}
		verdict := func(d drive) string {
			return firstResult(t, ask(t, h, "POST /v1/spindle-checks", []byte(fmt.Sprintf(`{"units":"metric","cut":%s,"machine":%s}`, cut, written(d)))))["verdict"].(string)
		}
		a, b := verdict(weak), verdict(strong)
		if better[b] < better[a] {
			rt.Fatalf("%v on the weaker, %v on the stronger:\n%s\n%s\n%s", a, b, cut, written(weak), written(strong))
		}
		if a == "no" {
			worse++
		}
	})
	if worse == 0 {
		t.Error("the weaker machine never failed")
	}
}
