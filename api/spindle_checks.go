package api

import (
	"context"
	"slices"
	"strconv"
	"strings"
	"time"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/finding"
	"swarf/domain/machine"
	"swarf/domain/unit"
)

// release is the purpose that fails closed: whatever is unchecked counts as a hold.
const release = "release"

// pairing is the cuts and machines of one spindle check, resolved.
type pairing struct {
	cuts      []*cut.Cut
	machines  []*machine.Machine
	names     []any // of the machines: id, or index
	release   bool
	overrides []wire.Override
	spans     []span // of the pairs; nil for one
}

// checkSpindles answers "which of these machines can run it?" for every pair.
func checkSpindles(_ context.Context, snap *catalog.Snapshot, req *wire.SpindleCheck, opt *ComputeOptions) (any, int, error) {
	p := pair(snap, req, opt)
	if len(opt.Faults.List) > 0 {
		return nil, 0, nil
	}
	if opt.Draw {
		drawing, err := p.drawPairs(opt.Picture, snap.Revision, opt.System)
		return drawing, 0, err
	}
	if opt.Page && (opt.Picture != "" || len(p.cuts)*len(p.machines) == 1) {
		var err error
		if opt.Drawn, err = p.drawPairs(opt.Picture, snap.Revision, opt.System); opt.Picture != "" && err != nil {
			return nil, 0, err
		}
	}
	out := &wire.SpindleResults{Purpose: purposeOf(req), Overrides: req.Overrides}
	if !opt.Batch {
		out.Units, out.DataRevision, out.ModelVersion = opt.System.String(), snap.Revision, estimate.ModelVersion
	}
	out.Results = make([]wire.SpindleResult, len(p.cuts)*len(p.machines))
	p.spans = make([]span, len(out.Results))
	share(len(out.Results), func(at int) { p.result(&out.Results[at], at, opt.System) })
	if len(p.cuts) > 1 {
		out.Programs = p.programs()
	}
	count := 0
	for at := range out.Results {
		count += len(out.Results[at].Findings)
	}
	p.mendSome(out.Results, opt.System)
	return out, count, nil
}

// checkPair answers one item of a batch: one cut on one machine.
func checkPair(_ context.Context, snap *catalog.Snapshot, req *wire.SpindleCheck, opt *ComputeOptions) (any, int, error) {
	if req.Cuts != nil || req.Machines != nil {
		opt.Faults.Any(fault(domain.Invalid, "fields-conflict", "cuts", "an item of a batch is one cut and one machine", "send cut and machine; lists belong to /v1/spindle-checks"))
	}
	p := pair(snap, req, opt)
	if len(opt.Faults.List) > 0 {
		return nil, 0, nil
	}
	r := new(wire.SpindleResult)
	p.result(r, 0, opt.System)
	p.mend(r, 0, opt.Mend, opt.System)
	return r, len(r.Findings), nil
}

func purposeOf(req *wire.SpindleCheck) string {
	if req.Purpose == "" {
		return "what-if"
	}
	return req.Purpose
}

// pair resolves the cuts and machines of a request; a bad one refuses it.
func pair(snap *catalog.Snapshot, req *wire.SpindleCheck, opt *ComputeOptions) *pairing {
	faults := opt.Faults
	p := &pairing{release: req.Purpose == release, overrides: valid(req.Overrides, faults)}
	each := func(one, list string, single, many bool) {
		switch {
		case single && many:
			faults.Conflict(list, one+" and "+list+" are both given")
		case !single && !many:
			faults.Alternative(one, "a spindle check needs "+one+" or "+list, "give "+one+" or "+list)
		}
	}
	each("cut", "cuts", req.Cut != nil, len(req.Cuts) > 0)
	each("machine", "machines", req.Machine != nil, len(req.Machines) > 0)
	one := func(w *wire.Cut, prefix string) {
		mine := &cut.Faults{}
		if w.Machine != nil {
			mine.Conflict("machine", "the machines of a spindle check stand beside its cuts")
		}
		c := cutFromWire(snap, w, cut.ToEstimate, mine)
		for _, e := range mine.List {
			e.Field = prefix + "." + e.Field
			faults.Any(e)
		}
		p.cuts = append(p.cuts, c)
	}
	if req.Cut != nil {
		one(req.Cut, "cut")
	}
	for i := range req.Cuts {
		one(&req.Cuts[i], "cuts["+strconv.Itoa(i)+"]")
	}
	add := func(ref *wire.MachineRef, field string, at int) {
		m := machineOf(snap, ref, field, faults)
		var name any = float64(at)
		if m != nil && m.ID != "" {
			name = m.ID
		}
		p.machines, p.names = append(p.machines, m), append(p.names, name)
	}
	if req.Machine != nil {
		add(req.Machine, "machine", 0)
	}
	for i := range req.Machines {
		add(&req.Machines[i], "machines["+strconv.Itoa(i)+"]", i)
	}
	return p
}

