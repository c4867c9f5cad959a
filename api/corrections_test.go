package api_test

import (
	"net/http"
	"strings"
	"testing"
)

func TestCorrections(t *testing.T) {
	h := embeddedService(t)
	const target = "/v1/corrections?units=inch&feature=external&sides_cut=2&programmed=1&measured=1.005"
	got := call(t, h, http.MethodGet, target+"&register=radius", "")
	if got.status != http.StatusOK || !strings.Contains(string(got.body), `"correction":{"register":"radius","value":-0.0025}`) {
		t.Errorf("five thousandths over on both sides: %d %s", got.status, got.body)
	}
	fits(t, published(t), http.MethodGet, target, got.status, "application/json", got.body)
	got = call(t, h, http.MethodGet, target+"&register=diameter", "")
	if !strings.Contains(string(got.body), `"value":-0.005}`) {
		t.Errorf("in a diameter register: %s", got.body)
	}
	code, faults := problemOf(t, call(t, h, http.MethodGet, target, ""))
	if code != "field-missing" || len(faults) != 1 || faults[0] != "field-missing register" {
		t.Errorf("no register: %s %q", code, faults)
	}
	code, faults = problemOf(t, call(t, h, http.MethodPost, "/v1/corrections", `{"units":"metric","sides_cut":3,"programmed":-1,"register":"radius","error":0.1,"measured":2}`, asJSON))
	want := "request-invalid: field-missing feature, value-out-of-range programmed, value-out-of-range sides_cut, fields-conflict error"
	if got := code + ": " + strings.Join(faults, ", "); got != want {
		t.Errorf("many faults:\n%s\nwant\n%s", got, want)
	}
}
