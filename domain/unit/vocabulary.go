package unit

// Vocabulary is what a unit is called in the code lists of others. A list that has no such
// unit leaves its name empty.
type Vocabulary struct {
	UNECE     string // common code of UN/ECE Recommendation 20
	QUDT      string // local name in http://qudt.org/vocab/unit/
	MTConnect string // word of the MTConnect standard, among its units or its native units
}

// vocabularies are the names of the units of each quantity, metric and inch. Spindle speed
// goes by revolutions per minute where UCUM has /min, because a bare reciprocal minute does
// not say what is counted.
//
// Sources: UN/ECE Recommendation 20; the QUDT unit vocabulary; MTConnect 2.7, UnitsEnum and
// NativeUnitsEnum. Held against copies of the first two in testdata/units.
var vocabularies = [quantities][2]Vocabulary{
	None:           {{"C62", "UNITLESS", ""}, {"C62", "UNITLESS", ""}},
	Length:         {{"MMT", "MilliM", "MILLIMETER"}, {"INH", "IN", "INCH"}},
	Speed:          {{"2X", "M-PER-MIN", ""}, {"FR", "FT-PER-MIN", "FOOT/MINUTE"}},
	FeedRate:       {{"H81", "MilliM-PER-MIN", "MILLIMETER/MINUTE"}, {"M63", "IN-PER-MIN", "INCH/MINUTE"}},
	Rotation:       {{"M46", "REV-PER-MIN", "REVOLUTION/MINUTE"}, {"M46", "REV-PER-MIN", "REVOLUTION/MINUTE"}},
	Force:          {{"NEW", "N", "NEWTON"}, {"C78", "LB_F", ""}},
	Torque:         {{"NU", "N-M", "NEWTON_METER"}, {"M92", "LB_F-FT", ""}},
	Power:          {{"KWT", "KiloW", "KILOWATT"}, {"BHP", "HP", ""}},
	RemovalRate:    {{"G49", "CentiM3-PER-MIN", ""}, {"G57", "IN3-PER-MIN", ""}},
	SpecificForce:  {{"C56", "N-PER-MilliM2", ""}, {"N20", "KIP_F-PER-IN2", ""}},
	Roughness:      {{"4H", "MicroM", "MICROMETER"}, {"M7", "MicroIN", ""}},
	Pressure:       {{"BAR", "BAR", "BAR"}, {"PS", "PSI", "POUND/INCH^2"}},
	Modulus:        {{"A89", "GigaPA", ""}, {"", "MegaPSI", ""}},
	Mass:           {{"KGM", "KiloGM", "KILOGRAM"}, {"LBR", "LB", "POUND"}},
	Temperature:    {{"CEL", "DEG_C", "CELSIUS"}, {"FAH", "DEG_F", "FAHRENHEIT"}},
	Angle:          {{"DD", "DEG", "DEGREE"}, {"DD", "DEG", "DEGREE"}},
	Time:           {{"MIN", "MIN", "MINUTE"}, {"MIN", "MIN", "MINUTE"}},
	Acceleration:   {{"MSK", "M-PER-SEC2", "METER/SECOND^2"}, {"A73", "FT-PER-SEC2", "FOOT/SECOND^2"}},
	Density:        {{"23", "GM-PER-CentiM3", ""}, {"LA", "LB-PER-IN3", ""}},
	Conductivity:   {{"D53", "W-PER-M-K", ""}, {"D53", "W-PER-M-K", ""}},
	SpecificHeat:   {{"B11", "J-PER-KiloGM-K", ""}, {"B11", "J-PER-KiloGM-K", ""}},
	Expansion:      {{"M20", "PER-MegaK", ""}, {"M20", "PER-MegaK", ""}},
	Seconds:        {{"SEC", "SEC", "SECOND"}, {"SEC", "SEC", "SECOND"}},
	AngleRate:      {{"", "DEG-PER-MIN", "DEGREE/MINUTE"}, {"", "DEG-PER-MIN", "DEGREE/MINUTE"}},
	Energy:         {{"KWH", "KiloW-HR", "KILOWATT_HOUR"}, {"KWH", "KiloW-HR", "KILOWATT_HOUR"}},
	SpecificEnergy: {}, AnglePerLength: {}, // in none of the lists
}

// Vocabulary returns what the unit of a quantity is called elsewhere.
func (q Quantity) Vocabulary(s System) Vocabulary { return vocabularies[q][s] }

// Quantities lists all of them, the pure number first.
func Quantities() []Quantity {
	list := make([]Quantity, quantities)
	for i := range list {
		list[i] = Quantity(i)
	}
	return list
}

// OPCUnitID is the number by which OPC UA knows a unit with a common code of UN/ECE
// Recommendation 20: the bytes of the code, the first the highest. It is zero without a code.
// Source: OPC 10000-8, 5.6.4.4, mapping of the UNECE codes to EUInformation.unitId.
func OPCUnitID(unece string) int64 {
	var id int64
	for i := range len(unece) {
		id = id<<8 | int64(unece[i])
	}
	return id
}