// valid checks overrides: each names a code, a person and a reason, and has not run out.
func valid(list []wire.Override, faults *cut.Faults) []wire.Override {
	for i, o := range list {
		field := "overrides[" + strconv.Itoa(i) + "]"
		for _, need := range []struct{ name, value string }{{"code", o.Code}, {"by", o.By}, {"reason", o.Reason}} {
			if strings.TrimSpace(need.value) == "" {
				faults.Missing(field+"."+need.name, "an override names its "+need.name)
			}
		}
		if o.Until == "" {
			continue
		}
		until, err := time.Parse(time.RFC3339, o.Until)
		switch {
		case err != nil:
			faults.Any(fault(domain.Unreadable, "wrong-type", field+".until", "until is not an RFC 3339 time", "send a time such as 2026-12-31T12:00:00Z"))
		case until.Before(time.Now()):
			faults.Any(fault(domain.Invalid, "value-out-of-range", field+".until", "the override ran out at "+o.Until, "a named person decides again"))
		}
	}
	return list
}

// judge finds what is to be said of a pair; a release fails closed.
func (p *pairing) judge(e *estimate.Estimate) []domain.Finding {
	findings := finding.Judge(e)
	if p.release {
		findings = finding.Closed(findings, e)
	}
	return findings
}

// answered reports a hold that an override answers.
func (p *pairing) answered(code string) bool {
	return slices.ContainsFunc(p.overrides, func(o wire.Override) bool { return o.Code == code })
}

// span is how long a pair cuts, and whether over the continuous rating.
type span struct {
	minutes unit.Opt
	over    bool
}

// programs runs the cuts in their order on each machine.
func (p *pairing) programs() []wire.SpindleProgram {
	out := make([]wire.SpindleProgram, len(p.machines))
	for k, m := range p.machines {
		var run estimate.Program
		for i := range p.cuts {
			s := p.spans[i*len(p.machines)+k]
			run.Add(s.minutes, s.over)
		}
		out[k] = wire.SpindleProgram{Machine: p.names[k], Cutting: unit.Some(run.CuttingMinutes), OverContinuous: unit.Some(run.OverMinutes), Longest: unit.Some(run.LongestMinutes),
			Unknown: run.UnknownCount, AllowedBy: []string{}}
		if run.OverMinutes == 0 {
			out[k].Allowed, out[k].AllowedBy = true, append(out[k].AllowedBy, machine.Continuous.String())
			continue
		}
		for _, g := range m.Spindle.Gears {
			for _, r := range g.Ratings {
				if name := r.Duty.String(); run.Allowed(r.Duty) && !slices.Contains(out[k].AllowedBy, name) {
					out[k].Allowed, out[k].AllowedBy = true, append(out[k].AllowedBy, name)
				}
			}
		}
	}
	return out
}

// at is the cut and the machine of a pair: all machines of the first cut, then of the next.
func (p *pairing) at(pair int) (c *cut.Cut, asked, k int) {
	asked, k = pair/len(p.machines), pair%len(p.machines)
	own := *p.cuts[asked]
	own.Machine = p.machines[k]
	return &own, asked, k
}

// result holds one cut against one machine.
func (p *pairing) result(r *wire.SpindleResult, pair int, system unit.System) {
	c, asked, k := p.at(pair)
	e := estimate.Of(c)
	if p.spans != nil {
		p.spans[pair] = span{e.Time.CuttingMinutes, e.OverContinuous()}
	}
	findings := p.judge(e)
	without(findings, c.Material.Group)
	*r = wire.SpindleResult{Cut: float64(asked), Machine: p.names[k], Rating: e.Machine.Rating.String(), Binding: e.Machine.Binding(),
		Limits: machineLoadOf(e.Machine, system).Limits, Findings: findingsOf(findings, system), Unchecked: uncheckedOf(e.Unchecked)}
	r.Verdict = string(domain.VerdictOf(p.open(findings)))
	if c.Ref != "" {
		r.Cut = c.Ref
	}
	if e.Machine.Gear != nil {
		r.Gear = e.Machine.Gear.Name
	}
}

// open are the findings that no override answers; refusals always stay.
func (p *pairing) open(findings []domain.Finding) []domain.Finding {
	if len(p.overrides) == 0 {
		return findings
	}
	var out []domain.Finding
	for _, f := range findings {
		if f.Severity != domain.Hold || !p.answered(f.Code) {
			out = append(out, f)
		}
	}
	return out
}
