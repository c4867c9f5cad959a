// Package plan runs a routing: cuts in their order, each with the best parameters on the
// machine that suits, what a cut leaves for those after it, and what the whole takes in
// time, energy and edges. It goes round packages recommend and finding.
package plan

import (
	"cmp"
	"slices"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/machine"
	"swarf/domain/recommend"
	"swarf/domain/unit"
)

// Step is one cut of a routing.
type Step struct {
	Cut   *cut.Cut // checked to be recommended; on its own machine where it names one
	Count float64  // how often it is made
	Setup string   // cuts of one set-up run on one machine; empty: alone
}

// Request is a routing with the machines to choose from and the times beside the cuts.
type Request struct {
	Steps      []Step
	Machines   []*machine.Machine
	Allowances Allowances
	// Judge turns what a recommendation found into what counts, such as for a release; nil:
	// it counts as it is.
	Judge func(*recommend.Recommendation) []domain.Finding
}

// Chosen is a step on the machine that was chosen for it.
type Chosen struct {
	Step     int
	Machine  *machine.Machine // nil: none was asked for
	Answer   *recommend.Recommendation
	Findings []domain.Finding
	Time     Time
}

// Plan is the answer.
type Plan struct {
	Cuts      []Chosen
	Machines  []Total
	Edges     []Edges
	Margins   []Margin // the weakest first
	Findings  []Carried
	Assumed   []domain.Assumption
	Unchecked []domain.Unchecked
}

// Of plans a routing.
//
// Range: one step or more. Errors: none; what cannot run has its refusals. Source: the
// contract's section 3.3.
func Of(r *Request) *Plan {
	p := &Plan{}
	r.Allowances.settle(p)
	p.Cuts = r.choose()
	p.carry(r)
	p.times(r)
	p.total(r)
	p.edges(r)
	p.margins()
	return p
}

// Verdict is that of the weakest cut and of what is carried between them.
func (p *Plan) Verdict() domain.Verdict {
	var all []domain.Finding
	for i := range p.Cuts {
		all = append(all, p.Cuts[i].Findings...)
	}
	for i := range p.Findings {
		all = append(all, p.Findings[i].Finding)
	}
	return domain.VerdictOf(all)
}

// choose puts each set-up on the machine where it fares best: first by the verdict of its
// weakest cut, then by the time of its cuts, then by the limit that is used most.
func (r *Request) choose() []Chosen {
	chosen := make([]Chosen, len(r.Steps))
	for _, group := range r.setups() {
		var best []Chosen
		for _, m := range r.candidates(group) {
			tried := make([]Chosen, len(group))
			for i, at := range group {
				tried[i] = r.try(at, m)
			}
			if best == nil || better(tried, best) {
				best = tried
			}
		}
		for i, at := range group {
			chosen[at] = best[i]
		}
	}
	return chosen
}

// setups groups the steps that run on one machine, in order.
func (r *Request) setups() [][]int {
	var groups [][]int
	at := map[string]int{}
	for i := range r.Steps {
		name := r.Steps[i].Setup
		k, there := at[name]
		if name == "" || !there {
			at[name] = len(groups)
			groups = append(groups, []int{i})
			continue
		}
		groups[k] = append(groups[k], i)
	}
	return groups
}

// candidates are the machines that a set-up may run on: the one that a cut of it names,
// else all; nil stands for none asked for.
func (r *Request) candidates(group []int) []*machine.Machine {
	for _, at := range group {
		if m := r.Steps[at].Cut.Machine; m != nil {
			return []*machine.Machine{m}
		}
	}
	if len(r.Machines) == 0 {
		return []*machine.Machine{nil}
	}
	return r.Machines
}

// try recommends a step on a machine. A machine that the cut names stays.
func (r *Request) try(at int, m *machine.Machine) Chosen {
	c := *r.Steps[at].Cut
	if c.Machine == nil {
		c.Machine = m
	}
	answer := recommend.Of(&c)
	out := Chosen{Step: at, Machine: c.Machine, Answer: answer, Findings: answer.Findings}
	if r.Judge != nil {
		out.Findings = r.Judge(answer)
	}
	return out
}

// better reports whether a set-up fares better than on another machine.
func better(a, b []Chosen) bool {
	x, y := standing(a), standing(b)
	return cmp.Or(cmp.Compare(x.verdict, y.verdict), cmp.Compare(x.minutes, y.minutes), cmp.Compare(x.used, y.used)) < 0
}

// rank is how a set-up fares on a machine; less is better.
type rank struct {
	verdict       int
	minutes, used float64
}

func standing(list []Chosen) rank {
	var out rank
	for i := range list {
		switch domain.VerdictOf(list[i].Findings) {
		case domain.No:
			out.verdict = max(out.verdict, 2)
		case domain.Conditional:
			out.verdict = max(out.verdict, 1)
		}
		e := list[i].Answer.Estimate
		if e == nil {
			continue
		}
		if t := e.Time.TotalMinutes(); t.OK {
			out.minutes += t.V
		} else if rate := e.Motion.FeedRateMMPerMin; rate > 0 {
			out.minutes += 1 / rate // the faster of two without a path
		}
		if e.Machine != nil {
			for k := range e.Machine.Limits {
				out.used = max(out.used, e.Machine.Limits[k].UtilisationWorn)
			}
		}
	}
	return out
}

// Margin is how near a cut comes to its limit with the worn edge.
type Margin struct {
	Step          int
	Limit         string
	UsedWornRatio float64
}

// margins lists what binds each cut, the weakest first.
func (p *Plan) margins() {
	for i := range p.Cuts {
		e := p.Cuts[i].Answer.Estimate
		if e == nil || e.Machine == nil {
			continue
		}
		if l, ok := e.Machine.Limit(e.Machine.Binding()); ok {
			p.Margins = append(p.Margins, Margin{Step: i, Limit: l.Name, UsedWornRatio: l.UtilisationWorn})
		}
	}
	slices.SortStableFunc(p.Margins, func(a, b Margin) int { return cmp.Compare(b.UsedWornRatio, a.UsedWornRatio) })
}

// absent is a number that is not known.
var absent = unit.Opt{}
