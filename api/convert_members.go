package api

import (
	"swarf/api/wire"
	"swarf/domain/cut"
)

func engagementFromWire(w *wire.Engagement) cut.Engagement {
	return cut.Engagement{
		WorkDiameterMM: w.WorkDiameter, DepthOfCutMM: w.DepthOfCut, WidthMM: w.Width, DepthMM: w.Depth,
		PitchMM: w.Pitch, ThreadDepthMM: w.ThreadDepth, PassesCount: w.Passes,
		AxialDepthMM: w.AxialDepth, RadialWidthMM: w.RadialWidth, CutterOffsetMM: w.CutterOffset,
		SlotWidthMM: w.SlotWidth, SlotLengthMM: w.SlotLength, SlotDepthMM: w.SlotDepth, EngagementAngleDeg: w.EngagementAngle,
		StepOverMM: w.StepOver, TiltAngleDeg: w.TiltAngle, StartDiameterMM: w.StartDiameter, EndDiameterMM: w.EndDiameter,
		ChamferWidthMM: w.ChamferWidth, ChamferAngleDeg: w.ChamferAngle, HoleDepthMM: w.HoleDepth, FaceSlopeDeg: w.FaceSlope,
		WallRadiusMM: w.WallRadius, NominalDiameterMM: w.NominalDiameter, HoleDiameterMM: w.HoleDiameter,
		WallAllowanceMM: w.WallAllowance, FloorAllowanceMM: w.FloorAllowance, LengthMM: w.Length, RampAngleDeg: w.RampAngle,
		DwellTurns: w.Dwell, SpotAngleDeg: w.SpotAngle, PathRadiusMM: w.PathRadius, ApproachMM: w.Approach,
		Through: w.Through, Internal: w.Internal, Stacked: w.Stacked,
		Rotating: w.Rotating, Retract: w.Retract, Hand: w.Hand, Direction: w.Direction,
	}
}

// engagementToWire echoes the engagement, what was chosen included.
func engagementToWire(e *cut.Engagement) wire.Engagement {
	return wire.Engagement{
		WorkDiameter: e.WorkDiameterMM, DepthOfCut: e.DepthOfCutMM, Width: e.WidthMM, Depth: e.DepthMM,
		Pitch: e.PitchMM, ThreadDepth: e.ThreadDepthMM, Passes: e.PassesCount,
		AxialDepth: e.AxialDepthMM, RadialWidth: e.RadialWidthMM, CutterOffset: e.CutterOffsetMM,
		SlotWidth: e.SlotWidthMM, SlotLength: e.SlotLengthMM, SlotDepth: e.SlotDepthMM, EngagementAngle: e.EngagementAngleDeg,
		StepOver: e.StepOverMM, TiltAngle: e.TiltAngleDeg, StartDiameter: e.StartDiameterMM, EndDiameter: e.EndDiameterMM,
		ChamferWidth: e.ChamferWidthMM, ChamferAngle: e.ChamferAngleDeg, HoleDepth: e.HoleDepthMM, FaceSlope: e.FaceSlopeDeg,
		WallRadius: e.WallRadiusMM, NominalDiameter: e.NominalDiameterMM, HoleDiameter: e.HoleDiameterMM,
		WallAllowance: e.WallAllowanceMM, FloorAllowance: e.FloorAllowanceMM, Length: e.LengthMM, RampAngle: e.RampAngleDeg,
		Dwell: e.DwellTurns, SpotAngle: e.SpotAngleDeg, PathRadius: e.PathRadiusMM, Approach: e.ApproachMM,
		Through: e.Through, Internal: e.Internal, Stacked: e.Stacked,
		Rotating: e.Rotating, Retract: e.Retract, Hand: e.Hand, Direction: e.Direction,
	}
}

func parametersFromWire(w *wire.Parameters, c *cut.Cut) {
	if w == nil {
		return
	}
	c.Parameters = cut.Parameters{CuttingSpeedMPerMin: w.CuttingSpeed, SpindleSpeedPerMin: w.SpindleSpeed,
		FeedPerRevolutionMM: w.FeedPerRevolution, FeedPerToothMM: w.FeedPerTooth, FeedRateMMPerMin: w.FeedRate}
}

func forceDataFromWire(w *wire.ForceData, c *cut.Cut) {
	if w == nil {
		return
	}
	c.Force = &cut.ForceData{SpecificCuttingForce11NPerMM2: w.SpecificCuttingForce11, ChipThicknessExp: w.ChipThicknessExponent,
		SpecificEnergyJPerMM3: w.SpecificCuttingEnergy, WearRatio: w.WearFactor, DrillWorkFactor: w.DrillWorkFactor, SpreadRatio: w.Spread}
}

// surroundingsFromWire reads target, stock, wall, work holding and control.
func surroundingsFromWire(w *wire.Cut, c *cut.Cut, faults *cut.Faults) {
	if t := w.Target; t != nil {
		c.Target = cut.Target{ToolLifeMinutes: t.ToolLife, ToleranceMM: t.Tolerance, RaUM: t.Ra, RzUM: t.Rz}
	}
	if s := w.Stock; s != nil {
		c.Stock = cut.Stock{State: s.State, SkinDepthMM: s.SkinDepth, Lot: s.Lot}
		if d := s.Certificate; d != nil {
			c.Stock.Certificate = &cut.Certificate{Type: d.Type, Number: d.Number, Heat: d.Heat, Hardness: c.Material.Certified,
				TensileStrengthNPerMM2: d.TensileStrength, ElongationPercent: d.Elongation}
		}
	}
	if v := w.Wall; v != nil {
		c.Wall = &cut.Wall{HeightMM: v.Height, ThicknessMM: v.Thickness, WidthMM: v.Width}
	}
	c.WorkHolding = workHoldingFromWire(w.WorkHolding, "work_holding", faults)
	if r := w.Rotary; r != nil {
		c.Rotary = &cut.Rotary{DegPerMM: r.DegreesPerLength, MaxRateDegPerMin: r.MaxRate}
	}
	if r := w.Rates; r != nil {
		c.Rates = &cut.Rates{}
		need := func(name, what string, v *float64) float64 {
			if v == nil {
				faults.Missing("rates."+name, what)
				return 0
			}
			return *v
		}
		c.Rates.MachineCostPerMin = need("machine_rate", "what an hour of the machine costs", r.MachineRate) / 60
		c.Rates.EdgeCost = need("edge_cost", "what an edge costs", r.EdgeCost)
		c.Rates.ChangeMinutes = need("change_time", "how many minutes a change of edge takes", r.ChangeTime)
	}
	if k := w.Control; k != nil {
		c.Control = cut.Control{CorrectsArcs: k.CorrectsArcs, SpeedResolutionPerMin: k.SpeedResolution, FeedResolutionMMPerMin: k.FeedResolution}
	}
}
