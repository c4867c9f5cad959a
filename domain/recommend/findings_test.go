package recommend_test

import (
	"slices"
	"testing"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/machine"
	"swarf/domain/recommend"
)

// Each finding of recommendations themselves is raised by its cause, and silent without.
func TestFindingsOfRecommendations(t *testing.T) {
	turned := samples()["turning"]
	milled := samples()["milling"]
	on := func(m *machine.Machine, process string) func(*cut.Cut) {
		m.Process = process
		return func(c *cut.Cut) { c.Machine = m }
	}
	as := func(*cut.Cut) {}
	for _, x := range []struct {
		code         string
		severity     domain.Severity
		sample       func() *cut.Cut
		raise, spare func(*cut.Cut)
	}{
		{"speed-capped", domain.Warning, turned, on(spindle(50, 500, 200), machine.Turning), on(spindle(50, 500, 2000), machine.Turning)},
		// a twentieth of the diameter thins the chip by more than the record's feed makes up
		{"feed-capped", domain.Warning, milled, func(c *cut.Cut) { c.Engagement.RadialWidthMM = n(0.6) }, func(c *cut.Cut) { c.Engagement.RadialWidthMM = n(6) }},
		{"no-feasible-set", domain.Refusal, milled, on(spindle(0.9, 0.05, 12000), machine.Milling), on(spindle(50, 500, 12000), machine.Milling)},
		{"no-data", domain.Refusal, turned, func(c *cut.Cut) { c.Material.Starting.Served = nil }, as},
	} {
		has := func(change func(*cut.Cut)) bool {
			c := x.sample()
			change(c)
			return slices.ContainsFunc(recommend.Of(c).Findings, func(f domain.Finding) bool {
				return f.Code == x.code && f.Severity == x.severity && f.Message != ""
			})
		}
		if !has(x.raise) {
			t.Errorf("%s (%s) is not raised", x.code, x.severity)
		}
		if has(x.spare) {
			t.Errorf("%s (%s) is raised where nothing is wrong", x.code, x.severity)
		}
	}
}
