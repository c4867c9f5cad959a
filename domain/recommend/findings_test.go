package recommend_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

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

// A tolerance makes a chosen depth or width smaller until the tool bends less than half of
// it, the more so the surer it shall be; what the caller fixed stays and is judged.
func TestToleranceBoundsTheChosenCut(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		tolerance := rapid.Float64Range(0.01, 0.2).Draw(r, "tolerance")
		sure := rapid.Float64Range(0.5, 0.99).Draw(r, "confidence")
		of := func(confidence float64) *recommend.Recommendation {
			c := samples()["open milling"]()
			c.Tool.ProtrudingLengthMM, c.Tool.ShankDiameterMM, c.Tool.MaxDepthOfCutMM = n(60), n(12), n(30)
			c.Target.ToleranceMM, c.Confidence = n(tolerance), confidence
			return recommend.Of(c)
		}
		x := of(sure)
		if x.Refused {
			r.Fatalf("refused: %+v", x.Findings)
		}
		bends := x.Estimate.Deflection.ToolMM.V * x.Estimate.WearRatio * x.Estimate.Quantile(sure)
		if bends > tolerance/2*(1+1e-9) && !springs(x) {
			r.Fatalf("bends by %v at a tolerance of %v, and nothing says so; bound by %s", bends, tolerance, x.BoundBy)
		}
		if tolerance > 0.18 && springs(x) {
			r.Fatalf("a tolerance of %v can be met: %+v", tolerance, x.Findings)
		}
		if surer := of(min(0.99, sure+0.05)); !springs(surer) && surer.Estimate.Sharp.RemovalCM3PerMin > x.Estimate.Sharp.RemovalCM3PerMin*(1+1e-3) {
			r.Fatalf("%v cm3/min at %v, more when surer", x.Estimate.Sharp.RemovalCM3PerMin, sure)
		}
	})
	c := samples()["milling"]()
	c.Tool.ProtrudingLengthMM, c.Target.ToleranceMM = n(60), n(0.01)
	fixed := recommend.Of(c)
	if fixed.Refused || !springs(fixed) || *fixed.Estimate.Cut.Engagement.AxialDepthMM != 10 {
		t.Errorf("a fixed cut: refused %v, held %v", fixed.Refused, springs(fixed))
	}
}

// A tolerance that nothing meets is held, and does not hide what a machine can be spared.
func TestToleranceGivesWayToLimits(t *testing.T) {
	c := samples()["open milling"]()
	c.Tool.ProtrudingLengthMM, c.Tool.ShankDiameterMM, c.Tool.MaxDepthOfCutMM = n(60), n(12), n(30)
	c.Target.ToleranceMM, c.Machine = n(0.002), spindle(1.5, 500, 12000)
	x := recommend.Of(c)
	if x.Refused || !springs(x) || x.BoundBy != "power" {
		t.Errorf("refused %v, held %v, bound by %s: %+v", x.Refused, springs(x), x.BoundBy, x.Findings)
	}
}

func springs(r *recommend.Recommendation) bool {
	return slices.ContainsFunc(r.Findings, func(f domain.Finding) bool { return f.Code == "tool-deflection-high" && f.Severity == domain.Hold })
}
