package api_test

import (
	"maps"
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"swarf/domain/cut"
)

var aBlock = regexp.MustCompile(`^S([0-9]+(?:\.[0-9]+)?) F([0-9]+(?:\.[0-9]+)?) \(G97 REV/MIN, (G9[45]) ((?:MM|IN)/(?:MIN|REV))[^()\n]*\)(?: \([^()\n]*\))*\n$`)

// A block can be run as it stands: computed with the very numbers it says, the cut has no
// hold, no refusal and no limit passed that it had not before.
func TestBlocksKeepEveryLimit(t *testing.T) {
	h := embeddedService(t)
	made := 0
	rapid.Check(t, func(rt *rapid.T) {
		q := drawnCut(rt)
		before := call(t, h, "GET", "/v1/estimates?"+q.Encode(), "")
		q.Set("format", "words")
		q.Set("speed_step", rapid.SampledFrom([]string{"1", "10", "50", "0.5"}).Draw(rt, "speed_step"))
		q.Set("feed_step", rapid.SampledFrom([]string{"1", "5", "0.1", "0.01", "0.001"}).Draw(rt, "feed_step"))
		q.Set("feed_mode", rapid.SampledFrom([]string{"per-minute", "per-revolution"}).Draw(rt, "feed_mode"))
		got := call(t, h, "GET", "/v1/estimates?"+q.Encode(), "")
		verdict := textOf(before.doc, "verdict")
		if got.status == http.StatusUnprocessableEntity && strings.HasPrefix(string(got.body), "#ERR no-words ") {
			return // refused, or the steps are too coarse: never a block
		}
		m := aBlock.FindStringSubmatch(string(got.body))
		if got.status != http.StatusOK || m == nil || verdict == "no" {
			rt.Fatalf("%d %q of a %s", got.status, got.body, verdict)
		}
		made++
		for i, name := range []string{"speed_step", "feed_step"} {
			v, _ := strconv.ParseFloat(m[i+1], 64)
			step, _ := strconv.ParseFloat(q.Get(name), 64)
			if n := v / step; v <= 0 || n-float64(int64(n+0.5)) > 1e-6 || float64(int64(n+0.5))-n > 1e-6 {
				rt.Fatalf("%s is not in steps of %s: %s", m[i+1], q.Get(name), got.body)
			}
		}
		again := maps.Clone(q)
		for _, name := range []string{"cutting_speed", "feed_per_revolution", "format", "speed_step", "feed_step", "feed_mode"} {
			again.Del(name)
		}
		again.Set("spindle_speed", m[1])
		again.Set(map[string]string{"G94": "feed_rate", "G95": "feed_per_revolution"}[m[3]], m[2])
		after := call(t, h, "GET", "/v1/estimates?"+again.Encode(), "")
		held := heldOf(after)
		for code := range heldOf(before) {
			delete(held, code)
		}
		if after.status != http.StatusOK || len(held) > 0 {
			rt.Fatalf("%s: %d, rounding adds %v", got.body, after.status, held)
		}
		if strings.Contains(string(got.body), "ROUNDED UP") {
			return
		}
		for _, name := range []string{"spindle_speed", "feed_per_revolution"} {
			was, _ := find(before.doc, "parameters."+name)
			is, _ := find(after.doc, "parameters."+name)
			if is[0].value.(float64) > was[0].value.(float64)*(1+1e-5) {
				rt.Fatalf("%s rose from %v to %v", name, was[0].value, is[0].value)
			}
		}
	})
	if made < 20 {
		t.Errorf("only %d blocks", made)
	}
}

// heldOf are the holds and refusals of an answer.
func heldOf(got reply) map[string]bool {
	out := map[string]bool{}
	findings, _ := find(got.doc, "findings[*]")
	for _, n := range findings {
		if s := textOf(n.value, "severity"); s == "hold" || s == "refusal" {
			out[textOf(n.value, "code")+" "+textOf(n.value, "field")] = true
		}
	}
	return out
}

const aTap = "units=metric&grade=C45&operation=tapping&class=tap-cutting&nominal_diameter=10&pitch=1.5&hole_diameter=8.5&thread_depth=15&hole_depth=25&through=true"

