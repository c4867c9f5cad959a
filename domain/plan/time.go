package plan

import (
	"slices"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/machine"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// Allowances are the times beside the cuts: to change the tool, to come up to the work and
// leave it, once a cut, and to go from one place to the next.
type Allowances struct{ ToolChangeSeconds, ApproachSeconds, PositioningSeconds unit.Opt }

// What is taken where nothing was said. Common practice, no source.
const (
	approachSeconds    = 3
	positioningSeconds = 2
)

// settle takes for granted what was not said, and says so.
func (a *Allowances) settle(p *Plan) {
	take := func(o *unit.Opt, name string, seconds float64) {
		if !o.OK {
			*o = unit.Some(seconds)
			p.Assumed = append(p.Assumed, domain.Assumption{Field: "allowances." + name, Number: unit.Of(unit.Seconds, seconds), Why: "common practice for a machining centre"})
		}
	}
	take(&a.ApproachSeconds, "approach", approachSeconds)
	take(&a.PositioningSeconds, "positioning", positioningSeconds)
}

// Time is what a step takes, in minutes, made as often as it is.
type Time struct {
	CuttingMinutes    unit.Opt // absent without a path
	BesideMinutes     float64  // entry, retract, pecks: the cut's own allowances
	ApproachMinutes   float64  // coming up and going from place to place
	ToolChangeMinutes float64
	ToolChanged       bool
}

// TotalMinutes is all of it, absent without a path.
func (t *Time) TotalMinutes() unit.Opt {
	if !t.CuttingMinutes.OK {
		return absent
	}
	return unit.Some(t.CuttingMinutes.V + t.BesideMinutes + t.ApproachMinutes + t.ToolChangeMinutes)
}

// times works out what each step takes.
func (p *Plan) times(r *Request) {
	inHand := map[*machine.Machine]*cut.Cut{} // the tool in each spindle, by the cut it last made
	unsaid := map[string]bool{}
	for i := range p.Cuts {
		chosen, step := &p.Cuts[i], &r.Steps[i]
		t := &chosen.Time
		t.ApproachMinutes = (r.Allowances.ApproachSeconds.V*step.Count + r.Allowances.PositioningSeconds.V*(step.Count-1)) / 60
		if before := inHand[chosen.Machine]; before == nil || !SameTool(&before.Tool, &step.Cut.Tool) {
			t.ToolChanged = true
			switch seconds := r.Allowances.ToolChangeSeconds; {
			case seconds.OK:
				t.ToolChangeMinutes = seconds.V / 60
			case chosen.Machine != nil && chosen.Machine.ToolChangeSeconds.OK:
				t.ToolChangeMinutes = chosen.Machine.ToolChangeSeconds.V / 60
			case !unsaid[nameOf(chosen.Machine)]:
				unsaid[nameOf(chosen.Machine)] = true
				p.Unchecked = append(p.Unchecked, domain.Unchecked{Check: "tool_change", Needs: "allowances.tool_change, or the tool change time of " + nameOf(chosen.Machine)})
			}
		}
		inHand[chosen.Machine] = step.Cut
		e := chosen.Answer.Estimate
		if e == nil || chosen.Answer.Refused || !e.Time.CuttingMinutes.OK {
			p.Unchecked = append(p.Unchecked, domain.Unchecked{Check: "time of " + p.ref(r, i), Needs: needsOf(e, chosen.Answer.Refused)})
			continue
		}
		t.CuttingMinutes = unit.Some(e.Time.CuttingMinutes.V * step.Count)
		t.BesideMinutes = (e.Time.TotalMinutes().V - e.Time.CuttingMinutes.V) * step.Count
	}
}

func needsOf(e *estimate.Estimate, refused bool) string {
	if e == nil || refused {
		return "parameters, which were refused"
	}
	return "engagement.length, the way at feed"
}

// SameTool reports two cuts with one tool: nothing that was said of it, or taken for
// granted, differs.
func SameTool(a, b *tool.Tool) bool {
	if a.Class != b.Class || a.Material != b.Material || a.Body != b.Body || a.Arrangement != b.Arrangement {
		return false
	}
	return !slices.ContainsFunc(tool.Fields, func(f tool.Field) bool {
		x, y := *f.Of(a), *f.Of(b)
		return (x == nil) != (y == nil) || x != nil && *x != *y
	})
}

func nameOf(m *machine.Machine) string {
	if m == nil {
		return "the machine"
	}
	if m.ID == "" {
		return "the machine that was sent"
	}
	return m.ID
}

// ref is what a step is called: its own key, or its place.
func (p *Plan) ref(r *Request, i int) string {
	if name := r.Steps[i].Cut.Ref; name != "" {
		return name
	}
	return "cuts[" + itoa(i) + "]"
}
