package api

import (
	"cmp"
	"slices"
	"strings"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/machine"
	"swarf/domain/material"
	"swarf/domain/tool"
)

// cutFromWire resolves a decoded cut against the catalogue and checks it. Every fault
// goes to faults, with fields under prefix; the cut is whole only without any.
func cutFromWire(snap *catalog.Snapshot, w *wire.Cut, purpose cut.Purpose, faults *cut.Faults) *cut.Cut {
	c := &cut.Cut{Ref: w.Ref, Confidence: defaultConfidence, Rating: machine.Continuous, Worn: w.EdgeState == "worn",
		Unattended: w.Unattended != nil && *w.Unattended}
	if w.Confidence != nil {
		c.Confidence = *w.Confidence
	}
	c.Operation = operationOf(w.Operation, faults)
	toolFromWire(snap, w.Tool, c, faults)
	if w.Engagement != nil {
		c.Engagement = engagementFromWire(w.Engagement)
	}
	parametersFromWire(w.Parameters, c)
	forceDataFromWire(w.ForceData, c)
	materialFromWire(snap, w, c, faults)
	machineOfCut(snap, w, c, faults)
	surroundingsFromWire(w, c, faults)
	c.Assumed = append(c.Assumed, coolantFromWire(w.Coolant, c)...)
	faults.List = append(faults.List, cut.Check(c, purpose)...)
	return c
}

// defaultConfidence is the probability with which limits hold unless the caller asks
// for another.
const defaultConfidence = 0.9

func operationOf(name string, faults *cut.Faults) *cut.Operation {
	if name == "" {
		faults.Missing("operation", "a cut needs its operation")
		return nil
	}
	if o, ok := cut.Find(name); ok {
		return o
	}
	fix := "one of " + strings.Join(cut.Names(), ", ")
	if near := nearest(name, cut.Names()); near != "" {
		fix = "did you mean " + near + "? " + fix
	}
	faults.Any(fault(domain.Invalid, "operation-unknown", "operation", "there is no operation "+clip(name), fix))
	return nil
}

func toolFromWire(snap *catalog.Snapshot, w *wire.Tool, c *cut.Cut, faults *cut.Faults) {
	if w == nil {
		faults.Missing("tool", "a cut needs its tool")
		return
	}
	switch class, ok := snap.Class(w.Class); {
	case w.Class == "":
		faults.Missing("tool.class", "a tool needs its class")
	case !ok:
		faults.Any(classUnknown(snap, "tool.class", w.Class))
	default:
		c.Tool.Class = class
	}
	if w.ToolMaterial != "" && !slices.Contains(tool.Materials, w.ToolMaterial) {
		faults.Any(fault(domain.Invalid, "value-out-of-range", "tool.tool_material", "tool_material "+clip(w.ToolMaterial)+" is not a substrate of ISO 513", "one of "+strings.Join(tool.Materials, ", ")))
	}
	class := c.Tool.Class
	c.Tool = tool.Tool{
		Class: class, Material: w.ToolMaterial, Body: w.Body, Arrangement: w.EdgeArrangement, Hand: w.Hand, SecureHolder: w.SecureHolder, CentreCutting: w.CentreCutting,
		CuttingDiameterMM: w.CuttingDiameter, EffectiveEdgesCount: w.EffectiveEdges, CuttingEdgeAngleDeg: w.CuttingEdgeAngle,
		CornerRadiusMM: w.CornerRadius, PointAngleDeg: w.PointAngle, FluteHelixAngleDeg: w.FluteHelixAngle, RakeAngleDeg: w.RakeAngle,
		UsableLengthMM: w.UsableLength, MaxDepthOfCutMM: w.MaxDepthOfCut, ProtrudingLengthMM: w.ProtrudingLength,
		MaxSpindleSpeedPerMin: w.MaxSpindleSpeed, MaxRampAngleDeg: w.MaxRampAngle, ShankDiameterMM: w.ShankDiameter,
		ElasticModulusGPa: w.ElasticModulus, MaxTorqueNm: w.MaxTorque, ChamferThreadsCount: w.ChamferThreads, ChiselRatio: w.ChiselRatio,
		MaxCuttingDepthMM: w.MaxCuttingDepth, GrooveDiameterMinMM: w.GrooveDiameterMin, GrooveDiameterMaxMM: w.GrooveDiameterMax, RunoutMM: w.Runout,
	}
}

// classUnknown is the fault of an id that no tool class has.
func classUnknown(snap *catalog.Snapshot, field, id string) *domain.Error {
	fix := "/v1/tool-classes lists all"
	if near := snap.NearestClasses(id); len(near) > 0 {
		fix = "nearest: " + strings.Join(near, ", ")
	}
	return fault(domain.Invalid, "tool-class-unknown", field, "there is no tool class "+clip(id), fix)
}

