package ways

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/cut/cuttest"
	"swarf/domain/estimate"
	"swarf/domain/finding"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// plain judges as a what-if that nobody has answered.
var plain = Judge{Answered: func(string) bool { return false }, Open: finding.Judge}

// overloaded draws a cut of any operation on a machine that may be too weak for it, in steel
// or in metal that hardens.
func overloaded(t *rapid.T) *cut.Cut {
	name := rapid.SampledFrom(append(cut.Names(), "twist", "twist", "thread-turning", "thread-turning")).Draw(t, "operation")
	c := twist()
	if name != "twist" {
		c = cuttest.Of(name)
	}
	factor := func(what string) float64 { return math.Exp(rapid.Float64Range(-1.5, 1.5).Draw(t, what)) }
	c.Machine = spindle(5*factor("power"), 20*factor("torque"), 6000*factor("speed"))
	c.Machine.Axes.MaxFeedForceN = unit.Some(3000 * factor("thrust"))
	yes := true
	c.Machine.SynchronousTapping = &yes
	if c.Operation.Family == cut.TurningFamily {
		c.Machine.Process = "turning"
	}
	if rapid.Bool().Draw(t, "hardens") {
		c.Material.Group = material.M
	}
	if f := c.Parameters.FeedPerRevolutionMM; f != nil {
		*f *= factor("feed")
	}
	if f := c.Parameters.FeedPerToothMM; f != nil {
		*f *= factor("feed")
	}
	*c.Parameters.CuttingSpeedMPerMin *= factor("cutting speed")
	return c
}

// verdictAt judges a cut with a lever at a value whole, the pilot of that size with it.
func verdictAt(e *estimate.Estimate, l *lever, to float64) domain.Verdict {
	open := finding.Judge(estimate.Of(l.at(e.Cut, to)))
	if l.pilot {
		open = append(open, finding.Judge(estimate.Of(pilotCut(e, to)))...)
	}
	return domain.VerdictOf(open)
}

var rank = map[domain.Verdict]int{domain.No: 0, domain.Conditional: 1, domain.Yes: 2}

// Whatever the operation: a yes is told nothing; every lever of another cut is told once; a
// way gives its verdict and is better than what was asked; no chip under the least is thinner
// than as asked; and where a lever has no way, no value of it is better unless it rubs or has
// no gear.
func TestEveryLeverIsTold(t *testing.T) {
	seen := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		for range 5 {
			e := estimate.Of(overloaded(t))
			asked := domain.VerdictOf(finding.Judge(e))
			found, none := Of(e, plain)
			if (asked == domain.Yes) != (len(found)+len(none) == 0) {
				t.Fatalf("%v is told %v and %v", asked, found, none)
			}
			for i := range found {
				w := &found[i]
				l := leverOf(t, e, w.Lever, w.Field)
				seen[w.Lever]++
				if got := verdictAt(e, l, w.To); got != w.Verdict || rank[got] <= rank[asked] {
					t.Fatalf("%s: %+v is %v after %v", e.Cut.Operation.Name, *w, got, asked)
				}
				after := estimate.Of(l.at(e.Cut, w.To))
				if h := after.Chip.ThicknessMaxMM; h > 0 && h < finding.MinimumChipMM(e.Cut) && h < e.Chip.ThicknessMaxMM*(1-1e-9) {
					t.Fatalf("%s: %+v rubs with %v", e.Cut.Operation.Name, *w, h)
				}
				if after.Machine.Gear == nil {
					t.Fatalf("%s: %+v is in no gear", e.Cut.Operation.Name, *w)
				}
				if i > 0 && w.TimeRatio < found[i-1].TimeRatio {
					t.Fatalf("%+v comes after %+v", *w, found[i-1])
				}
			}
			checkNone(t, e, asked, none, seen)
		}
	})
	t.Log(seen)
	for _, what := range []string{"speed", "feed", "depth", "width", "gear", "passes", "tool", whyStands, whyBetween} {
		if seen[what] == 0 {
			t.Errorf("%s was never seen", what)
		}
	}
}

