package api

import (
	"context"
	"net/http"
	"strconv"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/finding"
	"swarf/domain/machine"
	"swarf/domain/plan"
	"swarf/domain/recommend"
	"swarf/domain/unit"
)

// planRoutes are the rows of plans.
func planRoutes() []route {
	return []route{{http.MethodPost, "/v1/plans", computation(planOne), computing, computeParameters, []format{formatJSON, formatText, formatValue, formatHTML, formatSVG, formatPNG, formatB2MML}}}
}

// Bounds of a plan.
const (
	mostPlanCuts  = 500
	mostPlanPairs = 2_000 // cuts times machines
	mostRepeats   = 100_000
	mostAllowance = 3_600 // seconds
)

// planning is a plan under way.
type planning struct {
	request  plan.Request
	cuts     []wire.PlanCut
	machines map[*machine.Machine]any // id, or index
	release  bool
	options  *ComputeOptions
}

// planOne answers POST /v1/plans.
func planOne(_ context.Context, snap *catalog.Snapshot, req *wire.PlanRequest, opt *ComputeOptions) (any, int, error) {
	p := &planning{cuts: req.Cuts, machines: map[*machine.Machine]any{}, release: req.Purpose == release, options: opt}
	p.read(snap, req)
	if len(opt.Faults.List) > 0 {
		return nil, 0, nil
	}
	made := plan.Of(&p.request)
	if opt.Draw {
		drawing, err := p.drawPlan(made, snap.Revision)
		return drawing, 0, err
	}
	out := p.answer(made)
	out.Units, out.DataRevision, out.ModelVersion = opt.System.String(), snap.Revision, estimate.ModelVersion
	out.Purpose = "what-if"
	if p.release {
		out.Purpose = release
	}
	count := len(made.Findings)
	for i := range made.Cuts {
		count += len(made.Cuts[i].Findings)
	}
	return out, count, nil
}

// read resolves the request; every fault of it is told.
func (p *planning) read(snap *catalog.Snapshot, req *wire.PlanRequest) {
	faults := p.options.Faults
	count := func(field string, have, most int) bool {
		if have > most {
			faults.Range(field, "there are {value}, at most {limit} are planned at once", unit.Of(unit.None, float64(have)), unit.Of(unit.None, float64(most)), "split the routing")
		}
		return have <= most
	}
	if len(req.Cuts) == 0 {
		faults.Missing("cuts", "a plan has cuts, in their order")
	}
	if !count("cuts", len(req.Cuts), mostPlanCuts) || !count("machines", len(req.Cuts)*len(req.Machines), mostPlanPairs) {
		return
	}
	for i := range req.Machines {
		m := machineOf(snap, &req.Machines[i], index("machines", i), faults)
		p.request.Machines = append(p.request.Machines, m)
		p.name(m, float64(i))
	}
	check := checker{faults: faults}
	for i := range req.Cuts {
		p.request.Steps = append(p.request.Steps, p.step(snap, i, check))
	}
	if a := req.Allowances; a != nil {
		second := func(name string, v *float64) unit.Opt {
			return check.opt("allowances."+name, v, bound{unit.Seconds, mostAllowance, true})
		}
		p.request.Allowances = plan.Allowances{ToolChangeSeconds: second("tool_change", a.ToolChange), ApproachSeconds: second("approach", a.Approach), PositioningSeconds: second("positioning", a.Positioning)}
	}
	if p.release {
		p.request.Judge = func(r *recommend.Recommendation) []domain.Finding {
			if r.Estimate == nil {
				return r.Findings
			}
			return finding.Closed(r.Findings, r.Estimate)
		}
	}
}

// step resolves one cut.
func (p *planning) step(snap *catalog.Snapshot, i int, check checker) plan.Step {
	w := &p.cuts[i]
	mine := &cut.Faults{}
	c := cutFromWire(snap, &w.Cut, cut.ToRecommend, mine)
	for _, e := range mine.List {
		e.Field = join(index("cuts", i), e.Field)
		check.faults.Any(e)
	}
	s := plan.Step{Cut: c, Count: 1, Setup: check.text(index("cuts", i)+".setup", w.Setup, longestName)}
	if n, ok := check.read(index("cuts", i)+".count", w.Count, bound{unit.None, mostRepeats, false}); ok {
		if s.Count = n; n != float64(int(n)) {
			check.faults.Range(index("cuts", i)+".count", "count is {value}; a cut is made a whole number of times", unit.Of(unit.None, n), nil, "send a whole number")
		}
	}
	if c.Machine != nil {
		p.name(c.Machine, float64(i))
	}
	return s
}

