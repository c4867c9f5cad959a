package api_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
)

const onePair = `{"units": "metric", "machine": "vmc-50", "cut": {"material": {"grade": "1.7225"}, "operation": "face-milling", "tool": {"class": "mill-face", "cutting_diameter": 80, "effective_edges": 6},
 "engagement": {"axial_depth": 3, "radial_width": 60}, "parameters": {"cutting_speed": 150, "feed_per_tooth": 0.2}}}`

// One cut on one machine is drawn as its estimate on that machine, to the byte.
func TestCheckIsDrawnAsItsEstimate(t *testing.T) {
	h := embeddedService(t)
	for _, name := range []string{"spindle", "revolution", "region", "limits"} {
		want := call(t, h, "GET", "/v1/estimates?format=svg&picture="+name+"&"+pictured, "")
		got := call(t, h, "POST", "/v1/spindle-checks?picture="+name, onePair, asJSON, "Accept: "+svgType)
		if got.status != 200 || !bytes.Equal(got.body, want.body) {
			t.Errorf("%s: %d, %d bytes, want %d", name, got.status, len(got.body), len(want.body))
		}
	}
	// A release fails closed, and so does its picture.
	if got := call(t, h, "POST", "/v1/spindle-checks?picture=limits&format=svg", strings.Replace(onePair, `"metric"`, `"metric", "purpose": "release"`, 1), asJSON); !strings.Contains(string(got.body), "not-checked") {
		t.Errorf("a release is drawn as %.300s", got.body)
	}
}

// Several pairs have one picture; others, and too many, are refused with the reason.
func TestPairsAreDrawnTogether(t *testing.T) {
	h := embeddedService(t)
	many := strings.Replace(checkedPairs, `["vmc-40", "vmc-50", "lathe-315"]`, "["+strings.TrimSuffix(strings.Repeat(`"vmc-40",`, 31), ",")+"]", 1)
	for _, c := range []struct{ query, body, says string }{
		{"picture=region", checkedPairs, "6 pairs"}, {"picture=moon", checkedPairs, "spindle, revolution, region, limits"}, {"", many, "62 pairs"},
	} {
		got := call(t, h, "POST", "/v1/spindle-checks?format=png&"+c.query, c.body, asJSON)
		if got.status != 422 || !strings.Contains(string(got.body), c.says) {
			t.Errorf("%s: %d %.400s", c.query, got.status, got.body)
		}
	}
	got := call(t, h, "POST", "/v1/spindle-checks?format=svg&picture=limits", checkedPairs, asJSON)
	for _, pair := range []string{"bore on vmc-40", "ream on vmc-50"} {
		if !strings.Contains(string(got.body), pair) {
			t.Errorf("%d: no %s", got.status, pair)
		}
	}
}

// Whatever cannot be drawn has the code that says so.
func TestPictureImpossible(t *testing.T) {
	h := embeddedService(t)
	turned := "units=metric&grade=304&operation=turning&class=turning-external&work_diameter=80&depth_of_cut=2&cutting_speed=150&feed_per_revolution=0.25"
	for query, says := range map[string]string{"picture=revolution&" + turned: "turning does not pulse", "picture=spindle&" + turned: "no machine", "picture=limits&" + turned: "no machine",
		"picture=revolution&" + strings.Replace(pictured, "face-milling&class=mill-face", "plunge-milling&class=mill-face", 1): "rim"} {
		for _, format := range []string{"svg", "png"} {
			got := call(t, h, "GET", fmt.Sprintf("/v1/estimates?format=%s&%s", format, query), "")
			code, _ := problemOf(t, got)
			if got.status != 422 || code != "picture-impossible" || !strings.Contains(string(got.body), says) {
				t.Errorf("%s: %d %s %.400s", query, got.status, code, got.body)
			}
		}
	}
	if got := call(t, h, "GET", "/v1/estimates?format=svg&"+turned, ""); got.status != 200 || !strings.Contains(string(got.body), "on no machine") {
		t.Errorf("%d %.300s", got.status, got.body)
	}
}