// The feed of a thread is its pitch: per revolution as it is, as a rate only where steps
// meet it.
func TestBlocksOfThreads(t *testing.T) {
	h := embeddedService(t)
	for query, want := range map[string]string{
		"cutting_speed=10":                                               `^S318 F1\.500 \(G97 REV/MIN, G95 MM/REV, TAPPING,`,
		"cutting_speed=10&feed_mode=per-minute":                          `^S318 F477 \(G97 REV/MIN, G94 MM/MIN,`,
		"cutting_speed=10&feed_mode=per-minute&speed_step=1&feed_step=2": `^S316 F474 \(`,
		"cutting_speed=10&feed_step=0.4":                                 `^#ERR no-words .*pitch`,
		"cutting_speed=10&ref=" + url.QueryEscape("op (30)%;"):           `REF OP 30, DATA`,
	} {
		got := call(t, h, "GET", "/v1/estimates?format=words&"+aTap+"&"+query, "")
		if !regexp.MustCompile(want).Match(got.body) {
			t.Errorf("%s: %d %s, want %s", query, got.status, got.body, want)
		}
	}
}

// A step that leaves nothing of the feed or is too coarse to go up by, a step that is none,
// and a cut that is refused.
func TestBlocksThatAreNotMade(t *testing.T) {
	h := embeddedService(t)
	heavy := strings.NewReplacer("cutting_diameter=30", "cutting_diameter=80", "feed_per_revolution=0.12", "feed_per_revolution=0.5").Replace(aCutFlat)
	for query, want := range map[string]string{
		aCutFlat + "&feed_step=1000":                                       `^#ERR no-words rounded to these steps`,
		aCutFlat + "&speed_step=1000&feed_mode=per-revolution&feed_step=1": `^#ERR no-words `,
		aCutFlat + "&speed_step=0":                                         `^#ERR value-out-of-range `,
		aCutFlat + "&speed_step=fast":                                      `^#ERR wrong-type `,
		heavy + "&machine=vmc-40":                                          `^#ERR no-words the cut is refused: .*machine`,
	} {
		got := call(t, h, "GET", "/v1/estimates?format=words&"+query, "")
		if !regexp.MustCompile(want).Match(got.body) || got.status < 400 {
			t.Errorf("%s: %d %s", query, got.status, got.body)
		}
	}
}

// In inches the words are in inches, and the control's resolution serves for the steps.
func TestBlocksInInches(t *testing.T) {
	h := embeddedService(t)
	const flat = "units=inch&grade=A96061&operation=slot-milling&class=mill-end&cutting_diameter=0.5&effective_edges=3&axial_depth=0.25&cutting_speed=700&feed_per_tooth=0.003"
	for query, want := range map[string]string{"": `^S5347 F48\.1 \(G97 REV/MIN, G94 IN/MIN,`, "&speed_resolution=100&feed_resolution=1": `^S5300 F47 \(`, "&feed_mode=per-revolution": `^S5347 F0\.0090 \(G97 REV/MIN, G95 IN/REV,`} {
		got := call(t, h, "GET", "/v1/estimates?format=words&"+flat+query, "")
		if !regexp.MustCompile(want).Match(got.body) {
			t.Errorf("%s: %d %s", query, got.status, got.body)
		}
	}
}

// Every operation has a block of what is recommended in steel, or says why not; threads
// carry their pitch.
func TestBlocksOfEveryOperation(t *testing.T) {
	h := embeddedService(t)
	for _, r := range routings {
		body := `{"units":"metric","material":{"grade":"C45"},"operation":"` + r.operation + `","tool":` + r.tool + `,"engagement":` + r.engagement + `}`
		whole := call(t, h, "POST", "/v1/recommendations", body, asJSON)
		got := call(t, h, "POST", "/v1/recommendations?format=words", body, asJSON)
		m := aBlock.FindStringSubmatch(string(got.body))
		if got.status != http.StatusOK || m == nil {
			t.Errorf("%s: %d %s", r.operation, got.status, got.body)
			continue
		}
		o, _ := cut.Find(r.operation)
		if perTurn := o.FeedIsPitch || o.Family == cut.TurningFamily; perTurn != (m[3] == "G95") {
			t.Errorf("%s: %s", r.operation, got.body)
		}
		name := map[string]string{"G94": "feed_rate", "G95": "feed_per_revolution"}[m[3]]
		for i, member := range []string{"spindle_speed", name} {
			want, _ := find(whole.doc, "parameters."+member)
			v, _ := strconv.ParseFloat(m[i+1], 64)
			if full := want[0].value.(float64); v > full*1.05 || v < full*0.9 || o.FeedIsPitch && member == name && v != full {
				t.Errorf("%s: %s of %v: %s", r.operation, member, full, got.body)
			}
		}
		if holds := strings.Contains(string(got.body), "(HOLD "); holds != (textOf(whole.doc, "verdict") == "conditional") {
			t.Errorf("%s is %s: %s", r.operation, textOf(whole.doc, "verdict"), got.body)
		}
	}
}
