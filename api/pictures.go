package api

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"swarf/api/picture"
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/plan"
	"swarf/domain/unit"
)

// drawn reports a format that is a picture.
func (f format) drawn() bool { return f == formatSVG || f == formatPNG }

// pictured draws what a page of a cut shows: what was asked for, else what there is.
func (o *ComputeOptions) pictured(e *estimate.Estimate, findings []domain.Finding, revision int64) (err error) {
	if !o.Page || e == nil {
		return nil
	}
	if o.Drawn, err = pictureOf(e, o.Picture, aboutCut(e, findings, revision, o.System)); o.Picture == "" {
		return nil // a cut without a picture has a page all the same
	}
	return err
}

// draw writes a picture.
func (x *exchange) draw(p *picture.Picture) error {
	return x.send(http.StatusOK, x.format.contentType(), x.bytes(p))
}

func (x *exchange) bytes(p *picture.Picture) []byte {
	if x.format == formatSVG {
		return p.SVG()
	}
	return p.PNG()
}

// drawReading is draw for what has a tag.
func (x *exchange) drawReading(p *picture.Picture) error {
	body := x.bytes(p)
	tag := etag(x.format.contentType(), body)
	h := x.Response().Header()
	h.Set("ETag", tag)
	h.Set("Cache-Control", "no-cache")
	if notModified(x.Request(), tag) {
		x.Response().WriteHeader(http.StatusNotModified)
		return nil
	}
	return x.send(http.StatusOK, x.format.contentType(), body)
}

// depiction is one picture that can be drawn of a cut: why it cannot be of this one, empty
// where it can; what to do then; and how it is drawn.
type depiction struct {
	name string
	not  func(*estimate.Estimate) (why, fix string)
	draw func(*estimate.Estimate, picture.About) *picture.Picture
}

// depictions are those of a cut, the first that can be drawn by default.
var depictions = []depiction{
	{"spindle", withoutMachine, func(e *estimate.Estimate, a picture.About) *picture.Picture {
		return picture.Spindle(e.Cut.Machine, e, a)
	}},
	{"revolution", withoutTurn, picture.Revolution},
	{"region", withoutRegion, picture.Region},
	{"limits", withoutMachine, func(e *estimate.Estimate, a picture.About) *picture.Picture {
		return picture.Bars("How far each limit is used", barsOf(e), a)
	}},
}

func depictionNames() string {
	names := make([]string, len(depictions))
	for i := range depictions {
		names[i] = depictions[i].name
	}
	return strings.Join(names, ", ")
}

func withoutMachine(e *estimate.Estimate) (why, fix string) {
	if e.Cut.Machine == nil {
		return "the cut has no machine, and this draws the limits of one", "name a machine"
	}
	return "", ""
}

func withoutTurn(e *estimate.Estimate) (why, fix string) {
	switch {
	case e.Cut.Operation.Family != cut.MillingFamily:
		return e.Cut.Operation.Name + " does not pulse with the teeth of a mill", "take another picture"
	case !e.HasLoads:
		return noLoads, sendForce
	case e.Turn(2) == nil:
		return "in " + e.Cut.Operation.Name + " the teeth do not cut with the rim, and no forces by angle are computed", "take another picture"
	}
	return "", ""
}

func withoutRegion(e *estimate.Estimate) (why, fix string) {
	switch {
	case e.Cut.Operation.FeedIsPitch:
		return "the feed of " + e.Cut.Operation.Name + " is its pitch, so that there is no choice of feed", "take another picture"
	case !e.HasLoads:
		return noLoads, sendForce
	}
	return "", ""
}

const (
	noLoads   = "no record gives a load for this cut"
	sendForce = "send force_data"
)

// pictureOf draws a computed cut: what the parameter picture names, else the first that
// there is. What cannot be drawn of it is a fault.
func pictureOf(e *estimate.Estimate, name string, about picture.About) (*picture.Picture, error) {
	var all []string
	for _, d := range depictions {
		if name != "" && d.name != name {
			continue
		}
		why, fix := d.not(e)
		if why == "" {
			return d.draw(e, about), nil
		}
		if name != "" {
			return nil, noPicture("there is no picture "+name+" of this cut: "+why, fix)
		}
		all = append(all, d.name+": "+why)
	}
	if name != "" {
		return nil, noSuchPicture(name)
	}
	return nil, noPicture("there is no picture of this cut ("+strings.Join(all, "; ")+")", "name a machine")
}