func materialFromWire(snap *catalog.Snapshot, whole *wire.Cut, c *cut.Cut, faults *cut.Faults) {
	w := whole.Material
	if w == nil {
		faults.Missing("material", "a cut needs its material")
		return
	}
	q := catalog.WorkQuery{Grade: w.Grade, Group: w.Group, Condition: w.Condition, ToolMaterial: c.Tool.Material}
	q.Hardness = hardnessQuery(w.Hardness)
	if s := whole.Stock; s != nil && s.Certificate != nil {
		q.Certificate = &catalog.CertificateQuery{Hardness: hardnessQuery(s.Certificate.Hardness), TensileStrengthNPerMM2: s.Certificate.TensileStrength}
	}
	if c.Tool.Class != nil {
		q.Class = c.Tool.Class.ID
		if q.ToolMaterial == "" {
			q.ToolMaterial = c.Tool.Class.ToolMaterial
		}
	}
	if o := c.Operation; o != nil { // loops and circles, say, are side milling along another path
		q.Operation, q.Process = cmp.Or(o.StartsAs.Operation, o.Name), processOf(o)
		q.Class = cmp.Or(o.StartsAs.Class, q.Class)
	}
	work, bad := snap.ResolveWork(q)
	c.Material = work
	faults.List = append(faults.List, bad...)
}

func hardnessQuery(w *wire.Hardness) *catalog.HardnessQuery {
	if w == nil {
		return nil
	}
	return &catalog.HardnessQuery{Value: w.Value, Scale: w.Scale}
}

// processOf names the process of force records that an operation belongs to.
func processOf(o *cut.Operation) string {
	switch o.Family {
	case cut.TurningFamily:
		return "turning"
	case cut.MillingFamily:
		return "milling"
	}
	return "drilling"
}

// machineOfCut finds or reads the machine, and the rating to hold the cut against.
func machineOfCut(snap *catalog.Snapshot, w *wire.Cut, c *cut.Cut, faults *cut.Faults) {
	if w.Machine != nil {
		c.Machine = machineOf(snap, w.Machine, "machine", faults)
	}
	if w.Rating != "" {
		duty, err := machine.ParseDuty(w.Rating)
		if err != nil {
			faults.Any(fault(domain.Invalid, "value-out-of-range", "rating", err.Error(), "S1, S2-30, S3-25 or S6-40, after IEC 60034-1"))
		}
		c.Rating, c.RatingGiven = duty, true
	}
	if d := w.Duty; d != nil {
		if d.CuttingMinutes == nil {
			faults.Missing("duty.cutting_minutes", "a duty says how long the cut runs")
		} else {
			use := machine.Use{CuttingMinutes: *d.CuttingMinutes, CycleMinutes: *d.CuttingMinutes}
			if d.CycleMinutes != nil {
				use.CycleMinutes = *d.CycleMinutes
			}
			c.Duty = &use
		}
	}
	if c.RatingGiven && c.Machine != nil && !hasRating(c.Machine, c.Rating) {
		c.Assumed = append(c.Assumed, domain.Assumption{Field: "rating", Text: "S1", Why: c.Machine.ID + " has no rating " + c.Rating.String() + " on file"})
	}
}

// machineOf finds a machine by its id, or reads an inline one.
func machineOf(snap *catalog.Snapshot, ref *wire.MachineRef, field string, faults *cut.Faults) *machine.Machine {
	if ref.Inline != nil {
		before := len(faults.List)
		m := machineFromWire(ref.Inline, field, faults)
		if len(faults.List) > before {
			return nil
		}
		return m
	}
	m, ok := snap.Machine(ref.ID)
	if !ok {
		fix := "put it with PUT /v1/machines/{id}, or send the machine itself"
		if near := snap.NearestMachines(ref.ID); len(near) > 0 {
			fix = "nearest: " + strings.Join(near, ", ") + "; or send the machine itself"
		}
		faults.Any(fault(domain.Invalid, "machine-unknown", field, "there is no machine "+clip(ref.ID), fix))
		return nil
	}
	return m
}

func hasRating(m *machine.Machine, d machine.Duty) bool {
	for i := range m.Spindle.Gears {
		if _, ok := m.Spindle.Gears[i].Rating(d); ok {
			return true
		}
	}
	return false
}

// coolantFromWire sets the coolant; left out, it comes from outside, and magnesium
// is cut dry.
func coolantFromWire(w *wire.Coolant, c *cut.Cut) []domain.Assumption {
	if w != nil {
		c.Coolant = cut.Coolant{Delivery: w.Delivery, PressureBar: w.Pressure, Fluid: w.Fluid, SiteProcedure: w.SiteProcedure, Given: true}
	}
	if c.Coolant.Delivery != "" {
		return nil
	}
	c.Coolant.Delivery = "external"
	why := "usual where none is named"
	if c.Material.Subgroup == material.Magnesium {
		c.Coolant.Delivery, why = "none", "magnesium is cut dry unless the site's procedure says otherwise"
	}
	return []domain.Assumption{{Field: "coolant.delivery", Text: c.Coolant.Delivery, Why: why}}
}
