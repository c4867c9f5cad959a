package cut

// Engagement is the geometry of the cut; nil where the caller left it out. Which
// members an operation has and needs is in its own file.
type Engagement struct {
	WorkDiameterMM, DepthOfCutMM                               *float64
	WidthMM, DepthMM                                           *float64
	PitchMM, ThreadDepthMM, PassesCount                        *float64
	AxialDepthMM, RadialWidthMM, CutterOffsetMM                *float64
	SlotWidthMM, SlotLengthMM, SlotDepthMM, EngagementAngleDeg *float64
	StepOverMM, TiltAngleDeg                                   *float64
	StartDiameterMM, EndDiameterMM                             *float64
	ChamferWidthMM, ChamferAngleDeg                            *float64
	HoleDepthMM, FaceSlopeDeg, WallRadiusMM                    *float64
	NominalDiameterMM, HoleDiameterMM                          *float64
	WallAllowanceMM, FloorAllowanceMM                          *float64
	LengthMM, RampAngleDeg, DwellTurns, SpotAngleDeg           *float64
	PathRadiusMM, ApproachMM                                   *float64
	Through, Internal, Stacked                                 *bool
	Rotating, Retract, Hand, Direction                         string
}