func noSuchPicture(name string) error {
	return fault(domain.Invalid, "value-out-of-range", "picture", "there is no picture "+quoteClipped(name), "take one of "+depictionNames())
}

func noPicture(what, fix string) error {
	return fault(domain.Invalid, "picture-impossible", "picture", what, fix)
}

// barOf is how far one limit is used.
func barOf(name string, l *estimate.Limit) picture.Bar {
	return picture.Bar{Name: name, Sharp: unit.Some(l.Utilisation), Worn: unit.Some(l.UtilisationWorn)}
}

// spaced is the name of a limit in words.
func spaced(name string) string { return strings.ReplaceAll(name, "_", " ") }

// barsOf are the limits of a cut.
func barsOf(e *estimate.Estimate) []picture.Bar {
	bars := make([]picture.Bar, len(e.Machine.Limits))
	for i := range bars {
		l := &e.Machine.Limits[i]
		bars[i] = barOf(spaced(l.Name), l)
		bars[i].Binding = l.Binding
	}
	return bars
}

// mostBars is how many bars are drawn in one picture.
const mostBars = 60

// drawPlan draws the margins of a plan, the weakest first.
func (p *planning) drawPlan(made *plan.Plan, revision int64) (*picture.Picture, error) {
	if len(made.Margins) == 0 {
		return nil, noPicture("no cut of the plan has a limit to show", "name machines")
	}
	var bars []picture.Bar
	for _, m := range made.Margins[:min(mostBars, len(made.Margins))] {
		l, _ := made.Cuts[m.Step].Answer.Estimate.Machine.Limit(m.Limit)
		bars = append(bars, barOf(p.text(m.Step)+": "+spaced(m.Limit), l))
	}
	head := fmt.Sprintf("%d cuts, the weakest first", len(made.Margins))
	if len(made.Margins) > mostBars {
		head = fmt.Sprintf("the weakest %d of %d cuts, the weakest first", mostBars, len(made.Margins))
	}
	about := picture.About{System: p.options.System, Head: []string{head}, Result: verdictInWords(made.Verdict(), nil), Foot: feet(revision)}
	return picture.Bars("How far the limit that binds each cut is used", bars, about), nil
}

// drawPairs draws a spindle check: of one pair what is drawn of a cut, of several how far the
// limit that binds each is used.
func (p *pairing) drawPairs(name string, revision int64, system unit.System) (*picture.Picture, error) {
	pairs := len(p.cuts) * len(p.machines)
	if pairs == 1 {
		c, _, _ := p.at(0)
		e := estimate.Of(c)
		return pictureOf(e, name, aboutCut(e, p.open(p.judge(e)), revision, system))
	}
	switch {
	case name != "" && name != "limits":
		if !slices.ContainsFunc(depictions, func(d depiction) bool { return d.name == name }) {
			return nil, noSuchPicture(name)
		}
		return nil, noPicture(fmt.Sprintf("there are %d pairs of cut and machine, and %s is drawn of one", pairs, name), "ask for one cut and one machine, or for picture=limits")
	case pairs > mostBars:
		return nil, noPicture(fmt.Sprintf("there are %d pairs of cut and machine, and at most %d are drawn in one picture", pairs, mostBars), "ask for fewer cuts or machines")
	}
	bars := make([]picture.Bar, 0, pairs)
	worst := domain.Yes
	for at := range pairs {
		c, asked, k := p.at(at)
		e := estimate.Of(c)
		verdict := domain.VerdictOf(p.open(p.judge(e)))
		if verdict == domain.No || worst == domain.Yes {
			worst = verdict
		}
		who := c.Ref
		if who == "" {
			who = fmt.Sprintf("cut %d", asked)
		}
		machine := c.Machine.ID
		if machine == "" {
			machine = fmt.Sprintf("machine %d", k)
		}
		if l, ok := e.Machine.Limit(e.Machine.Binding()); ok {
			bars = append(bars, barOf(fmt.Sprintf("%s on %s: %s, %s", who, machine, verdict, spaced(l.Name)), l))
		}
	}
	about := picture.About{System: system, Head: []string{fmt.Sprintf("%d cuts on %d machines, each pair with its verdict and its binding limit", len(p.cuts), len(p.machines))}, Foot: feet(revision)}
	return picture.Bars("How far the limit that binds each pair is used", bars, about), nil
}
