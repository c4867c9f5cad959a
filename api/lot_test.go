package api_test

import (
	"fmt"
	"math"
	"net/http"
	"strings"
	"testing"
)

// turnedBar is a turning cut of a grade with whatever else is said of it.
func turnedBar(grade, condition, more string) []byte {
	return fmt.Appendf(nil, `{"units":"metric","material":{"grade":%q,"condition":%q%s},"operation":"turning",
		"tool":{"class":"turning-external","corner_radius":0.8},"engagement":{"work_diameter":60,"depth_of_cut":2},
		"parameters":{"cutting_speed":140,"feed_per_revolution":0.25}}`, grade, condition, more)
}

func loadOf(t *testing.T, h http.Handler, body []byte) (force float64, answer reply) {
	t.Helper()
	answer = ask(t, h, "POST /v1/estimates", body)
	if answer.status != 200 {
		t.Fatalf("%d %s", answer.status, answer.body)
	}
	return member0(member0(answer.doc, "loads"), "cutting_force").(float64), answer
}

// Hardness moves the force of steel and iron as tables by hardness do, (HB/HB0)^0.475
// within 0.8 to 1.3: a handbook's power constants for plain carbon steel are 0.78, 0.85
// and 0.92 hp.min/in3 at 160-180, 200-220 and 240-260 HB (Machinery's Handbook 31, p.
// 1147, Table 1b). It does not move that of metals whose hardness is cold work.
func TestHardnessMovesForceWhereASourceSaysSo(t *testing.T) {
	h := embeddedService(t)
	for _, c := range []struct{ soft, hard, low, high float64 }{{170, 210, 0.78, 0.85}, {210, 250, 0.85, 0.92}, {290, 350, 1.00, 1.14}} {
		if ours, printed := math.Pow(c.hard/c.soft, 0.475), c.high/c.low; math.Abs(ours/printed-1) > 0.05 {
			t.Errorf("from %v to %v HB the handbook's power rises by %.3f, ours by %.3f", c.soft, c.hard, printed, ours)
		}
	}
	hard := func(hbw float64) string { return fmt.Sprintf(`,"hardness":{"value":%g,"scale":"HBW"}`, hbw) }
	for _, c := range []struct {
		grade, condition string
		soft, hard       float64
		exponent         float64
	}{
		{"1.1191", "normalised", 170, 200, 0.475}, {"EN-GJL-250", "as-cast", 190, 220, 0.475}, {"42CrMo4", "quenched-and-tempered", 270, 300, 0.475},
		{"1.4301", "annealed", 160, 200, 0}, {"1.4401", "annealed", 160, 200, 0}, {"x120mn12", "annealed", 190, 215, 0}, {"R56400", "annealed", 310, 340, 0},
	} {
		soft, first := loadOf(t, h, turnedBar(c.grade, c.condition, hard(c.soft)))
		harder, second := loadOf(t, h, turnedBar(c.grade, c.condition, hard(c.hard)))
		record := func(a reply) any { return member0(member0(a.doc, "material"), "record") }
		if record(first) != record(second) {
			t.Errorf("%s: two hardnesses are served by %v and %v; choose them nearer", c.grade, record(first), record(second))
		}
		if want := math.Pow(c.hard/c.soft, c.exponent); math.Abs(harder/soft/want-1) > 1e-4 {
			t.Errorf("%s: force rises by %.4f from %v to %v HBW, want %.4f", c.grade, harder/soft, c.soft, c.hard, want)
		}
	}
}

