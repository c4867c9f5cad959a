package api_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"net/http"
	"net/url"
	"reflect"
	"slices"
	"strings"
	"testing"

	"swarf/api/wire"
	"swarf/domain/cut"
)

// longHost is a host as long as a shop's intranet names them.
const longHost = "swarf.manufacturing.example.com:8080"

// width is how many characters a number or a free text has in the longest request: more
// than any machine or gauge can tell.
const width = 7

// tried are values by which a member is put to the test, until the service takes one.
var tried = map[string][]string{
	"rating": {"S6-40"}, "machine": {"lathe-315", "vmc-50"}, "grade": {"1.4301"}, "condition": {"annealed"}, "certificate.type": {"3.1"}, "hardness.scale": {"HBW"}, "certificate.hardness.scale": {"HBW"},
	"hardness.value": {"180"}, "certificate.hardness.value": {"180"}, "tool_material": {"HW", "HSS"}, "kind": {"jaw-chuck", "vice", "chuck"}, "confidence": {"0.95"}, "state": {"skin", "scale"},
	"delivery": {"minimum-quantity", "through-tool", "external"}, "site_procedure": {"SP-0417"}, "direction": {"conventional", "radial"}, "cutting_minutes": {"2"}, "cycle_minutes": {"10"}, "tensile_strength": {"600", "87"},
	"elastic_modulus": {"210"}, "chisel_ratio": {"0.1"}, "friction": {"0.3"}, "chip_thickness_exponent": {"0.2"}, "specific_cutting_force_1_1": {"2000"}, "spread": {"0.1"}, "max_speed": {"3000"}, "max_rate": {"3000"},
}

// flatForms are the computations by GET that take a cut, with where it stands in their
// request and what they need beside it.
var flatForms = []struct {
	path, prefix string
	shape        reflect.Type
	base         url.Values
}{
	{"/v1/recommendations", "", reflect.TypeFor[wire.Cut](), url.Values{}}, // estimates take the same, and spindle checks, with machines
	{"/v1/diagnoses", "cut.", reflect.TypeFor[wire.DiagnosisRequest](), url.Values{"vc": {"20"}, "power": {"3.2"}, "machine": {"lathe-315"}}},
}

// Of every computation and operation, the request with every member that can stand beside
// the others, by its shortest name, with the options that do not choose members, is a URL
// that every caller can send.
func TestTheLongestRequestsAreURLs(t *testing.T) {
	h := embeddedService(t)
	for _, form := range flatForms {
		names, longest := shortestNames(form.shape), 0
		for _, r := range routings {
			q := longestRequest(t, h, form.path, names, flatBase(t, r.operation, r.tool, r.engagement, form.prefix, names, form.base))
			target := form.path + "?" + q.Encode()
			got := call(t, h, http.MethodGet, target, "")
			if got.status != http.StatusOK {
				t.Errorf("%s, %d members: %d %s", r.operation, len(q), got.status, got.body)
			}
			if len(got.body) > 32_767 { // what a cell of a spreadsheet holds
				t.Errorf("%s, %s: a text of %d characters", form.path, r.operation, len(got.body))
			}
			n := len("https://"+longHost) + len(target)
			if longest = max(longest, n); n > 2047 || len(q) < 85 {
				t.Errorf("%s, %s: %d members are a URL of %d characters", form.path, r.operation, len(q), n)
			}
		}
		t.Logf("%s: at most %d characters", form.path, longest)
	}
}

// others are members that say again what the longest request says at more length.
var others = []string{"group", "spindle_speed", "feed_per_tooth", "feed_rate", "specific_cutting_energy", "torque", "percent"}

// taken are the values that a request before has taken.
var taken = map[string][]string{}

// longestRequest adds to a request whatever the service takes beside it.
func longestRequest(t *testing.T, h http.Handler, path string, names map[string]string, q url.Values) url.Values {
	t.Helper()
	if got := call(t, h, http.MethodGet, path+"?"+q.Encode(), ""); got.status != http.StatusOK {
		t.Fatalf("%s?%s: %s", path, q.Encode(), got.body)
	}
	for _, member := range slices.Sorted(maps.Keys(names)) {
		short := names[member]
		_, inner, engaged := strings.Cut(member, "engagement.")
		if o, _ := cut.Find(q.Get("operation")); q.Has(short) || engaged && !o.Has(inner) && inner != "length" {
			continue
		}
		long := member[strings.LastIndexByte(member, '.')+1:]
		if slices.Contains(others, long) {
			continue
		}
		values := slices.Concat(taken[member], tried[short], tried[long], []string{"1", "0.5", "false", "5", "60", "800", "worn", "right", "steel", "balanced", "tool", "full", "water-miscible", "climb", "motor", "release", "OP 4711"})
		for _, v := range values {
			q.Set(short, v)
			if call(t, h, http.MethodGet, path+"?"+q.Encode(), "").status == http.StatusOK {
				taken[member] = []string{v}
				break
			}
			q.Del(short)
		}
	}
	for name, list := range q {
		q[name][0] = widened(list[0])
	}
	for name, value := range map[string]string{"format": "text", "explain": "true", "window": "true", "handling": "lenient", "as_of": "1"} {
		q.Set(name, value)
	}
	return q
}

