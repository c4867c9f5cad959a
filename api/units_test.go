package api_test

import (
	"slices"
	"strings"
	"testing"
)

// Every code that an answer writes beside its numbers is in the list of units, and the list
// is whole on one page or on several.
func TestUnitsListEveryCode(t *testing.T) {
	h := embeddedService(t)
	listed := map[string]bool{}
	for target := "/v1/units?limit=7"; target != ""; {
		got := call(t, h, "GET", target, "")
		if got.status != 200 {
			t.Fatalf("%s: %d %s", target, got.status, got.body)
		}
		for _, item := range member0(got.doc, "items").([]any) {
			listed[textOf(item, "system")+" "+textOf(item, "ucum")] = true
		}
		target = ""
		if next := textOf(got.doc, "next_cursor"); next != "" {
			target = "/v1/units?limit=7&cursor=" + next
		}
	}
	for _, system := range []string{"metric", "inch"} {
		asked := 0
		for _, target := range []string{"/v1/machines/vmc-50", "/v1/materials/x5crni18-10", "/v1/recommendations?" + strings.Replace(aCutFlat, "units=metric&", "", 1)} {
			join := "?"
			if strings.Contains(target, "?") {
				join = "&"
			}
			got := call(t, h, "GET", target+join+"units="+system, "")
			codes, _ := member0(got.doc, "unit_of").(map[string]any)
			for name, code := range codes {
				if asked++; !listed[system+" "+code.(string)] {
					t.Errorf("%s, %s: %s is not listed", target, name, code)
				}
			}
		}
		if asked < 15 {
			t.Errorf("%d codes", asked)
		}
	}
}

// One system alone, and a row in full: 5066068 is the bytes of MMT, as in OPC 10000-8.
func TestUnitsOfOneSystem(t *testing.T) {
	got := call(t, embeddedService(t), "GET", "/v1/units?units=metric&limit=500", "")
	items := member0(got.doc, "items").([]any)
	if slices.ContainsFunc(items, func(item any) bool { return textOf(item, "system") != "metric" }) || len(items) < 25 {
		t.Errorf("%d items: %.300s", len(items), got.body)
	}
	const length = `{"quantity":"length","system":"metric","label":"mm","ucum":"mm","unece":"MMT","opc_ua":{"namespace_uri":"http://www.opcfoundation.org/UA/units/un/cefact","unit_id":5066068,"display_name":"mm"},"qudt":"http://qudt.org/vocab/unit/MilliM","mtconnect":"MILLIMETER"}`
	if !strings.Contains(string(got.body), length) || !strings.Contains(string(got.body), `{"quantity":"specific-energy","system":"metric","label":"J/mm³","ucum":"J/mm3"}`) {
		t.Errorf("%s", got.body)
	}
}
