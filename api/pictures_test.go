package api_test

import (
	"bytes"
	"flag"
	"image"
	"image/color"
	"image/png"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

const (
	svgType = "image/svg+xml"
	pngType = "image/png"
)

const pictured = "units=metric&grade=1.7225&operation=face-milling&class=mill-face&cutting_diameter=80&effective_edges=6&axial_depth=3&radial_width=60&cutting_speed=150&feed_per_tooth=0.2&machine=vmc-50"

const checkedPairs = `{"units": "metric", "machines": ["vmc-40", "vmc-50", "lathe-315"], "cuts": [
 {"ref": "bore", "material": {"grade": "1.7225"}, "operation": "drilling", "tool": {"class": "drill-indexable", "cutting_diameter": 40}, "engagement": {"hole_depth": 60, "through": true}, "parameters": {"cutting_speed": 160, "feed_per_revolution": 0.12}},
 {"ref": "ream", "material": {"grade": "1.4301"}, "operation": "drilling", "tool": {"class": "drill-solid-carbide", "cutting_diameter": 8}, "engagement": {"hole_depth": 16, "through": true}, "parameters": {"cutting_speed": 60, "feed_per_revolution": 0.12}}]}`

// pictures are what is drawn in the tests: a name, how it is asked for, and what it says.
var pictures = []struct{ name, target, body, says string }{
	{"spindle", "/v1/estimates?picture=spindle&" + pictured, "", "gear low"},
	{"revolution", "/v1/estimates?picture=revolution&" + pictured, "", "one turn"},
	{"region", "/v1/estimates?picture=region&" + pictured, "", "torque"},
	{"limits", "/v1/estimates?picture=limits&" + pictured, "", "spindle speed"},
	{"region-inch", "/v1/estimates?picture=region&units=inch&grade=304&operation=turning&class=turning-external&work_diameter=3&depth_of_cut=0.1&cutting_speed=450&feed_per_revolution=0.012&machine=lathe-315", "", "ft/min"},
	{"machine-inch", "/v1/machines/lathe-315?units=inch", "", "hp"},
	{"chosen", "/v1/recommendations?units=metric&grade=1.4301&operation=drilling&class=drill-solid-carbide&cutting_diameter=8&hole_depth=16&through=true&machine=vmc-40", "", "1/min"},
	{"plan", "/v1/plans", "plan", "60-bore-rough"},
	{"check", "/v1/spindle-checks", checkedPairs, "ream on lathe-315"},
	{"slot-inch", "/v1/estimates?picture=revolution&units=inch&grade=304&operation=slot-milling&class=mill-end&cutting_diameter=0.5&effective_edges=4&axial_depth=0.25&radial_width=0.5&flute_helix_angle=38&cutting_speed=250&feed_per_tooth=0.002&machine=vmc-40", "", "lbf"},
}

func drawn(t *testing.T, h http.Handler, target, body, media string) reply {
	t.Helper()
	if body == "" {
		return call(t, h, "GET", target, "", "Accept: "+media)
	}
	if body == "plan" {
		text, err := os.ReadFile("../testdata/plans/valve-block.json")
		if err != nil {
			t.Fatal(err)
		}
		body = string(text)
	}
	return call(t, h, "POST", target, body, asJSON, "Accept: "+media)
}

var fontOf = regexp.MustCompile(`base64,[A-Za-z0-9+/=]+`)

// Pictures are the same as they were, SVG as text but for its font, PNG by its pixels. Look
// at them before they are written anew: go test ./api -run Pictures -update.
func TestPicturesAreAsTheyWere(t *testing.T) {
	h := embeddedService(t)
	update := flag.Lookup("update").Value.String() == "true"
	for _, p := range pictures {
		for media, end := range map[string]string{svgType: ".svg", pngType: ".png"} {
			got := drawn(t, h, p.target, p.body, media)
			if got.status != http.StatusOK || got.header.Get("Content-Type") != media {
				t.Fatalf("%s: %d %.500s", p.name, got.status, got.body)
			}
			if again := drawn(t, h, p.target, p.body, media); !bytes.Equal(again.body, got.body) {
				t.Errorf("%s%s differs from one time to the next", p.name, end)
			}
			made := got.body
			if end == ".svg" {
				if n := len(fontOf.FindAll(made, -1)); n != 1 {
					t.Errorf("%s has %d fonts in it", p.name, n)
				}
				made = fontOf.ReplaceAll(made, []byte("base64,"))
				for _, need := range []string{p.says, "<title>", "<desc>"} {
					if !strings.Contains(string(made), need) {
						t.Errorf("%s does not say %s", p.name, need)
					}
				}
			}
			file := filepath.Join("../testdata/pictures", p.name+end)
			if update {
				os.MkdirAll(filepath.Dir(file), 0o755)
				if err := os.WriteFile(file, made, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			kept, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if end == ".svg" && !bytes.Equal(kept, made) {
				t.Errorf("%s.svg is not as it was", p.name)
			}
			if end == ".png" {
				if far := apart(t, kept, made); far > 0.001 {
					t.Errorf("%s.png: %.2f %% of its pixels are not as they were", p.name, 100*far)
				}
			}
		}
	}
}

// apart is the share of pixels that differ visibly.
func apart(t *testing.T, a, b []byte) float64 {
	t.Helper()
	x, y := pixels(t, a), pixels(t, b)
	if x.Bounds() != y.Bounds() || x.Bounds().Dx() != 800 {
		t.Errorf("%v and %v; a picture is 800 wide", x.Bounds(), y.Bounds())
		return 1
	}
	differ := 0
	for i := range x.Bounds().Dy() {
		for k := range 800 {
			p, q := color.GrayModel.Convert(x.At(k, i)).(color.Gray).Y, color.GrayModel.Convert(y.At(k, i)).(color.Gray).Y
			if d := int(p) - int(q); d > 8 || d < -8 {
				differ++
			}
		}
	}
	return float64(differ) / float64(800*x.Bounds().Dy())
}

func pixels(t *testing.T, text []byte) image.Image {
	t.Helper()
	p, err := png.Decode(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A picture that cannot be of a cut is a fault of its own code; pictures of what has a tag have one.
func TestPicturesThatCannotBe(t *testing.T) {
	h := embeddedService(t)
	const tapped = "/v1/estimates?units=metric&grade=1.1191&operation=tapping&class=tap-cutting&cutting_diameter=10&nominal_diameter=10&pitch=1.5&thread_depth=15&hole_depth=30&hole_diameter=8.5&through=true&cutting_speed=12"
	for target, c := range map[string]struct {
		status int
		says   string
	}{
		"/v1/estimates?format=png&picture=moon&" + pictured:         {422, "spindle, revolution, region, limits"},
		"/v1/estimates?picture=spindle&" + pictured:                 {422, "format=svg"},
		tapped + "&format=svg&picture=region":                       {422, "pitch, so"},
		tapped + "&format=svg":                                      {422, "machine"},
		tapped + "&format=svg&picture=revolution":                   {422, "mill"},
		"/v1/estimates?format=png&units=metric&operation=whittling": {400, "whittling"},
		"/v1/sources?format=svg":                                    {406, "format=json"},
		"/v1/recommendations?format=svg&units=metric&group=P&operation=drilling&class=drill-gun&cutting_diameter=800&hole_depth=16&through=true&machine=vmc-40": {422, ""},
	} {
		got := call(t, h, "GET", target, "")
		if got.status/100 != 4 || c.status != got.status && c.says != "" || !strings.Contains(string(got.body), c.says) || !strings.HasPrefix(got.header.Get("Content-Type"), "application/problem+json") {
			t.Errorf("%s: %d %.500s", target, got.status, got.body)
		}
	}
	first := call(t, h, "GET", "/v1/machines/vmc-50?format=svg", "")
	for name, want := range map[string]string{"Content-Security-Policy": "default-src 'none'; style-src 'unsafe-inline'; font-src data:", "Referrer-Policy": "no-referrer"} {
		if got := first.header.Get(name); !strings.HasPrefix(got, want) {
			t.Errorf("an SVG may be shown with %s %q", name, got)
		}
	}
	if again := call(t, h, "GET", "/v1/machines/vmc-50?format=svg", "", "If-None-Match: "+first.header.Get("ETag")); again.status != http.StatusNotModified {
		t.Errorf("%d with the tag %s", again.status, first.header.Get("ETag"))
	}
	if head := call(t, h, "HEAD", "/v1/estimates?format=png&"+pictured, ""); head.status != 200 || len(head.body) != 0 || head.header.Get("Content-Type") != pngType {
		t.Errorf("HEAD: %d, %d bytes of %s", head.status, len(head.body), head.header.Get("Content-Type"))
	}
}
