package cuttest

import (
	"swarf/domain/cut"
	"swarf/domain/tool"
)

// Of is a sound cut of an operation, every member known.
func Of(name string) *cut.Cut {
	var c *cut.Cut
	yes := true
	o := Operation(name)
	switch o.Family {
	case cut.TurningFamily:
		c = Turning()
	case cut.MillingFamily:
		c = Milling()
	default:
		c = Drilling()
	}
	c.Operation = o
	class := *c.Tool.Class
	class.Operations = []string{name}
	c.Tool.Class = &class
	en := &c.Engagement
	switch name {
	case "grooving", "parting":
		*en = cut.Engagement{WorkDiameterMM: N(80), WidthMM: N(3), DepthMM: N(8)}
	case "thread-turning":
		class.ID = "turning-threading"
		c.Parameters.FeedPerRevolutionMM = nil
		*en = cut.Engagement{WorkDiameterMM: N(45), PitchMM: N(3), ThreadDepthMM: N(1.84), PassesCount: N(12), LengthMM: N(60)}
	case "slot-milling":
		en.RadialWidthMM = N(12)
	case "plunge-milling":
		en.RadialWidthMM = N(4)
	case "trochoidal-milling":
		*en = cut.Engagement{AxialDepthMM: N(12), SlotWidthMM: N(18), EngagementAngleDeg: N(45)}
	case "ball-milling":
		class.ID = "mill-ball"
		*en = cut.Engagement{AxialDepthMM: N(0.3), StepOverMM: N(0.4), TiltAngleDeg: N(15)}
	case "circular-milling", "thread-milling":
		*en = cut.Engagement{StartDiameterMM: N(30), EndDiameterMM: N(33), Internal: &yes, PitchMM: N(2)}
	case "chamfer-milling":
		class.ID = "mill-chamfer"
		c.Tool.CuttingEdgeAngleDeg = N(45)
		*en = cut.Engagement{ChamferWidthMM: N(1), ChamferAngleDeg: N(45)}
	case "reaming", "boring-rotating", "counterboring", "countersinking":
		en.StartDiameterMM = N(11)
		c.Tool.CuttingEdgeAngleDeg = N(90)
	case "chain-drilling":
		*en = cut.Engagement{SlotWidthMM: N(14), SlotLengthMM: N(60), SlotDepthMM: N(20), PitchMM: N(13), WallAllowanceMM: N(1), FloorAllowanceMM: N(0.3)}
	case "tapping", "thread-forming":
		no := false
		class.ID, class.Edge = "tap-cutting", tool.Ground
		c.Parameters = cut.Parameters{CuttingSpeedMPerMin: N(10)}
		c.Tool.CuttingDiameterMM, c.Tool.EffectiveEdgesCount, c.Tool.ChamferThreadsCount = N(10), N(3), N(2.5)
		*en = cut.Engagement{NominalDiameterMM: N(10), PitchMM: N(1.5), HoleDiameterMM: N(8.5), ThreadDepthMM: N(15), HoleDepthMM: N(25), Through: &no}
		if name == "thread-forming" {
			class.ID = "tap-forming"
			en.HoleDiameterMM = N(9.3)
		}
	}
	return c
}