// checkNone tries levers without a way at any value.
func checkNone(t *rapid.T, e *estimate.Estimate, asked domain.Verdict, none []NoWay, seen map[string]int) {
	share := rapid.Float64Range(0, 1).Draw(t, "share")
	for _, said := range none {
		seen[said.Why]++
		if len(said.Codes) == 0 || said.Why == whyFixed {
			continue
		}
		for _, name := range said.Levers {
			l := leverOf(t, e, name, "")
			for _, ratio := range []float64{l.low, l.high} {
				way := l.steps(ratio)
				if len(way) == 0 {
					continue
				}
				to := way[int(share*float64(len(way)-1))]
				after := estimate.Of(l.at(e.Cut, to))
				if gear := after.Machine.Gear; gear == nil || l.gear != nil && !l.gear(gear) {
					continue
				}
				codes := codesFrom(finding.Judge(after), domain.Hold)
				rubs := after.Chip.ThicknessMaxMM < finding.MinimumChipMM(e.Cut) || slices.Contains(codes, tooThin) || slices.Contains(codes, underSkin)
				if l.pilot {
					first := estimate.Of(pilotCut(e, to))
					rubs = rubs || first.Chip.ThicknessMaxMM < finding.MinimumChipMM(first.Cut)
				}
				if got := verdictAt(e, l, to); rank[got] > rank[asked] && !rubs {
					t.Fatalf("%s: %v of %v is %v after %v, and %+v", e.Cut.Operation.Name, name, to, got, asked, said)
				}
				if said.Why == whyStands && !l.pilot && slices.ContainsFunc(said.Codes, func(code string) bool { return !slices.Contains(codes, code) }) {
					t.Fatalf("%s: at %v of %v stand %v, not %+v", e.Cut.Operation.Name, name, to, codes, said)
				}
			}
		}
	}
}

// leverOf finds a lever of an estimate by its name, and its field where that is known.
func leverOf(t interface{ Fatalf(string, ...any) }, e *estimate.Estimate, name, field string) *lever {
	all := levers(e)
	for i := range all {
		if all[i].name == name && (field == "" || all[i].field == field) {
			return &all[i]
		}
	}
	t.Fatalf("no lever %s of %s", name, e.Cut.Operation.Name)
	return nil
}

// A layer is never thinner than the least chip, though a machine be far too weak.
func TestLayersAreNoThinnerThanAChip(t *testing.T) {
	c := cuttest.Milling()
	c.Engagement.RadialWidthMM = n(0.5)
	for _, l := range layers(c) {
		if least := l.from * l.low; least < finding.MinimumChipMM(c)*(1-1e-9) {
			t.Errorf("%s goes down to %v", l.field, least)
		}
	}
}

// A twist drill of high-speed steel may follow a pilot hole of its chisel edge at least and
// half its diameter at most; other drills, and holes that are there, may not.
func TestPilots(t *testing.T) {
	ask := func(c *cut.Cut) []lever {
		c.Machine = spindle(5, 20, 6000)
		return pilots(estimate.Of(c))
	}
	list := ask(twist())
	if len(list) != 1 || list[0].values[0] != 3.6 || list[0].values[len(list[0].values)-1] != 10 {
		t.Fatalf("20 mm: %+v", list)
	}
	own := twist()
	own.Tool.ChiselRatio = n(0.1)
	if list = ask(own); list[0].values[0] != 2 {
		t.Errorf("a thinned point: from %v", list[0].values[0])
	}
	coated, bored := twist(), twist()
	coated.Tool.Material = "HC"
	bored.Engagement.StartDiameterMM = n(8)
	for name, c := range map[string]*cut.Cut{"carbide": cuttest.Drilling(), "carbide of a twist drill": coated, "a hole that is there": bored, "milling": cuttest.Milling()} {
		if list := ask(c); len(list) != 0 {
			t.Errorf("%s: %+v", name, list)
		}
	}
}

// A pilot is priced with the time that it takes itself.
func TestPilotTakesTime(t *testing.T) {
	c := twist()
	c.Machine = spindle(50, 500, 6000)
	c.Machine.Axes.MaxFeedForceN = unit.Some(4000)
	e := estimate.Of(c)
	found, _ := Of(e, plain)
	at := slices.IndexFunc(found, func(w Way) bool { return w.Pilot != nil })
	if at < 0 {
		t.Fatalf("no pilot: %+v", found)
	}
	w := &found[at]
	after := c.Engagement
	after.StartDiameterMM = &w.To
	main := *c
	main.Engagement = after
	want := (estimate.Of(&main).Time.CuttingMinutes.V + w.Pilot.CuttingMinutes.V) / e.Time.CuttingMinutes.V
	if math.Abs(w.TimeRatio-want) > 1e-9 || w.Lever != "passes" || w.Pilot.DiameterMM != w.To || w.Pilot.CuttingMinutes.V <= 0 {
		t.Errorf("%+v with %+v, want %v", *w, *w.Pilot, want)
	}
	if f, share := w.Pilot.FeedPerRevolutionMM, w.To/20; math.Abs(f-0.3*share) > 1e-9 || math.Abs(w.Pilot.CuttingSpeedMPerMin-25) > 1e-9 {
		t.Errorf("a pilot of %+v", *w.Pilot)
	}
}
