package api_test

import (
	"strings"
	"testing"
)

// A plastic without a force record of its own has no loads, and says so; its starting
// values and cautions are there. With one of its own, or with the caller's, it has loads.
func TestPlasticsAnswerByTheirOwnRecordAlone(t *testing.T) {
	h := embeddedService(t)
	cut := func(grade, more string) []byte {
		return []byte(`{"units":"metric","material":{"grade":"` + grade + `"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.8,"tool_material":"HW"},
			"engagement":{"work_diameter":60,"depth_of_cut":2},"parameters":{"cutting_speed":200,"feed_per_revolution":0.2}` + more + `}`)
	}
	for _, c := range []struct {
		grade, more string
		loads       bool
	}{
		{"PTFE", "", false}, {"polycarbonate", "", false}, {"PVC-U", "", false}, {"POM", "", true}, {"PTFE", `,"force_data":{"specific_cutting_energy":0.1}`, true},
	} {
		got := ask(t, h, "POST /v1/estimates", cut(c.grade, c.more))
		if got.status != 200 {
			t.Fatalf("%s: %d %s", c.grade, got.status, got.body)
		}
		_, has := member0(got.doc, "loads").(map[string]any)["cutting_force"]
		text := string(got.body)
		if has != c.loads || strings.Contains(text, `"code":"no-data","severity":"hold"`) == c.loads || !strings.Contains(text, `"code":"heat-in-plastic","severity":"warning"`) {
			t.Errorf("%s%s: loads %v\n%s", c.grade, c.more, has, text)
		}
	}
	got := ask(t, h, "POST /v1/recommendations", []byte(strings.Replace(string(cut("PTFE", "")), `"parameters":{"cutting_speed":200,"feed_per_revolution":0.2}`, `"ref":"x"`, 1)))
	if got.status != 200 || !strings.Contains(string(got.body), `"no-data"`) {
		t.Errorf("recommended: %d %s", got.status, got.body)
	}
}
