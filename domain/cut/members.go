package cut

import "swarf/domain/unit"

// bounds says what a number can mean at all.
type bounds struct {
	low, high float64
	openLow   bool // low itself is not allowed
}

// The bounds of members. Upper ends are far beyond any machine: past them a number
// is a slip of unit or of the finger.
var (
	size       = bounds{0, 50_000, true}  // a length that must be there, mm
	sizeOrZero = bounds{0, 50_000, false} // a length that may be nought, mm
	signedSize = bounds{-50_000, 50_000, false}
	acute      = bounds{0, 90, false} // deg
	wide       = bounds{0, 180, true} // deg
	counted    = bounds{1, 1000, false}
	turns      = bounds{0, 1000, false}
)

// member is one number of the engagement: its name in requests, what it measures
// and what it may be.
type member struct {
	name     string
	quantity unit.Quantity
	bounds   bounds
	of       func(*Engagement) *float64
}

var members = []member{
	{"work_diameter", unit.Length, size, func(e *Engagement) *float64 { return e.WorkDiameterMM }},
	{"depth_of_cut", unit.Length, size, func(e *Engagement) *float64 { return e.DepthOfCutMM }},
	{"width", unit.Length, size, func(e *Engagement) *float64 { return e.WidthMM }},
	{"depth", unit.Length, size, func(e *Engagement) *float64 { return e.DepthMM }},
	{"pitch", unit.Length, size, func(e *Engagement) *float64 { return e.PitchMM }},
	{"thread_depth", unit.Length, size, func(e *Engagement) *float64 { return e.ThreadDepthMM }},
	{"passes", unit.None, counted, func(e *Engagement) *float64 { return e.PassesCount }},
	{"axial_depth", unit.Length, size, func(e *Engagement) *float64 { return e.AxialDepthMM }},
	{"radial_width", unit.Length, size, func(e *Engagement) *float64 { return e.RadialWidthMM }},
	{"cutter_offset", unit.Length, signedSize, func(e *Engagement) *float64 { return e.CutterOffsetMM }},
	{"slot_width", unit.Length, size, func(e *Engagement) *float64 { return e.SlotWidthMM }},
	{"slot_length", unit.Length, size, func(e *Engagement) *float64 { return e.SlotLengthMM }},
	{"slot_depth", unit.Length, size, func(e *Engagement) *float64 { return e.SlotDepthMM }},
	{"engagement_angle", unit.Angle, wide, func(e *Engagement) *float64 { return e.EngagementAngleDeg }},
	{"step_over", unit.Length, size, func(e *Engagement) *float64 { return e.StepOverMM }},
	{"tilt_angle", unit.Angle, acute, func(e *Engagement) *float64 { return e.TiltAngleDeg }},
	{"start_diameter", unit.Length, sizeOrZero, func(e *Engagement) *float64 { return e.StartDiameterMM }},
	{"end_diameter", unit.Length, size, func(e *Engagement) *float64 { return e.EndDiameterMM }},
	{"chamfer_width", unit.Length, size, func(e *Engagement) *float64 { return e.ChamferWidthMM }},
	{"chamfer_angle", unit.Angle, wide, func(e *Engagement) *float64 { return e.ChamferAngleDeg }},
	{"hole_depth", unit.Length, size, func(e *Engagement) *float64 { return e.HoleDepthMM }},
	{"face_slope", unit.Angle, bounds{0, 89, false}, func(e *Engagement) *float64 { return e.FaceSlopeDeg }},
	{"wall_radius", unit.Length, signedSize, func(e *Engagement) *float64 { return e.WallRadiusMM }},
	{"nominal_diameter", unit.Length, size, func(e *Engagement) *float64 { return e.NominalDiameterMM }},
	{"hole_diameter", unit.Length, size, func(e *Engagement) *float64 { return e.HoleDiameterMM }},
	{"wall_allowance", unit.Length, sizeOrZero, func(e *Engagement) *float64 { return e.WallAllowanceMM }},
	{"floor_allowance", unit.Length, sizeOrZero, func(e *Engagement) *float64 { return e.FloorAllowanceMM }},
	{"length", unit.Length, size, func(e *Engagement) *float64 { return e.LengthMM }},
	{"ramp_angle", unit.Angle, acute, func(e *Engagement) *float64 { return e.RampAngleDeg }},
	{"dwell", unit.None, turns, func(e *Engagement) *float64 { return e.DwellTurns }},
	{"spot_angle", unit.Angle, wide, func(e *Engagement) *float64 { return e.SpotAngleDeg }},
	{"path_radius", unit.Length, signedSize, func(e *Engagement) *float64 { return e.PathRadiusMM }},
	{"approach", unit.Length, sizeOrZero, func(e *Engagement) *float64 { return e.ApproachMM }},
}

// flag is one member of the engagement that is a yes or no, or a word.
type flag struct {
	name  string
	given func(*Engagement) bool
}

var flags = []flag{
	{"through", func(e *Engagement) bool { return e.Through != nil }},
	{"internal", func(e *Engagement) bool { return e.Internal != nil }},
	{"stacked", func(e *Engagement) bool { return e.Stacked != nil }},
	{"rotating", func(e *Engagement) bool { return e.Rotating != "" }},
	{"retract", func(e *Engagement) bool { return e.Retract != "" }},
	{"hand", func(e *Engagement) bool { return e.Hand != "" }},
	{"direction", func(e *Engagement) bool { return e.Direction != "" }},
}
