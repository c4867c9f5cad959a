package watch

import (
	"strings"
	"testing"
	"time"
)

// Every alert says how bad it is, for how long, and where the runbook speaks of it; every
// heading of the runbook is an alert.
func TestAlertsHaveTheirPage(t *testing.T) {
	headings := map[string]bool{}
	for _, line := range strings.Split(string(text(t, "runbook.md")), "\n") {
		if name, ok := strings.CutPrefix(line, "## "); ok {
			headings[name] = true
		}
	}
	for _, a := range Alerts(t) {
		if !headings[a.Alert] || a.Annotations["runbook"] != "runbook.md#"+strings.ToLower(a.Alert) || a.Annotations["summary"] == "" {
			t.Errorf("%s: %v", a.Alert, a.Annotations)
		}
		delete(headings, a.Alert)
		if s := a.Labels["severity"]; s != "page" && s != "ticket" {
			t.Errorf("%s: severity %q", a.Alert, s)
		}
		if a.For != "" {
			if _, err := time.ParseDuration(a.For); err != nil {
				t.Errorf("%s: %v", a.Alert, err)
			}
		}
	}
	for name := range headings {
		t.Errorf("the runbook speaks of %s, which is no alert", name)
	}
}

// A misspelt metric is found: the check behind it does not pass everything.
func TestExpressionsAreTakenApart(t *testing.T) {
	got := expression(t, "a test", `sum by (code) (rate(some_total{group="P", status!~"5.."}[5m])) / other`)
	if len(got.Metrics) != 2 || strings.Join(got.Metrics["some_total"], " ") != "group status code" || strings.Join(got.Metrics["other"], " ") != "code" {
		t.Errorf("%+v", got)
	}
}
