package material

import (
	"swarf/domain"
	"swarf/domain/unit"
)

// Method is the law a force record belongs to.
type Method string

// The methods.
const (
	Kienzle   Method = "kienzle"        // kc = kc1.1 * h^-mc
	UnitPower Method = "unit-power"     // specific energy at a stated chip thickness
	DrillWork Method = "drill-handbook" // work material factor Kd of the handbook drilling method
)

// Force is a force record: the constants of one law for one material.
type Force struct {
	Provenance
	Scope
	Condition string // empty: any
	Process   string // process it was measured in: turning, milling, drilling, general
	Method    Method
	Family    string // sets that must not be mixed, e.g. "six-degree-carbide", "three-component-1982"

	// Kienzle
	SpecificCuttingForce11NPerMM2 unit.Opt
	ChipThicknessExp              unit.Opt // mc
	FeedForce11NPerMM2            unit.Opt
	FeedForceExp                  unit.Opt // mf in kf = kf1.1*h^-mf
	PassiveForce11NPerMM2         unit.Opt
	PassiveForceExp               unit.Opt
	ReferenceRakeDeg              unit.Opt

	// UnitPower
	EnergyJPerMM3      unit.Opt
	EnergyThicknessMM  unit.Opt // chip thickness or feed the energy is tabulated at
	EnergyThicknessExp unit.Opt // exponent e in u = u0*(h/h0)^-e

	// DrillWork
	DrillWorkFactor unit.Opt // Kd, metric method; pure number of the table

	ChipThickness domain.Range // range of validity in h
	Hardness      domain.Range // HBW
	Speed         domain.Range // cutting speed
	SpreadRatio   unit.Opt     // standard deviation of the logarithm where the record says
	Rank          int          // steward's order among equals; lower is served first
}

// FeedKind says what a starting feed counts.
type FeedKind string

// The feed kinds.
const (
	PerRevolution    FeedKind = "per-revolution"
	PerTooth         FeedKind = "per-tooth"
	DiameterPerTurn  FeedKind = "diameter-fraction-per-revolution"
	DiameterPerTooth FeedKind = "diameter-fraction-per-tooth"
)

// Starting is a starting-value record: speed and feed ranges for an operation.
type Starting struct {
	Provenance
	Scope
	Condition    string
	Operations   []string     // operation names it serves
	Classes      []string     // tool classes it serves; empty: any of the operations
	ToolMaterial string       // HW, HC, HSS …; empty: any
	Kind         string       // rough, finish, general
	Speed        domain.Range // m/min
	FeedKind     FeedKind
	Feed         domain.Range // mm, or a ratio of the diameter
	Hardness     domain.Range // HBW
	DepthMM      unit.Opt     // depth of cut the record is for
	Rank         int
}

// Life is a tool-life record, vc·T^n·f^x·ap^y = C.
type Life struct {
	Provenance
	Scope
	Process            string // it was tested in: turning, milling, drilling, general
	ToolMaterial       string
	TaylorExp          unit.Opt // n
	TaylorSpeedMPerMin unit.Opt // C: speed for one minute, at the reference feed and depth
	FeedExp, DepthExp  unit.Opt // x and y; absent: not told
	ReferenceFeedMM    unit.Opt // at which C holds
	ReferenceDepthMM   unit.Opt
	Criterion          string
}
