package api_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// converted reads one conversion: the value on a scale, 0 when it is not read.
func converted(got reply, scale string) (value float64, approximate bool) {
	list, _ := member0(got.doc, "conversions").([]any)
	for _, c := range list {
		if member0(c, "scale") == scale {
			return member0(c, "value").(float64), member0(c, "approximate").(bool)
		}
	}
	return 0, false
}

// Rows as tables print them: DIN 50150 (ISO 18265 annex A), the ASTM E140 lineage for
// carbon and alloy steel above 650 HV, and the hardness limits of ASTM A240 for 304, 304N,
// 410 and 430, which belong to one another.
func TestHardnessIsConvertedAsPrinted(t *testing.T) {
	h := embeddedService(t)
	for _, c := range []struct {
		grade, query, to string
		want, within     float64
		approximate      bool
	}{
		{"C45", "value=300&scale=HV", "HBW", 285, 0, false}, {"C45", "value=300&scale=HV", "HRC", 29.8, 0, false},
		{"42CrMo4", "value=91.5&scale=HRB", "HBW", 190, 0, false}, {"100Cr6", "value=60&scale=HRC", "HV", 697, 0, false},
		{"C45", "tensile_strength=640", "HBW", 190, 0, false}, {"C45", "tensile_strength=965", "HV", 300, 0, false},
		{"304", "value=92&scale=HRB", "HBW", 201, 0.011, false}, {"1.4301", "value=95&scale=HRB", "HBW", 217, 0.011, false},
		{"410", "value=96&scale=HRB", "HBW", 217, 0.02, true}, {"430", "value=89&scale=HRB", "HBW", 183, 0.025, true},
		{"Inconel 718", "value=392&scale=HV", "HRC", 40, 0.01, true},
		{"304", "value=92&scale=HRB", "HV", 0, 0, false}, {"6061", "value=95&scale=HV", "HBW", 0, 0, false}, {"C45", "value=60&scale=HRC", "HBW", 0, 0, false},
		{"304", "tensile_strength=640", "HBW", 0, 0, false}, {"POM", "value=20&scale=HBW", "HV", 0, 0, false},
	} {
		got := ask(t, h, "GET /v1/hardness-conversions?grade="+strings.ReplaceAll(c.grade, " ", "%20")+"&"+c.query, nil)
		value, approximate := converted(got, c.to)
		if got.status != 200 || math.Abs(value-c.want) > c.within*c.want+1e-9 || approximate != c.approximate {
			t.Errorf("%s of %s is %v %s (approximate %v), want %v: %.600s", c.query, c.grade, value, c.to, approximate, c.want, got.body)
		}
		if reason := fmt.Sprintf(`{"check":%q`, c.to); c.want == 0 && !strings.Contains(string(got.body), reason) && !strings.Contains(string(got.body), `{"check":"hardness"`) {
			t.Errorf("%s of %s: not read as %s, and no reason given: %s", c.query, c.grade, c.to, got.body)
		}
	}
	got := ask(t, h, "GET /v1/hardness-conversions?grade=C45&value=300&scale=HV", nil)
	if member0(got.doc, "tensile_strength") != 965.0 || got.header.Get("ETag") == "" {
		t.Errorf("300 HV is 965 N/mm2 in DIN 50150: %s", got.body)
	}
	inch := ask(t, h, "GET /v1/hardness-conversions?grade=C45&tensile_strength=139.961&units=inch", nil)
	if value, _ := converted(inch, "HBW"); math.Abs(value-285) > 0.001 {
		t.Errorf("139.961 ksi are 965 N/mm2, and 285 HBW: %s", inch.body)
	}
}

func TestHardnessFaults(t *testing.T) {
	h := embeddedService(t)
	for query, want := range map[string]string{
		"value=40&scale=HRC": `400 "field":"grade","code":"field-missing"`, "grade=C45&value=%2B40&scale=HRC": `400 "field":"value","code":"wrong-type"`, "grade=C45": `400 "field":"value","code":"alternative-missing"`,
		"grade=C45&value=40": `400 "field":"scale","code":"hardness-scale-missing"`, "grade=C45&value=40&scale=shore": `422 "field":"scale","code":"hardness-scale-unknown"`,
		"grade=C45&scale=HRC": `400 "field":"value","code":"field-missing"`, "grade=C45&value=nine&scale=HRC": `400 "field":"value","code":"wrong-type"`,
		"grade=C45&value=900&scale=HBW": `422 "field":"value","code":"value-out-of-range"`, "grade=C45&tensile_strength=-4": `422 "field":"tensile_strength","code":"value-out-of-range"`,
		"grade=C45&tensile_strength=600&value=40&scale=HRC": `422 "field":"tensile_strength","code":"fields-conflict"`,
		"grade=stainless&value=40&scale=HRC":                `422 "field":"grade","code":"material-ambiguous"`,
	} {
		got := ask(t, h, "GET /v1/hardness-conversions?"+query, nil)
		status, fault, _ := strings.Cut(want, " ")
		if fmt.Sprint(got.status) != status || !strings.Contains(string(got.body), fault) {
			t.Errorf("%s: %d %s; want %s", query, got.status, got.body, want)
		}
	}
}
