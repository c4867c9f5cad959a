package api_test

import (
	"net/http"
	"strings"
	"testing"
)

const laterItem = `{"ref":"a","material":{"grade":"C45"},"operation":"turning","tool":{"class":"turning-external"},"engagement":{"work_diameter":2,"depth_of_cut":0.1},"parameters":{"cutting_speed":500,"feed_per_revolution":0.01}}`

// What a batch is asked for later is what it is asked for now: units, fields, derivations.
func TestJobsAnswerAsBatchesDo(t *testing.T) {
	shop := newShop(t)
	h := shop.handler()
	const target = "/v1/estimates/batch?explain=true&codes=iso13399&fields=ref,loads.cutting_power,tool.class,explain"
	body := `{"units":"inch","items":[` + laterItem + `,
{"ref":"b",
"operation":"whittling"}]}`
	kept := call(t, h, http.MethodPost, target, body, asJSON, "Prefer: respond-async")
	if kept.status != http.StatusAccepted || kept.header.Get("Location") != "/v1/jobs/1" || kept.header.Get("Preference-Applied") != "respond-async" {
		t.Fatalf("%d %v %s", kept.status, kept.header, kept.body)
	}
	shop.work()
	lines := strings.Split(strings.TrimSuffix(string(call(t, h, http.MethodGet, "/v1/jobs/1/result", "").body), "\n"), "\n")
	now := string(call(t, h, http.MethodPost, target+"&units=inch", laterItem, "Content-Type: application/x-ndjson").body)
	if len(lines) != 2 || !strings.Contains(now, lines[0]) || !strings.Contains(lines[0], `"cutting_power"`) || !strings.Contains(lines[0], `"explain"`) || !strings.Contains(lines[0], `"tool":`) {
		t.Errorf("%s\nis not\n%s", lines, now)
	}
	if !strings.Contains(lines[1], `"ref":"b"`) || !strings.Contains(lines[1], "/problems/") {
		t.Errorf("%s", lines[1])
	}
}

func TestJobsAreRefused(t *testing.T) {
	h := newShop(t).handler()
	for name, c := range map[string]struct{ target, body, code string }{
		"without items":         {"/v1/estimates/batch", `{"units":"metric","items":[]}`, "field-missing"},
		"without a list":        {"/v1/estimates/batch", `{"units":"metric"}`, "field-missing"},
		"without units":         {"/v1/estimates/batch", `{"items":[` + laterItem + `]}`, "units-missing"},
		"of the floor's clock":  {"/v1/estimates/batch?valid_at=2026-01-01T00:00:00Z", `{"units":"metric","items":[` + laterItem + `]}`, "fields-conflict"},
		"of more than may come": {"/v1/estimates/batch", `{"units":"metric","items":[1` + strings.Repeat(",1", 500_000) + `]}`, "batch-too-large"},
	} {
		if got := call(t, h, http.MethodPost, c.target, c.body, asJSON, "Prefer: respond-async"); got.status/100 != 4 || !strings.Contains(string(got.body), c.code) {
			t.Errorf("%s: %d %.300s", name, got.status, got.body)
		}
	}
	if got := call(t, h, http.MethodGet, "/v1/jobs", ""); string(got.body) != "{\"items\":[],\"next_cursor\":null}\n" && !strings.Contains(string(got.body), `"items":[]`) {
		t.Errorf("something was kept: %s", got.body)
	}
	for _, at := range []string{"/v1/jobs/zero", "/v1/jobs/0", "/v1/jobs/7"} {
		if got := call(t, h, http.MethodGet, at, ""); got.status != http.StatusNotFound {
			t.Errorf("%s: %d %s", at, got.status, got.body)
		}
	}
	for _, query := range []string{"?cursor=-", "?cursor=0"} {
		if got := call(t, h, http.MethodGet, "/v1/jobs"+query, ""); !strings.Contains(string(got.body), "cursor") || got.status/100 != 4 {
			t.Errorf("%s: %d %s", query, got.status, got.body)
		}
	}
}
