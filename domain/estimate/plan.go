package estimate

import (
	"fmt"

	"swarf/domain/cut"
	"swarf/domain/kinematics"
	"swarf/domain/unit"
)

// Moves is advice on motion; absent parts do not apply.
type Moves struct {
	Entry, Exit *Segment
	Pecks       []Peck
	Passes      []Pass
	Holes       *Holes      // of a chain
	Bend        *Bend       // of a milling path
	Spot, Pilot *Guide      // what a drill starts in
	Start       []StartStep // how a gun drill is set going
}

// Segment is a feed and the distance over which it holds.
type Segment struct{ FeedRateMMPerMin, DistanceMM float64 }

// Peck is one step of a hole.
type Peck struct {
	ToDepthMM      float64
	Retract        string  // full, chip-break, none
	ReapproachAtMM float64 // above the last depth where feed starts again; 0 for the last step
}

// Pass is one pass of a cut taken in several.
type Pass struct{ ToDepthMM, InfeedMM float64 }

// Time is the time of the cut in minutes; Cutting is absent without a path.
type Time struct {
	CuttingMinutes unit.Opt
	Allowances     []Allowance
}

// Allowance is time beyond the cut itself.
type Allowance struct {
	Name, Why string
	Minutes   float64
}

// TotalMinutes is cutting time and allowances.
func (t *Time) TotalMinutes() unit.Opt {
	if !t.CuttingMinutes.OK {
		return unit.Opt{}
	}
	total := t.CuttingMinutes.V
	for _, a := range t.Allowances {
		total += a.Minutes
	}
	return unit.Some(total)
}

// plan advises on motion and gives the time along the path.
func (e *Estimate) plan() {
	c := e.Cut
	switch c.Operation.Family {
	case cut.HoleFamily:
		e.planHole()
		return
	case cut.MillingFamily:
		e.planMilling()
		return
	case cut.ThreadFamily:
		e.planTap()
		return
	}
	if c.Operation.FeedIsPitch {
		e.planThread()
		return
	}
	if c.Engagement.WidthMM != nil {
		e.planGroove()
		return
	}
	if c.Engagement.LengthMM == nil {
		e.unchecked("time", "engagement.length, the path at feed")
		return
	}
	e.Time.CuttingMinutes = unit.Some(kinematics.Minutes(kinematics.Path{LengthMM: *c.Engagement.LengthMM, FeedRateMMPerMin: e.Motion.FeedRateMMPerMin}))
}

// planHole gives entry, exit, steps and time of a hole.
func (e *Estimate) planHole() {
	c, vf := e.Cut, e.Motion.FeedRateMMPerMin
	d := *c.Tool.CuttingDiameterMM
	approach := value(c.Engagement.ApproachMM, approachMM)
	point := kinematics.PointLengthMM(kinematics.Point{DiameterMM: d, StartDiameterMM: value(c.Engagement.StartDiameterMM, 0), PointAngleDeg: pointAngle(c)})
	if c.Operation.Name == "spot-drilling" {
		point = 0 // the point is the hole
	}
	depth := HoleDepthMM(c)

	entry := entryOf(c)
	e.Moves.Entry = &Segment{FeedRateMMPerMin: vf * entry.ratio, DistanceMM: approach + point + entry.sidewaysMM}
	through := c.Engagement.Through != nil && *c.Engagement.Through
	travel := approach + point + depth
	rest := travel - e.Moves.Entry.DistanceMM
	if through {
		e.Moves.Exit = &Segment{FeedRateMMPerMin: vf * exitRatio, DistanceMM: point + clearMM}
		travel += clearMM
		rest = travel - e.Moves.Entry.DistanceMM - e.Moves.Exit.DistanceMM
	}
	e.Moves.Pecks = pecksOf(c)
	if c.Operation.Name == "drilling" || c.Operation.Name == "chain-drilling" {
		e.Moves.Spot, e.Moves.Pilot, e.Moves.Start = spotOf(c), pilotOf(c), e.startOf()
	}
	minutes := e.Moves.Entry.DistanceMM/e.Moves.Entry.FeedRateMMPerMin + max(0, rest)/vf
	if through {
		minutes += e.Moves.Exit.DistanceMM / e.Moves.Exit.FeedRateMMPerMin
	}
	if e.Moves.Holes = holesOf(c); e.Moves.Holes != nil {
		minutes *= e.Moves.Holes.Count
	}
	e.Time.CuttingMinutes = unit.Some(minutes)
	if len(e.Moves.Pecks) > 1 {
		e.retractTime()
	}
}

// retractTime allows for the way out and back between steps, at the machine's
// rapid rate when it is known.
func (e *Estimate) retractTime() {
	m := e.Cut.Machine
	if m == nil || !m.Axes.RapidRateMMPerMin.OK {
		e.unchecked("peck_time", "the machine's rapid_rate")
		return
	}
	way := 0.0
	for i, p := range e.Moves.Pecks {
		if i < len(e.Moves.Pecks)-1 && p.Retract == "full" {
			way += 2 * p.ToDepthMM
		}
	}
	if e.Moves.Holes != nil {
		way *= e.Moves.Holes.Count
	}
	e.Time.Allowances = append(e.Time.Allowances, Allowance{
		Name: "retract", Minutes: way / m.Axes.RapidRateMMPerMin.V,
		Why: fmt.Sprintf("out and back between %d steps at rapid rate, without acceleration", len(e.Moves.Pecks)),
	})
}

// finish gives the theoretical surface of turning with a known corner radius, and the
// ridges a ball leaves.
func (e *Estimate) finish() {
	c := e.Cut
	if c.Operation.Name == "ball-milling" {
		e.Finish.ScallopHeightUM = unit.Some(kinematics.ScallopHeightUM(kinematics.Ridge{DiameterMM: *c.Tool.CuttingDiameterMM, StepMM: *c.Engagement.StepOverMM}))
	}
	if c.Operation.Family != cut.TurningFamily || c.Operation.FeedIsPitch {
		return // a thread has the form of its tool
	}
	re := c.Tool.CornerRadiusMM
	if re == nil || *re <= 0 {
		e.unchecked("finish", "tool.corner_radius")
		return
	}
	nose := kinematics.Nose{FeedPerRevolutionMM: e.Motion.FeedPerRevolutionMM, CornerRadiusMM: *re}
	if nose.FeedPerRevolutionMM > 2*nose.CornerRadiusMM {
		e.unchecked("finish", "a feed under twice the corner radius")
		return
	}
	e.Finish.ProfileHeightUM = unit.Some(kinematics.ProfileHeightUM(nose))
	ra := kinematics.IdealRaUM(nose)
	if c.Material.Group == "M" {
		ra *= GummyFinishRatio
	}
	e.Finish.RaExpectedUM = unit.Some(ra)
}

// GummyFinishRatio is real roughness over ideal in austenitic metal, the middle of
// 1.0 to 1.6. Common practice, no source.
const GummyFinishRatio = 1.3
