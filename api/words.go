package api

import (
	"math"
	"net/http"
	"strconv"
	"strings"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/unit"
	"swarf/domain/word"
)

// wordParameters say what the control reads: steps in the caller's units, and whether the
// feed is a rate or one per revolution.
var wordParameters = []string{"feed_mode", "speed_step", "feed_step"}

// words answers with one block of a part program (ISO 6983-1): S and F rounded to the
// control's steps, held against every limit again, and the modes in a comment.
func (x *exchange) words(a *wire.Answer, opt *ComputeOptions) error {
	e := opt.Made
	if a.Verdict == string(domain.No) || e == nil {
		h := &holding{}
		h.answer("", a)
		return x.noWords(h.faults, "the cut is refused")
	}
	steps, say, err := x.steps(e.Cut)
	if err != nil {
		return err
	}
	w, broken, ok := word.Of(e, steps)
	if !ok {
		h := &holding{}
		h.findings("", findingsOf(broken, x.system))
		return x.noWords(h.faults, "rounded to these steps, speed and feed break a limit")
	}
	feed := w.FeedRateMMPerMin
	if steps.PerRevolution {
		feed = w.FeedPerRevolutionMM
	}
	line := "S" + inSteps(w.SpindleSpeedPerMin, say.speed) + " F" + inSteps(say.feedIs.FromMetric(x.system, feed), say.feed) +
		" " + comment(say.modes, a.Operation, grade(a), "ref "+a.Ref, "data "+strconv.FormatInt(a.DataRevision, 10), "model "+a.ModelVersion)
	if w.Up {
		line += " " + comment("rounded up", "down breaks a limit")
	}
	var holds []string
	for _, f := range a.Findings { // rounding adds none
		if f.Severity == domain.Hold.String() {
			holds = append(holds, "hold "+f.Code)
		}
	}
	if len(holds) > 0 {
		line += " " + comment(holds...)
	}
	return x.send(http.StatusOK, formatWords.contentType(), append(wire.ASCII(line), '\n'))
}

// noWords is the problem of a cut of which no block is made.
func (x *exchange) noWords(faults []wire.Fault, why string) error {
	return &holding{faults: faults, code: "no-words", why: why}
}

// grade is how the material is called.
func grade(a *wire.Answer) string {
	if a.Material.Name != "" {
		return a.Material.Name
	}
	return "group " + a.Material.Group
}

// saying is how words are written, in the caller's units.
type saying struct {
	speed, feed float64 // steps
	feedIs      unit.Quantity
	modes       string
}

// Steps that are taken when the caller and the control state none: of the spindle, of a rate
// and of a feed per revolution, in the caller's units.
var usualSteps = map[unit.System][3]float64{unit.Metric: {1, 1, 0.001}, unit.Inch: {1, 0.1, 0.0001}}

// steps reads feed_mode, speed_step and feed_step.
func (x *exchange) steps(c *cut.Cut) (word.Steps, saying, error) {
	faults := &cut.Faults{}
	mode := checker{faults: faults}.word("feed_mode", x.query.text("feed_mode"), "per-minute", "per-revolution")
	s := word.Steps{PerRevolution: mode == "per-revolution" || mode == "" && (c.Operation.FeedIsPitch || turns(c))}
	usual := usualSteps[x.system]
	control := &c.Control
	say := saying{feedIs: unit.FeedRate, modes: "G97 rev/min, G94 mm/min"}
	say.speed = x.step("speed_step", control.SpeedResolutionPerMin, unit.Rotation, usual[0], faults)
	if s.PerRevolution {
		say.feedIs, say.modes = unit.Length, "G97 rev/min, G95 mm/rev"
		say.feed = x.step("feed_step", nil, unit.Length, usual[2], faults)
	} else {
		say.feed = x.step("feed_step", control.FeedResolutionMMPerMin, unit.FeedRate, usual[1], faults)
	}
	if x.system == unit.Inch {
		say.modes = strings.ReplaceAll(say.modes, "mm/", "in/")
	}
	s.SpeedPerMin = say.speed
	s.FeedMMPerMin, s.PerRevolutionMM = unit.FeedRate.ToMetric(x.system, say.feed), unit.Length.ToMetric(x.system, say.feed)
	return s, say, faults.List.OrNil()
}

// step is the step of a word in the caller's units: the one asked for, else the control's,
// else the usual one.
func (x *exchange) step(name string, control *float64, q unit.Quantity, usual float64, faults *cut.Faults) float64 {
	text := x.query.text(name)
	if text == "" {
		if control != nil {
			return q.FromMetric(x.system, *control)
		}
		return usual
	}
	v, ok := wire.ReadNumber(text)
	switch {
	case !ok:
		faults.Any(fault(domain.Unreadable, "wrong-type", name, name+" is "+quoteClipped(text)+", where a number belongs", "send a number without unit"))
		return usual
	case v <= 0 || v > 1000:
		faults.Any(fault(domain.Invalid, "value-out-of-range", name, name+" is "+clip(text)+"; a step is above 0, at most 1000", "send the least step of the word, such as 1"))
		return usual
	}
	return v
}

// turns reports a cut on a lathe, whose feeds are said per revolution.
func turns(c *cut.Cut) bool {
	return c.Operation.Family == cut.TurningFamily || c.Machine != nil && c.Machine.Process == "turning"
}

// inSteps writes a number that is whole steps, with the decimals of the step.
func inSteps(v, step float64) string {
	text := strconv.FormatFloat(step, 'f', -1, 64)
	_, decimals, _ := strings.Cut(text, ".")
	return strconv.FormatFloat(math.Round(v/step)*step, 'f', len(decimals), 64)
}

// comment is text that a control passes over: in capitals, without brackets of its own.
func comment(parts ...string) string {
	var kept []string
	for _, p := range parts {
		if p = strings.Join(strings.Fields(strings.Map(plainComment, p)), " "); p != "" && p != "ref" {
			kept = append(kept, p)
		}
	}
	return "(" + strings.ToUpper(strings.Join(kept, ", ")) + ")"
}

// plainComment takes out what would end a comment or a block.
func plainComment(r rune) rune {
	switch r {
	case '(', ')', '%', ';', '\n', '\r':
		return ' '
	}
	return r
}