// A certificate's hardness gives the digits of the same hardness sent for the work; its
// tensile strength those of the hardness beside it in DIN 50150 (705 N/mm2, 209 HBW).
func TestCertificateOfTheLotServes(t *testing.T) {
	h := embeddedService(t)
	with := func(certificate string) []byte {
		body := string(turnedBar("C45", "normalised", ""))
		return []byte(strings.TrimSuffix(body, "}") + `,"stock":{"lot":"A-17","certificate":` + certificate + `}}`)
	}
	want, _ := loadOf(t, h, turnedBar("C45", "normalised", `,"hardness":{"value":209,"scale":"HBW"}`))
	for _, certificate := range []string{
		`{"type":"3.1","heat":"H45678","hardness":{"value":209,"scale":"HBW"}}`, `{"type":"3.1","hardness":{"value":220,"scale":"HV"}}`,
		`{"tensile_strength":705}`, `{"hardness":{"value":95,"scale":"HRB"},"tensile_strength":900,"elongation":16}`,
	} {
		got, answer := loadOf(t, h, with(certificate))
		if math.Abs(got/want-1) > 1e-6 {
			t.Errorf("%s: %v N, want %v", certificate, got, want)
		}
		for _, text := range []string{`"stock":{"lot":"A-17","certificate":{`, `"code":"certificate-used"`, `lot A-17`} {
			if !strings.Contains(string(answer.body), text) {
				t.Errorf("%s: no %s in %s", certificate, text, answer.body)
			}
		}
	}
	asked := ask(t, h, "GET /v1/estimates?units=metric&grade=C45&condition=normalised&operation=turning&class=turning-external&corner_radius=0.8&work_diameter=60&depth_of_cut=2"+
		"&cutting_speed=140&feed_per_revolution=0.25&lot=A-17&certificate.heat=H45678&certificate.hardness.value=209&certificate.hardness.scale=HBW&format=text", nil)
	for _, line := range []string{"stock.lot=A-17", "stock.certificate.heat=H45678", "stock.certificate.hardness.value=209", fmt.Sprintf("loads.cutting_force=%v", want)} {
		if !strings.Contains(string(asked.body), line+"\n") {
			t.Errorf("no %s in %d %.1500s", line, asked.status, asked.body)
		}
	}
}

// What is wrong in a certificate is named by its path, and inch callers give strength in ksi.
func TestFaultsOfACertificate(t *testing.T) {
	h := embeddedService(t)
	body := strings.TrimSuffix(string(turnedBar("C45", "normalised", "")), "}") + `,"stock":{"certificate":{"type":"3.1.B","hardness":{"value":40},"tensile_strength":9000,"elongation":-2}}}`
	got := ask(t, h, "POST /v1/estimates", []byte(body))
	for _, field := range []string{"stock.certificate.type", "stock.certificate.hardness", "stock.certificate.tensile_strength", "stock.certificate.elongation"} {
		if !strings.Contains(string(got.body), `"field":"`+field+`"`) {
			t.Errorf("no fault of %s in %d %s", field, got.status, got.body)
		}
	}
	inch := `{"units":"inch","material":{"grade":"C45","condition":"normalised"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.03},
		"engagement":{"work_diameter":2.5,"depth_of_cut":0.1},"parameters":{"cutting_speed":450,"feed_per_revolution":0.01},"stock":{"certificate":{"tensile_strength":102.2516}}}`
	answer := ask(t, h, "POST /v1/estimates", []byte(inch))
	if !strings.Contains(string(answer.body), "102.252 ksi") || !strings.Contains(string(answer.body), "read as 209 HBW") {
		t.Errorf("%d %.2500s", answer.status, answer.body)
	}
}

// Speed falls in harder steel by a power of 1.0 to 1.7; in austenitic metal beyond its
// annealed hardness by a fixed share of 0.8 to 0.95, and in manganese steel not at all.
// Common practice, no source.
func TestHardnessMovesSpeedWhereItShould(t *testing.T) {
	h := embeddedService(t)
	for _, c := range []struct {
		grade, condition string
		hbw              float64
		name             string
		low, high        float64
	}{
		{"1.1191", "normalised", 220, "hardness", 0.5, 0.97}, {"EN-GJL-250", "as-cast", 240, "hardness", 0.5, 0.97},
		{"1.4301", "annealed", 240, "cold-work", 0.8, 0.95}, {"1.4301", "annealed", 180, "", 1, 1}, {"x120mn12", "annealed", 240, "", 1, 1},
	} {
		body := fmt.Appendf(nil, `{"units":"metric","material":{"grade":%q,"condition":%q},"stock":{"certificate":{"hardness":{"value":%g,"scale":"HBW"}}},"operation":"turning",
			"tool":{"class":"turning-external","corner_radius":0.8},"engagement":{"work_diameter":60,"depth_of_cut":2}}`, c.grade, c.condition, c.hbw)
		got := ask(t, h, "POST /v1/recommendations", body)
		if got.status != 200 {
			t.Fatalf("%s: %d %s", c.grade, got.status, got.body)
		}
		name, factor := "", 1.0
		list, _ := member0(got.doc, "adjustments").([]any)
		for _, a := range list {
			if n := member0(a, "name").(string); n == "hardness" || n == "cold-work" {
				name, factor = n, member0(a, "factor").(float64)
			}
		}
		if name != c.name || factor < c.low || factor > c.high {
			t.Errorf("%s at %v HBW: %s %v, want %s within %v to %v", c.grade, c.hbw, name, factor, c.name, c.low, c.high)
		}
	}
}
