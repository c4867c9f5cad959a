package wire

// Cut is the request of a computation (API.md 3.1). Numbers are pointers so that
// absent and zero differ. The decoder converts every number with a q tag to
// metric while it reads, so a decoded Cut is metric whatever the caller spoke;
// Units only remembers what to answer in.
type Cut struct {
	Units       string       `json:"units,omitempty" enum:"metric,inch"`
	Ref         string       `json:"ref,omitempty"`
	Material    *Material    `json:"material,omitempty"`
	Operation   string       `json:"operation,omitempty"`
	Tool        *Tool        `json:"tool,omitempty"`
	Engagement  *Engagement  `json:"engagement,omitempty"`
	Parameters  *Parameters  `json:"parameters,omitempty"`
	Machine     *MachineRef  `json:"machine,omitempty" swaggertype:"object"`
	Rating      string       `json:"rating,omitempty"`
	Duty        *Duty        `json:"duty,omitempty"`
	Coolant     *Coolant     `json:"coolant,omitempty"`
	EdgeState   string       `json:"edge_state,omitempty" enum:"sharp,worn"`
	Confidence  *float64     `json:"confidence,omitempty"`
	ForceData   *ForceData   `json:"force_data,omitempty"`
	Target      *Target      `json:"target,omitempty"`
	Stock       *Stock       `json:"stock,omitempty"`
	Wall        *Wall        `json:"wall,omitempty"`
	WorkHolding *WorkHolding `json:"work_holding,omitempty"`
	Control     *Control     `json:"control,omitempty"`
	Rotary      *Rotary      `json:"rotary,omitempty"`
	Rates       *Rates       `json:"rates,omitempty"`
	Unattended  *bool        `json:"unattended,omitempty"`
}

// Rates are what time and edges cost, in one currency of the caller's: the machine with
// its operator per hour, an edge, and the minutes it takes to change one.
type Rates struct {
	MachineRate *float64 `json:"machine_rate,omitempty"`
	EdgeCost    *float64 `json:"edge_cost,omitempty"`
	ChangeTime  *float64 `json:"change_time,omitempty" q:"time"`
}

// Material names the work material.
type Material struct {
	Grade     string    `json:"grade,omitempty"`
	Group     string    `json:"group,omitempty" enum:"P,M,K,N,S,H,O"`
	Condition string    `json:"condition,omitempty"`
	Hardness  *Hardness `json:"hardness,omitempty"`
}

// Hardness is a value with its scale. In a query both are named with their parent
// (hardness.value), because alone they say nothing.
type Hardness struct {
	Value *float64 `json:"value,omitempty" flat:"dotted"`
	Scale string   `json:"scale,omitempty" enum:"HBW,HRC,HRB,HV" flat:"dotted"`
}

// Tool is the tool: a class and what is known of its geometry (ISO 13399). The tag iso holds
// the symbols by which a property may be named on input too; NOF, the number of flutes, is
// taken for the effective edges, and so is either of the symbols of the rake angle.
type Tool struct {
	Class             string   `json:"class,omitempty"`
	CuttingDiameter   *float64 `json:"cutting_diameter,omitempty" q:"length" iso:"DC"`
	EffectiveEdges    *float64 `json:"effective_edges,omitempty" iso:"ZEFP,NOF"`
	CuttingEdgeAngle  *float64 `json:"cutting_edge_angle,omitempty" q:"angle" iso:"KAPR"`
	CornerRadius      *float64 `json:"corner_radius,omitempty" q:"length" iso:"RE"`
	PointAngle        *float64 `json:"point_angle,omitempty" q:"angle" iso:"SIG"`
	FluteHelixAngle   *float64 `json:"flute_helix_angle,omitempty" q:"angle" iso:"FHA"`
	RakeAngle         *float64 `json:"rake_angle,omitempty" q:"angle" iso:"GAMF,GAMO"`
	UsableLength      *float64 `json:"usable_length,omitempty" q:"length" iso:"LU"`
	MaxDepthOfCut     *float64 `json:"max_depth_of_cut,omitempty" q:"length" iso:"APMX"`
	ProtrudingLength  *float64 `json:"protruding_length,omitempty" q:"length" iso:"LPR"`
	MaxSpindleSpeed   *float64 `json:"max_spindle_speed,omitempty" q:"rotation" iso:"RPMX"`
	MaxRampAngle      *float64 `json:"max_ramp_angle,omitempty" q:"angle" iso:"RMPX"`
	ShankDiameter     *float64 `json:"shank_diameter,omitempty" q:"length" iso:"DMM"`
	ElasticModulus    *float64 `json:"elastic_modulus,omitempty" q:"modulus" short:"E"`
	MaxTorque         *float64 `json:"max_torque,omitempty" q:"torque"`
	ChamferThreads    *float64 `json:"chamfer_threads,omitempty"`
	ChiselRatio       *float64 `json:"chisel_ratio,omitempty"`
	ToolMaterial      string   `json:"tool_material,omitempty"`
	MaxCuttingDepth   *float64 `json:"max_cutting_depth,omitempty" q:"length" iso:"CDX"`
	GrooveDiameterMin *float64 `json:"groove_diameter_min,omitempty" q:"length" iso:"DAXN"`
	GrooveDiameterMax *float64 `json:"groove_diameter_max,omitempty" q:"length" iso:"DAXX"`
	CentreCutting     *bool    `json:"centre_cutting,omitempty"`
	Runout            *float64 `json:"runout,omitempty" q:"length"`
	Hand              string   `json:"hand,omitempty" enum:"right,left"`
	SecureHolder      *bool    `json:"secure_holder,omitempty"`
	Body              string   `json:"body,omitempty" enum:"steel,carbide,damped"`
	EdgeArrangement   string   `json:"edge_arrangement,omitempty" enum:"balanced,stepped"` // of a boring head: edges share the feed, or the width
}

