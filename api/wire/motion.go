package wire

import "swarf/domain/unit"

// Moves is advice on motion.
type Moves struct {
	Entry  *Segment `json:"entry,omitempty"`
	Holes  *Holes   `json:"holes,omitempty"`
	Exit   *Segment `json:"exit,omitempty"`
	Pecks  []Peck   `json:"pecks,omitempty"`
	Passes []Pass   `json:"passes,omitempty"`
	Bend   *Bend    `json:"bend,omitempty"`
	Spot   *Guide   `json:"spot,omitempty"`
	Pilot  *Guide   `json:"pilot,omitempty"`
	Start  []Start  `json:"start,omitempty"`
}

// Guide says whether a drill wants a spot or a pilot hole: of a spot the least angle, of a
// pilot the depth.
type Guide struct {
	Verdict string   `json:"verdict" enum:"none,optional,required"`
	Angle   unit.Opt `json:"angle,omitzero" q:"angle"`
	Depth   unit.Opt `json:"depth,omitzero" q:"length"`
	Why     string   `json:"why"`
}

// Start is one step in which a gun drill is set going.
type Start struct {
	Do           string   `json:"do"`
	SpindleSpeed unit.Opt `json:"spindle_speed,omitzero" q:"rotation"`
	FeedRate     unit.Opt `json:"feed_rate,omitzero" q:"feed-rate"`
	ToDepth      unit.Opt `json:"to_depth,omitzero" q:"length"`
}

// Pass is one pass of a thread or one round of a circle, by its radial depth.
type Pass struct {
	ToDepth unit.Opt `json:"to_depth" q:"length"`
	Infeed  unit.Opt `json:"infeed" q:"length"`
}

// Thread is how much of a thread a hole leaves; every percent names what it calls full.
type Thread struct {
	Percent       unit.Opt  `json:"percent"`
	Base          string    `json:"base"`
	Others        []Percent `json:"others"`
	MinorDiameter unit.Opt  `json:"minor_diameter" q:"length"`
	MinorLow      unit.Opt  `json:"minor_low,omitzero" q:"length"`
	MinorHigh     unit.Opt  `json:"minor_high,omitzero" q:"length"`
	Tolerance     string    `json:"tolerance,omitempty"`
}

// Percent is a percent of thread on another base.
type Percent struct {
	Percent unit.Opt `json:"percent"`
	Base    string   `json:"base"`
}

// Bend is a curved stretch of a milling path: the feed of the cutter's centre there, the
// feed of the wall where it is kept, what the centre's is of the feed on a straight, and
// how far round a tooth cuts.
type Bend struct {
	FeedRate        unit.Opt `json:"feed_rate" q:"feed-rate"`
	WallFeedRate    unit.Opt `json:"wall_feed_rate,omitzero" q:"feed-rate"`
	Factor          unit.Opt `json:"factor"`
	EngagementAngle unit.Opt `json:"engagement_angle" q:"angle"`
	StraightAngle   unit.Opt `json:"straight_angle,omitzero" q:"angle"`
}

// Tilt is what a ball may run at one tilt of its axis, and what binds there.
type Tilt struct {
	TiltAngle         unit.Opt `json:"tilt_angle" q:"angle"`
	EffectiveDiameter unit.Opt `json:"effective_diameter" q:"length"`
	SpindleSpeed      unit.Opt `json:"spindle_speed" q:"rotation"`
	FeedRate          unit.Opt `json:"feed_rate" q:"feed-rate"`
	Binding           string   `json:"binding"`
}

// Segment is a feed and how far it holds.
type Segment struct {
	FeedRate unit.Opt `json:"feed_rate" q:"feed-rate"`
	Distance unit.Opt `json:"distance" q:"length"`
}

// Holes is a chain of holes along a slot.
type Holes struct {
	Count        unit.Opt `json:"count"`
	Pitch        unit.Opt `json:"pitch" q:"length"`
	Web          unit.Opt `json:"web" q:"length"`
	RemovedShare unit.Opt `json:"removed_share"`
	RestWidth    unit.Opt `json:"rest_width" q:"length"` // what a rest pass meets across the slot at a web
	Order        string   `json:"order"`
}

// Peck is one step of a hole.
type Peck struct {
	ToDepth      unit.Opt `json:"to_depth" q:"length"`
	Retract      string   `json:"retract"`
	ReapproachAt unit.Opt `json:"reapproach_at,omitzero" q:"length"`
}

// Timing is the time of the cut, in minutes.
type Timing struct {
	Cutting    unit.Opt    `json:"cutting,omitzero" q:"time"`
	Total      unit.Opt    `json:"total,omitzero" q:"time"`
	Allowances []Allowance `json:"allowances"`
}

// Allowance is a part of the time beyond the cut itself.
type Allowance struct {
	Name string   `json:"name"`
	Time unit.Opt `json:"time" q:"time"`
	Why  string   `json:"why"`
}

// Finish is the theoretical surface.
type Finish struct {
	ProfileHeight unit.Opt `json:"profile_height,omitzero" q:"roughness"`
	ScallopHeight unit.Opt `json:"scallop_height,omitzero" q:"roughness"`
	RaExpected    unit.Opt `json:"ra_expected,omitzero" q:"roughness"`
}

// ToolLife is the expected life of the edge, in minutes. Low takes its quantity
// from the member that holds it, as in Band: unit_of has one entry for a name.
type ToolLife struct {
	Median         unit.Opt     `json:"median,omitzero" q:"time"`
	Low            unit.Opt     `json:"low,omitzero" q:"inherit"` // outlived with the probability asked for
	Parts          unit.Opt     `json:"parts,omitzero"`           // of this cut in a median life, in fractions
	FeedPath       unit.Opt     `json:"feed_path,omitzero" q:"length"`
	SpeedForTarget unit.Opt     `json:"speed_for_target,omitzero" q:"speed"`
	Record         string       `json:"record,omitempty"`
	Basis          string       `json:"basis,omitempty"`
	Criterion      string       `json:"criterion,omitempty"`
	Adjustments    []Adjustment `json:"adjustments,omitempty"`
}

// Deflection is how far tool and wall spring, with the edge that loads shows.
type Deflection struct {
	Tool unit.Opt `json:"tool,omitzero" q:"length"`
	Wall unit.Opt `json:"wall,omitzero" q:"length"`
}

// Grip is what a chuck must hold with a worn edge, what rotation takes and what is left.
type Grip struct {
	GripNeeded      unit.Opt `json:"grip_needed" q:"force"`
	CentrifugalLoss unit.Opt `json:"centrifugal_loss" q:"force"`
	GripAtSpeed     unit.Opt `json:"grip_at_speed" q:"force"`
}
