// Package cut describes one cut as it was asked for: material, operation, tool,
// engagement, parameters and what surrounds them, all resolved against the
// catalogue and in metric. Each operation says in its own file what it needs.
package cut

import (
	"swarf/domain"
	"swarf/domain/machine"
	"swarf/domain/material"
	"swarf/domain/tool"
)

// Cut is one cut, ready to be computed.
type Cut struct {
	Ref         string
	Material    Work
	Operation   *Operation
	Tool        tool.Tool
	Engagement  Engagement
	Parameters  Parameters
	Machine     *machine.Machine // nil: none asked for
	Rating      machine.Duty     // asked for; S1 by default
	RatingGiven bool
	Duty        *machine.Use
	Coolant     Coolant
	Worn        bool // which edge `loads` shows
	Confidence  float64
	Force       *ForceData // the caller's own force data
	Target      Target
	Stock       Stock
	Wall        *Wall
	WorkHolding *machine.WorkHolding
	Control     Control
	Unattended  bool
	Rates       *Rates              // nil: no costs are asked
	Rotary      *Rotary             // nil: no rotary axis moves along the path
	Assumed     []domain.Assumption // what was taken for granted so far
}

// Work is the work material of a cut with the records chosen for it.
type Work struct {
	Grade                             *material.Material // nil when only a group was named
	Group                             material.Group
	Subgroup                          string
	Condition                         *material.Condition // nil when only a group was named
	ConditionGiven                    bool
	Hardness                          *material.Hardness // as the caller sent it, for the work or in a certificate
	HardnessFrom                      HardnessFrom
	HardnessHBW                       float64            // in HBW, 0 when unknown
	Converted                         bool               // Hardness was converted to HBW
	Approximate                       bool               // by a table that is made for another metal
	Certified                         *material.Hardness // the certificate's hardness, whether it serves or not
	CertifiedHBW                      float64            // in HBW, 0 when unknown
	TensileStrengthNPerMM2            *float64           // the certificate's
	ConditionLowHBW, ConditionHighHBW float64            // the condition's range in HBW, 0 when it cannot be said
	Force                             ForceChoice
	Starting                          StartingChoice
	DrillWork                         *material.Force // handbook drilling factor, when there is one
	Life                              LifeChoice
}

// HardnessFrom says where the hardness of the work comes from.
type HardnessFrom uint8

// The origins.
const (
	FromRequest     HardnessFrom = iota // sent for the work itself
	FromCertificate                     // the certificate of the lot
	FromTensile                         // read from the tensile strength of the certificate
)

// ForceChoice is the force record that serves and those that compete with it.
type ForceChoice struct {
	Served    *material.Force
	Competing []*material.Force // others that apply, Served not among them
	UnitPower []*material.Force // second method, best first
	FallBack  string            // "", "subgroup", "group"
	Far       *material.Force   // without one that serves: the nearest, made for work of another hardness
	Withdrawn *material.Force   // would serve, had it not been withdrawn for safety
	// How far the served number may be off by what its sources and those of other metals
	// differ, and how many independent sources give it; 0: not worked out.
	SpreadRatio  float64
	SourcesCount int
}

// StartingChoice is the starting-value record that serves.
type StartingChoice struct {
	Served    *material.Starting
	Competing []*material.Starting
	FallBack  string
	Withdrawn *material.Starting // as in ForceChoice
	// How far the served speed may be off by what sources of such speeds differ; 0: not
	// worked out.
	SpreadRatio float64
}

// LifeChoice is the tool-life record that serves.
type LifeChoice struct {
	Served    *material.Life
	Competing []*material.Life
	FallBack  string
	Withdrawn *material.Life // as in ForceChoice
}

// WorkHardens reports the groups in which rubbing hardens the surface.
func (w *Work) WorkHardens() bool { return w.Group == material.M || w.Group == material.S }

// HardnessMoves reports whether the caller's hardness moves force and speed: in steel
// and iron it does; cold-worked austenitic metal does not follow their exponent.
func (w *Work) HardnessMoves() bool {
	return w.Hardness != nil && w.HardnessHBW > 0 && w.Softens() && (w.Group == material.P || w.Group == material.K)
}