// Engagement is the geometry of the cut. Which members an operation has is said
// by the domain; a member of another operation is refused as unknown.
type Engagement struct {
	WorkDiameter    *float64 `json:"work_diameter,omitempty" q:"length"`
	DepthOfCut      *float64 `json:"depth_of_cut,omitempty" q:"length"`
	Width           *float64 `json:"width,omitempty" q:"length"`
	Depth           *float64 `json:"depth,omitempty" q:"length"`
	Pitch           *float64 `json:"pitch,omitempty" q:"length" short:"P"`
	ThreadDepth     *float64 `json:"thread_depth,omitempty" q:"length"`
	Passes          *float64 `json:"passes,omitempty"`
	AxialDepth      *float64 `json:"axial_depth,omitempty" q:"length"`
	RadialWidth     *float64 `json:"radial_width,omitempty" q:"length" short:"ae"`
	CutterOffset    *float64 `json:"cutter_offset,omitempty" q:"length"`
	SlotWidth       *float64 `json:"slot_width,omitempty" q:"length"`
	SlotLength      *float64 `json:"slot_length,omitempty" q:"length"`
	SlotDepth       *float64 `json:"slot_depth,omitempty" q:"length"`
	EngagementAngle *float64 `json:"engagement_angle,omitempty" q:"angle"`
	StepOver        *float64 `json:"step_over,omitempty" q:"length"`
	TiltAngle       *float64 `json:"tilt_angle,omitempty" q:"angle"`
	StartDiameter   *float64 `json:"start_diameter,omitempty" q:"length"`
	EndDiameter     *float64 `json:"end_diameter,omitempty" q:"length"`
	Internal        *bool    `json:"internal,omitempty"`
	ChamferWidth    *float64 `json:"chamfer_width,omitempty" q:"length"`
	ChamferAngle    *float64 `json:"chamfer_angle,omitempty" q:"angle"`
	HoleDepth       *float64 `json:"hole_depth,omitempty" q:"length"`
	Through         *bool    `json:"through,omitempty"`
	FaceSlope       *float64 `json:"face_slope,omitempty" q:"angle"`
	WallRadius      *float64 `json:"wall_radius,omitempty" q:"length"`
	NominalDiameter *float64 `json:"nominal_diameter,omitempty" q:"length"`
	HoleDiameter    *float64 `json:"hole_diameter,omitempty" q:"length"`
	WallAllowance   *float64 `json:"wall_allowance,omitempty" q:"length"`
	FloorAllowance  *float64 `json:"floor_allowance,omitempty" q:"length"`
	Length          *float64 `json:"length,omitempty" q:"length"`
	RampAngle       *float64 `json:"ramp_angle,omitempty" q:"angle"`
	Dwell           *float64 `json:"dwell,omitempty"`
	SpotAngle       *float64 `json:"spot_angle,omitempty" q:"angle"`
	Stacked         *bool    `json:"stacked,omitempty"`
	Rotating        string   `json:"rotating,omitempty" enum:"tool,work"`
	PathRadius      *float64 `json:"path_radius,omitempty" q:"length"`
	Approach        *float64 `json:"approach,omitempty" q:"length"`
	Retract         string   `json:"retract,omitempty" enum:"none,chip-break,full"`
	Hand            string   `json:"hand,omitempty" enum:"right,left"`
	Direction       string   `json:"direction,omitempty" enum:"climb,conventional,radial,axial"`
}

