package api

import (
	"slices"
	"strconv"
	"strings"

	"swarf/api/picture"
	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/machine"
	"swarf/domain/unit"
)

// caution is the usual one: no picture leaves without it.
const caution = "Computed starting values, no permission to run. A skilled person decides; the limits of machine, tool and clamping, local rules and licensed practice come first. What was not checked is listed in unchecked of the JSON answer."

// aboutCut is what a picture of a cut says around the drawing: the cut, its parameters and
// machine and the verdict above it, data and caution under it.
func aboutCut(e *estimate.Estimate, findings []domain.Finding, revision int64, system unit.System) picture.About {
	c := e.Cut
	about := picture.About{System: system, Head: []string{workInWords(c), toolInWords(c, system), parametersInWords(e, system)}, Result: verdictInWords(domain.VerdictOf(findings), findings), Foot: feet(revision)}
	if m := e.Machine; m != nil && m.Gear != nil {
		about.Head = append(about.Head, "on "+machineInWords(m.Machine)+", "+held("gear", m.Gear.Name)+", "+held("held against", m.Rating.String()))
	} else if m != nil {
		about.Head = append(about.Head, "on "+machineInWords(m.Machine)+", of which no gear reaches the speed")
	} else {
		about.Head = append(about.Head, "on no machine: the limits of one were not held against the cut")
	}
	return about
}

// held binds words that stay in one line.
func held(words ...string) string {
	return strings.ReplaceAll(strings.Join(words, " "), " ", "\u00a0")
}

// workInWords names the cut, its operation and the material.
func workInWords(c *cut.Cut) string {
	words := strings.ReplaceAll(c.Operation.Name, "-", " ") + " in "
	switch g := c.Material.Grade; {
	case g == nil:
		words += "group " + string(c.Material.Group)
	case strings.HasPrefix(strings.ToLower(g.Name), g.ID):
		words += g.Name
	case g.Name != "":
		words += g.Name + " (" + g.ID + ")"
	default:
		words += g.ID
	}
	if c.Material.Condition != nil {
		words += ", " + c.Material.Condition.Name
	}
	if h := c.Material.Hardness; h != nil {
		words += ", " + held(wire.Short(h.Value), string(h.Scale))
	}
	if c.Ref != "" {
		words = clip(c.Ref) + ": " + words
	}
	return words
}

// toolInWords names the tool and the engagement.
func toolInWords(c *cut.Cut, system unit.System) string {
	tool := wire.Tool{CuttingDiameter: c.Tool.CuttingDiameterMM, EffectiveEdges: c.Tool.EffectiveEdgesCount}
	engagement := engagementToWire(&c.Engagement)
	parts := []string{held(c.Tool.Class.ID)}
	for _, word := range append(wire.Words(&tool, system), wire.Words(&engagement, system)...) {
		parts = append(parts, held(word))
	}
	return strings.Join(parts, ", ")
}

// parametersInWords are speeds and feeds.
func parametersInWords(e *estimate.Estimate, system unit.System) string {
	m := &e.Motion
	p := wire.Parameters{CuttingSpeed: &m.CuttingSpeedMPerMin, SpindleSpeed: &m.SpindleSpeedPerMin, FeedRate: &m.FeedRateMMPerMin}
	if e.Cut.Operation.Family == cut.MillingFamily {
		p.FeedPerTooth = &m.FeedPerToothMM
	} else {
		p.FeedPerRevolution = &m.FeedPerRevolutionMM
	}
	parts := wire.Words(&p, system)
	for i := range parts {
		parts[i] = held(parts[i])
	}
	return strings.Join(parts, ", ")
}

func machineInWords(m *machine.Machine) string {
	switch {
	case m.Name != "" && m.ID != "":
		return m.Name + " (" + held(m.ID) + ")"
	case m.Name != "":
		return m.Name
	case m.ID != "":
		return held(m.ID)
	}
	return "the machine of the request"
}

// aboutMachine is what a picture of a machine says around the drawing.
func aboutMachine(m *machine.Machine, system unit.System) picture.About {
	return picture.About{System: system, Head: []string{m.ID + ", a " + m.Process + " machine"}, Foot: feet(m.Revision)}
}

// verdictInWords is a verdict with the holds and refusals behind it.
func verdictInWords(v domain.Verdict, findings []domain.Finding) string {
	var codes []string
	for _, f := range findings {
		if f.Severity >= domain.Hold && !slices.Contains(codes, f.Code) {
			codes = append(codes, f.Code)
		}
	}
	if codes == nil {
		return held("verdict:", string(v))
	}
	return held("verdict:", string(v)) + " (" + strings.Join(codes, ", ") + ")"
}

// feet are the lines under a drawing.
func feet(revision int64) []string {
	return []string{held("data revision", strconv.FormatInt(revision, 10)) + ", " + held("model", estimate.ModelVersion), caution}
}