// Softens reports metals in which hardness is a matter of heat treatment, so that
// tables of force and speed by hardness apply. In austenitic metal, manganese steel
// among it, hardness beyond the annealed is cold work, and it is no quenched steel.
func (w *Work) Softens() bool {
	return w.Subgroup != material.Austenitic && w.Subgroup != "high-manganese"
}

// Magnesium reports magnesium alloys.
func (w *Work) Magnesium() bool { return w.Subgroup == material.Magnesium }

// Combustible reports metals whose fines burn: magnesium, titanium (and zirconium).
func (w *Work) Combustible() bool {
	return w.Subgroup == material.Magnesium || w.Subgroup == material.Titanium
}

// Parameters are the speeds and feeds the caller gave; nil where left out.
type Parameters struct {
	CuttingSpeedMPerMin, SpindleSpeedPerMin               *float64
	FeedPerRevolutionMM, FeedPerToothMM, FeedRateMMPerMin *float64
}

// Coolant is the coolant of the cut.
type Coolant struct {
	Delivery      string // through-tool, external, minimum-quantity, air, none
	PressureBar   *float64
	Fluid         string // water-miscible, neat-oil, none; empty: unnamed
	SiteProcedure string
	Given         bool
}

// Wet reports a coolant delivery that brings liquid.
func (c *Coolant) Wet() bool { return c.Delivery == "through-tool" || c.Delivery == "external" }

// ForceData is the force data sent with the request.
type ForceData struct {
	SpecificCuttingForce11NPerMM2, ChipThicknessExp *float64
	SpecificEnergyJPerMM3                           *float64
	WearRatio, DrillWorkFactor, SpreadRatio         *float64
}

// HasLaw reports whether the data replaces the force law (a pair or an energy).
func (f *ForceData) HasLaw() bool {
	return f != nil && (f.SpecificCuttingForce11NPerMM2 != nil || f.SpecificEnergyJPerMM3 != nil)
}

// Rates are what time and edges cost, in the caller's one currency.
type Rates struct {
	MachineCostPerMin, EdgeCost, ChangeMinutes float64
}

// Target is what the part asks of the cut.
type Target struct {
	ToolLifeMinutes, ToleranceMM, RaUM, RzUM *float64
}

// Stock is the state of the stock.
type Stock struct {
	State       string
	SkinDepthMM *float64
	Lot         string
	Certificate *Certificate // nil: none was sent
}

// Certificate is what an inspection document after EN 10204 says of a lot.
type Certificate struct {
	Type                   string // 2.1, 2.2, 3.1, 3.2; empty: not said
	Number, Heat           string
	Hardness               *material.Hardness
	TensileStrengthNPerMM2 *float64
	ElongationPercent      *float64
}

// OfTheLot reports a document whose results are of the lot itself: 3.1 and 3.2 are of
// specific inspection, 2.1 has no results and those of 2.2 are of other products.
// Source: EN 10204:2004, as a quality journal sums it up.
func (c *Certificate) OfTheLot() bool { return c.Type != "2.1" && c.Type != "2.2" }

// Wall is a finished wall behind the cut.
type Wall struct{ HeightMM, ThicknessMM, WidthMM *float64 }

// Control is what the control does with feeds.
type Control struct {
	CorrectsArcs                                  *bool
	SpeedResolutionPerMin, FeedResolutionMMPerMin *float64
}

// Rotary is a rotary axis that turns along the path: how far per length of path, and how
// fast it may turn.
type Rotary struct{ DegPerMM, MaxRateDegPerMin *float64 }

// FeedMMPerMin returns the feed at which the axis turns as fast as it may; ok is false
// where it does not turn or something is not known.
func (r *Rotary) FeedMMPerMin() (feed float64, ok bool) {
	if r == nil || r.DegPerMM == nil || r.MaxRateDegPerMin == nil || *r.DegPerMM <= 0 {
		return 0, false
	}
	return *r.MaxRateDegPerMin / *r.DegPerMM, true
}
