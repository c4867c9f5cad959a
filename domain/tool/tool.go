package tool

// Tool is the tool of a cut. Absent members are nil until the class's defaults
// have been laid under them (Class.Complete).
type Tool struct {
	Class                 *Class
	Material              string // ISO 513 letters (HW, HC, DP …) or HSS
	Body                  string // steel, carbide, damped
	Arrangement           string // of a boring head's edges: balanced, stepped
	Hand                  string // right, left
	SecureHolder          *bool
	CentreCutting         *bool
	CuttingDiameterMM     *float64 // DC
	EffectiveEdgesCount   *float64 // ZEFP
	CuttingEdgeAngleDeg   *float64 // KAPR
	CornerRadiusMM        *float64 // RE
	PointAngleDeg         *float64 // SIG
	FluteHelixAngleDeg    *float64 // FHA
	RakeAngleDeg          *float64 // GAMF / GAMO
	UsableLengthMM        *float64 // LU
	MaxDepthOfCutMM       *float64 // APMX
	ProtrudingLengthMM    *float64 // LPR
	MaxSpindleSpeedPerMin *float64 // RPMX
	MaxRampAngleDeg       *float64 // RMPX
	ShankDiameterMM       *float64 // DMM
	ElasticModulusGPa     *float64
	MaxTorqueNm           *float64
	ChamferThreadsCount   *float64
	ChiselRatio           *float64
	MaxCuttingDepthMM     *float64 // CDX
	GrooveDiameterMinMM   *float64
	GrooveDiameterMaxMM   *float64
	RunoutMM              *float64
}

// Stepped reports a boring head whose edges stand at different radii and heights, so that
// each takes a part of the width and the whole feed.
func (t *Tool) Stepped() bool { return t.Arrangement == "stepped" }
