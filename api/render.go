package api

import (
	"slices"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// answerOf lays an estimate out for the wire, still metric; texts and amounts with a
// unit beside them are in the caller's system already.
func answerOf(e *estimate.Estimate, findings []domain.Finding, system unit.System) *wire.Answer {
	c := e.Cut
	without(findings, c.Material.Group)
	room := new(sheet)
	a := &room.answer
	room.motion = wire.Motion{
		CuttingSpeed: unit.Some(e.Motion.CuttingSpeedMPerMin), SpindleSpeed: unit.Some(e.Motion.SpindleSpeedPerMin),
		FeedPerRevolution: unit.Some(e.Motion.FeedPerRevolutionMM), FeedPerTooth: unit.Some(e.Motion.FeedPerToothMM),
		FeedRate: unit.Some(e.Motion.FeedRateMMPerMin),
	}
	room.chip = wire.Chip{
		ThicknessMean: unit.Some(e.Chip.ThicknessMeanMM), ThicknessMax: unit.Some(e.Chip.ThicknessMaxMM), Width: unit.Some(e.Chip.WidthMM),
		EngagementAngle: unit.Some(e.Chip.EngagementAngleDeg), EdgesInCut: unit.Some(e.Chip.EdgesInCutCount),
	}
	if c.Operation.FeedIsPitch {
		room.motion.FeedPerTooth = unit.Opt{} // the teeth follow one another in one groove
	}
	room.engagement = engagementToWire(&c.Engagement)
	*a = wire.Answer{
		Ref: c.Ref, Verdict: string(domain.VerdictOf(findings)), Operation: c.Operation.Name,
		Material: materialOf(e), Stock: stockOf(&c.Stock), Engagement: &room.engagement, EdgeState: "sharp", Parameters: &room.motion, Chip: &room.chip,
		Motion: movesOf(&e.Moves), Time: timeOf(&e.Time), Findings: findingsOf(findings, system),
		Assumed: assumedOf(slices.Concat(c.Assumed, e.Assumed), system), Unchecked: uncheckedOf(e.Unchecked), Sources: sourcesOf(e.Sources),
	}
	if e.Chip.ThicknessMaxMM == 0 {
		a.Chip = nil // a formed thread has none
	}
	room.loads(e)
	if e.Machine != nil {
		a.Machine = machineLoadOf(e.Machine, system)
	}
	if f := &e.Finish; f.ProfileHeightUM.OK || f.ScallopHeightUM.OK {
		a.Finish = &wire.Finish{ProfileHeight: f.ProfileHeightUM, ScallopHeight: f.ScallopHeightUM, RaExpected: f.RaExpectedUM}
	}
	if d := &e.Deflection; d.ToolMM.OK || d.WallMM.OK {
		a.Deflection = &wire.Deflection{Tool: d.ToolMM, Wall: d.WallMM}
		if c.Worn { // of the edge that loads shows
			a.Deflection.Tool.V *= e.WearRatio
			a.Deflection.Wall.V *= e.WearRatio
		}
	}
	if g := e.Grip; g != nil {
		a.WorkHolding = &wire.Grip{GripNeeded: unit.Some(g.NeededN), CentrifugalLoss: unit.Some(g.LossN), GripAtSpeed: unit.Some(g.AtSpeedN)}
	}
	if e.Life != nil {
		a.ToolLife = lifeOf(e.Life)
		a.Cost = costOf(e)
	}
	if e.Thread != nil {
		a.Thread = threadOf(e.Thread)
	}
	if len(e.Tilts) > 0 {
		a.Tilt = tiltsOf(e.Tilts)
	}
	return a
}

// stamp says which units, data and formulas an answer of its own has; in a batch
// these stand once, beside the items.
func stamp(a *wire.Answer, system unit.System, revision int64, batch bool) {
	if !batch {
		a.Units, a.DataRevision, a.ModelVersion = system.String(), revision, estimate.ModelVersion
	}
}

func materialOf(e *estimate.Estimate) wire.WorkMaterial {
	w := &e.Cut.Material
	m := wire.WorkMaterial{Group: string(w.Group), Basis: string(e.Basis)}
	if w.Grade != nil {
		m.ID, m.Name = w.Grade.ID, w.Grade.Name
	}
	if w.Condition != nil {
		m.Condition = w.Condition.Name
	}
	m.Hardness = hardnessToWire(w.Hardness)
	if e.Served != nil {
		m.Record, m.FallBack = e.Served.ID, w.Force.FallBack
	}
	return m
}

func hardnessToWire(h *material.Hardness) *wire.Hardness {
	if h == nil {
		return nil
	}
	v := h.Value
	return &wire.Hardness{Value: &v, Scale: string(h.Scale)}
}

// stockOf echoes what the caller said of the stock, so that an answer on file says for
// which lot it was; nothing where nothing was said.
func stockOf(s *cut.Stock) *wire.Stock {
	if *s == (cut.Stock{}) {
		return nil
	}
	out := &wire.Stock{State: s.State, SkinDepth: s.SkinDepthMM, Lot: s.Lot}
	if d := s.Certificate; d != nil {
		out.Certificate = &wire.Certificate{Type: d.Type, Number: d.Number, Heat: d.Heat, Hardness: hardnessToWire(d.Hardness),
			TensileStrength: d.TensileStrengthNPerMM2, Elongation: d.ElongationPercent}
	}
	return out
}

// sheet is the room of one answer, so that its parts are one allocation.
type sheet struct {
	answer      wire.Answer
	engagement  wire.Engagement
	motion      wire.Motion
	chip        wire.Chip
	sharp, wear wire.Loads
	interval    wire.Interval
	bands       [3]wire.Band
}

// loads fills the loads: those of the edge asked for, with their interval and the
// other methods, and always the worn ones.
func (room *sheet) loads(e *estimate.Estimate) {
	a := &room.answer
	a.Loads = &room.sharp
	if !e.HasLoads {
		room.sharp.RemovalRate = positive(e.Sharp.RemovalCM3PerMin)
		return
	}
	worn := e.Worn()
	room.sharp, room.wear = loadsToWire(&e.Sharp), loadsToWire(&worn)
	a.LoadsWorn = &room.wear
	shown := &e.Sharp
	if e.Cut.Worn {
		sharp := room.sharp
		a.EdgeState, a.LoadsSharp = "worn", &sharp
		room.sharp, shown = room.wear, &worn
	}
	a.Loads.Interval = room.intervals(e, shown)
	a.Loads.Methods = make([]wire.Method, len(e.Methods))
	for i := range e.Methods {
		m := &e.Methods[i]
		a.Loads.Methods[i] = wire.Method{Method: m.Name, Torque: unit.Some(m.TorqueNm), CuttingPower: unit.Some(m.PowerKW),
			Record: m.Record, Source: m.Source, Basis: string(m.Basis), Used: m.Used}
	}
}

// intervals gives the central interval of the loads at the confidence asked for.
func (room *sheet) intervals(e *estimate.Estimate, l *estimate.Loads) *wire.Interval {
	k := e.Quantile((1 + e.Cut.Confidence) / 2)
	for i, v := range [3]float64{l.PowerKW, l.TorqueNm, l.CuttingForceN} {
		room.bands[i] = wire.Band{Low: unit.Some(v / k), High: unit.Some(v * k), Confidence: e.Cut.Confidence}
	}
	room.interval = wire.Interval{CuttingPower: &room.bands[0], Torque: &room.bands[1], CuttingForce: &room.bands[2]}
	return &room.interval
}

func loadsToWire(l *estimate.Loads) wire.Loads {
	return wire.Loads{
		SpecificCuttingForce: unit.Some(l.SpecificForceNPerMM2), CuttingForce: unit.Some(l.CuttingForceN),
		FeedForce: l.FeedForceN, PassiveForce: l.PassiveForceN, Torque: unit.Some(l.TorqueNm), TorquePeak: unit.Some(l.TorquePeakNm),
		CuttingPower: unit.Some(l.PowerKW), RemovalRate: positive(l.RemovalCM3PerMin),
	}
}

func machineLoadOf(m *estimate.MachineLoad, system unit.System) *wire.MachineLoad {
	out := &wire.MachineLoad{ID: m.Machine.ID, Rating: m.Rating.String(), AvailablePower: m.AvailablePowerKW,
		AvailableTorque: m.AvailableTorqueNm, MotorPower: m.MotorPowerKW, Limits: make([]wire.Limit, len(m.Limits))}
	if m.Gear != nil {
		out.Gear = m.Gear.Name
	}
	for i := range m.Limits {
		l := &m.Limits[i]
		out.Limits[i] = wire.Limit{
			Limit: l.Name, Demand: wire.Amount(l.Quantity.FromMetric(system, l.Demand)), Allowed: wire.Amount(l.Quantity.FromMetric(system, l.Allowed)),
			Unit: l.Quantity.Code(system), Utilisation: unit.Some(l.Utilisation), UtilisationWorn: unit.Some(l.UtilisationWorn),
			Probability: l.ProbabilityRatio, Binding: l.Binding,
		}
	}
	return out
}

// positive leaves out what does not apply.
func positive(v float64) unit.Opt { return unit.Opt{V: v, OK: v > 0} }