// Parameters are speeds and feeds: one speed, one feed.
type Parameters struct {
	CuttingSpeed      *float64 `json:"cutting_speed,omitempty" q:"speed" short:"vc"`
	SpindleSpeed      *float64 `json:"spindle_speed,omitempty" q:"rotation" short:"n"`
	FeedPerRevolution *float64 `json:"feed_per_revolution,omitempty" q:"length" short:"f"`
	FeedPerTooth      *float64 `json:"feed_per_tooth,omitempty" q:"length" short:"fz"`
	FeedRate          *float64 `json:"feed_rate,omitempty" q:"feed-rate" short:"vf"`
}

// Coolant is how and with what the edge is cooled.
type Coolant struct {
	Delivery      string   `json:"delivery,omitempty" enum:"through-tool,external,minimum-quantity,air,none"`
	Pressure      *float64 `json:"pressure,omitempty" q:"pressure"`
	Fluid         string   `json:"fluid,omitempty" enum:"water-miscible,neat-oil,none"`
	SiteProcedure string   `json:"site_procedure,omitempty"`
}

// ForceData overrides the record, for a shop that knows better and for checking.
type ForceData struct {
	SpecificCuttingForce11 *float64 `json:"specific_cutting_force_1_1,omitempty" q:"specific-force" short:"kc11"`
	ChipThicknessExponent  *float64 `json:"chip_thickness_exponent,omitempty" short:"mc"`
	SpecificCuttingEnergy  *float64 `json:"specific_cutting_energy,omitempty" q:"specific-energy"`
	WearFactor             *float64 `json:"wear_factor,omitempty"`
	DrillWorkFactor        *float64 `json:"drill_work_factor,omitempty"`
	Spread                 *float64 `json:"spread,omitempty"`
}

// Duty is how long and how often the cut runs.
type Duty struct {
	CuttingMinutes *float64 `json:"cutting_minutes,omitempty"`
	CycleMinutes   *float64 `json:"cycle_minutes,omitempty"`
}

// Target is what the part asks of the cut.
type Target struct {
	ToolLife  *float64 `json:"tool_life,omitempty" q:"time" short:"T"`
	Tolerance *float64 `json:"tolerance,omitempty" q:"length"`
	Ra        *float64 `json:"ra,omitempty" q:"roughness"`
	Rz        *float64 `json:"rz,omitempty" q:"roughness"`
}

// Stock is the state of the stock, with the lot it comes from.
type Stock struct {
	State       string       `json:"state,omitempty"`
	SkinDepth   *float64     `json:"skin_depth,omitempty" q:"length"`
	Lot         string       `json:"lot,omitempty"`
	Certificate *Certificate `json:"certificate,omitempty" flat:"own"`
}

// Certificate is the inspection document of the lot (EN 10204). Its hardness serves
// where the material states none; without one its tensile strength is read as hardness,
// in unalloyed and low-alloy steel. In a query its members are named with it
// (certificate.hardness.value).
type Certificate struct {
	Type            string    `json:"type,omitempty" enum:"2.1,2.2,3.1,3.2"`
	Number          string    `json:"number,omitempty"`
	Heat            string    `json:"heat,omitempty"`
	Hardness        *Hardness `json:"hardness,omitempty"`
	TensileStrength *float64  `json:"tensile_strength,omitempty" q:"specific-force" short:"Rm"`
	Elongation      *float64  `json:"elongation,omitempty" short:"A"`
}

// Wall is a finished wall behind the cut.
type Wall struct {
	Height    *float64 `json:"height,omitempty" q:"length"`
	Thickness *float64 `json:"thickness,omitempty" q:"length"`
	Width     *float64 `json:"width,omitempty" q:"length"`
}

// WorkHolding is how the part is held.
type WorkHolding struct {
	Kind         string   `json:"kind,omitempty"`
	MaxSpeed     *float64 `json:"max_speed,omitempty" q:"rotation"`
	Jaws         *float64 `json:"jaws,omitempty"`
	JawMass      *float64 `json:"jaw_mass,omitempty" q:"mass"`
	JawRadius    *float64 `json:"jaw_radius,omitempty" q:"length"`
	GripDiameter *float64 `json:"grip_diameter,omitempty" q:"length"`
	Friction     *float64 `json:"friction,omitempty"`
	StaticGrip   *float64 `json:"static_grip,omitempty" q:"force"`
	Safety       *float64 `json:"safety,omitempty"`
	Catcher      *bool    `json:"catcher,omitempty"`
}

// Control is what the machine's control does with feeds.
type Control struct {
	CorrectsArcs    *bool    `json:"corrects_arcs,omitempty"`
	SpeedResolution *float64 `json:"speed_resolution,omitempty" q:"rotation"`
	FeedResolution  *float64 `json:"feed_resolution,omitempty" q:"feed-rate"`
}

// Rotary is a rotary axis that moves with the path.
type Rotary struct {
	DegreesPerLength *float64 `json:"degrees_per_length,omitempty" q:"angle-per-length"`
	MaxRate          *float64 `json:"max_rate,omitempty" q:"angle-rate"`
}