// name remembers what a machine is called in the answer.
func (p *planning) name(m *machine.Machine, otherwise any) {
	if m == nil {
		return
	}
	if p.machines[m] = otherwise; m.ID != "" {
		p.machines[m] = m.ID
	}
}

// ref is what a cut is called: its own ref, or its index from 0.
func (p *planning) ref(i int) any {
	if name := p.request.Steps[i].Cut.Ref; name != "" {
		return name
	}
	return float64(i)
}

// answer lays a plan out.
func (p *planning) answer(made *plan.Plan) *wire.Plan {
	system := p.options.System
	out := &wire.Plan{Verdict: string(made.Verdict()), Cuts: make([]wire.PlanResult, len(made.Cuts)), Machines: make([]wire.PlanMachine, len(made.Machines)),
		Edges: make([]wire.PlanEdges, len(made.Edges)), Margins: make([]wire.PlanMargin, len(made.Margins)), Findings: make([]wire.PlanFinding, len(made.Findings)),
		Assumed: assumedOf(made.Assumed, system), Unchecked: uncheckedOf(made.Unchecked)}
	for i := range made.Cuts {
		out.Cuts[i] = p.result(&made.Cuts[i])
	}
	for i := range made.Machines {
		t := &made.Machines[i]
		out.Machines[i] = wire.PlanMachine{Machine: p.machines[t.Machine], Cuts: t.CutsCount, ToolChanges: t.ToolChangesCount, Cutting: unit.Some(t.CuttingMinutes), Beside: unit.Some(t.BesideMinutes),
			Approach: unit.Some(t.ApproachMinutes), ToolChange: unit.Some(t.ToolChangeMinutes), Total: unit.Some(t.TotalMinutes()), Energy: t.EnergyKWh, Whole: t.Whole}
	}
	for i := range made.Edges {
		e := &made.Edges[i]
		out.Edges[i] = wire.PlanEdges{Tool: e.Tool.Class.ID, Material: e.Tool.Material, Share: unit.Some(e.ShareRatio), Count: e.Count}
		if d := e.Tool.CuttingDiameterMM; d != nil {
			out.Edges[i].Diameter = unit.Some(*d)
		}
		for _, step := range e.Steps {
			out.Edges[i].Cuts = append(out.Edges[i].Cuts, p.text(step))
		}
	}
	for i, m := range made.Margins {
		out.Margins[i] = wire.PlanMargin{Ref: p.ref(m.Step), Machine: p.machines[made.Cuts[m.Step].Machine], Limit: m.Limit, UtilisationWorn: unit.Some(m.UsedWornRatio)}
	}
	for i, f := range made.Findings {
		out.Findings[i] = wire.PlanFinding{Ref: p.ref(f.Step), From: p.ref(f.From), Finding: findingsOf([]domain.Finding{f.Finding}, system)[0]}
	}
	return out
}

func (p *planning) text(step int) string {
	if name, ok := p.ref(step).(string); ok {
		return name
	}
	return strconv.Itoa(step)
}

// result lays one cut out.
func (p *planning) result(c *plan.Chosen) wire.PlanResult {
	step, system := &p.request.Steps[c.Step], p.options.System
	own := *c.Answer
	own.Findings = c.Findings
	a := recommendationOf(&own, step.Cut, system)
	if p.options.Explain && own.Estimate != nil && !own.Refused {
		a.Explain = stepsOf(own.Estimate.Explain())
	}
	if p.options.Codes {
		a.Tool = toolUsed(&step.Cut.Tool, system)
	}
	if p.options.Window && own.Estimate != nil && !own.Refused {
		a.Window = windowOf(own.Estimate)
	}
	out := wire.PlanResult{Ref: p.ref(c.Step), Machine: p.machines[c.Machine], Setup: step.Setup, Count: step.Count, Answer: a}
	if t := &c.Time; t.CuttingMinutes.OK {
		out.Time = &wire.PlanTime{Cutting: t.CuttingMinutes, Beside: unit.Some(t.BesideMinutes), Approach: unit.Some(t.ApproachMinutes), ToolChange: unit.Some(t.ToolChangeMinutes), Total: t.TotalMinutes()}
	}
	return out
}