// widened is a number with as many digits as any has.
func widened(text string) string {
	if strings.Trim(text, "0123456789.") != "" || len(text) >= width || strings.HasPrefix(text, "3.1") || strings.HasPrefix(text, "1.4") {
		return text
	}
	if !strings.Contains(text, ".") {
		text += "."
	}
	return text + strings.Repeat("0", max(0, width-len(text)))
}

// flatBase is a routing as short query parameters.
func flatBase(t *testing.T, operation, tool, engagement, at string, names map[string]string, more url.Values) url.Values {
	t.Helper()
	q := url.Values{"units": {"metric"}, "grade": {"1.4301"}, "condition": {"annealed"}, "operation": {operation}}
	for prefix, body := range map[string]string{"tool.": tool, "engagement.": engagement} {
		for name, v := range parsedObject(t, body) {
			q.Set(names[at+prefix+name], fmt.Sprint(v))
		}
	}
	for name, list := range more {
		q[name] = slices.Clone(list)
	}
	// what a recommendation may choose, the others must be given
	o, _ := cut.Find(operation)
	if len(more) > 0 && !o.FeedIsPitch {
		q.Set("f", "0.1")
	}
	for name, v := range map[string]string{"depth_of_cut": "1", "axial_depth": "2", "radial_width": "3", "step_over": "0.5", "passes": "6", "tilt_angle": "30"} {
		if short := names[at+"engagement."+name]; len(more) > 0 && slices.Contains(o.Required, name) && !q.Has(short) {
			q.Set(short, v)
		}
	}
	return q
}

func shortestNames(shape reflect.Type) map[string]string {
	names := map[string]string{}
	for name, path := range wire.FlatNames(shape) {
		names[path] = name
	}
	for name, path := range wire.ShortNames(shape) {
		names[path] = name
	}
	return names
}

// A URL that is longer is refused before anybody relies on it, by a problem that says what
// to do; the same request by QUERY is answered.
func TestLongURLsAreRefused(t *testing.T) {
	h := embeddedService(t)
	target := "/v1/estimates?" + aCutFlat + "&ref=" + strings.Repeat("x", 2000)
	got := call(t, h, http.MethodGet, target, "")
	if got.status != http.StatusRequestURITooLong || problemCodes(got.doc)[0] != "url-too-long" || !strings.Contains(string(got.body), "QUERY") {
		t.Errorf("%d %s", got.status, got.body)
	}
	for _, n := range []int{2047, 2048} {
		fill := n - len("https://example.com/v1/estimates?"+aCutFlat+"&ref=")
		got := call(t, h, http.MethodGet, "/v1/estimates?"+aCutFlat+"&ref="+strings.Repeat("x", fill), "")
		if (got.status == http.StatusOK) != (n == 2047) {
			t.Errorf("%d characters: %d", n, got.status)
		}
	}
	if len(cut.Names()) != len(routings) {
		t.Errorf("%d operations, %d routings", len(cut.Names()), len(routings))
	}
}

// Short names stand for the long ones, and both together are the same member twice.
func TestShortNames(t *testing.T) {
	h := embeddedService(t)
	short := strings.NewReplacer("cutting_diameter", "DC", "cutting_speed", "vc", "feed_per_revolution", "f", "specific_cutting_force_1_1", "kc11", "chip_thickness_exponent", "mc").Replace(aCutFlat)
	long, got := call(t, h, http.MethodGet, "/v1/estimates?"+aCutFlat, ""), call(t, h, http.MethodGet, "/v1/estimates?"+short, "")
	if got.status != http.StatusOK || string(got.body) != string(long.body) {
		t.Errorf("%d %s", got.status, got.body)
	}
	if twice := call(t, h, http.MethodGet, "/v1/estimates?"+aCutFlat+"&vc=30", ""); twice.status != http.StatusBadRequest || !strings.Contains(string(twice.body), "same member") {
		t.Errorf("%d %s", twice.status, twice.body)
	}
	if spelt := call(t, h, http.MethodGet, "/v1/estimates?"+aCutFlat+"&dc=30", ""); spelt.status != http.StatusBadRequest {
		t.Errorf("%d %s", spelt.status, spelt.body)
	}
}

func parsedObject(t *testing.T, body string) map[string]any {
	t.Helper()
	var out map[string]any
	if err := json.Unmarshal([]byte(body), &out); err != nil {
		t.Fatal(err)
	}
	return out
}
