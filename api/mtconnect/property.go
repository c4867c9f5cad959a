package mtconnect

// Property ties a member of a tool to the element that measures it.
type Property struct {
	Member  string // cutting_diameter …
	Element string
	Code    string // ISO 13399, as the element carries it
	Units   string
	Item    bool // stands at the cutting items, not at the assembly
}

const (
	millimetre = "MILLIMETER"
	degree     = "DEGREE"
)

// Properties are the members of a tool that the schema has elements for, with the codes and units
// that the standard's model gives them. The standard
// measures the longest usable length (LUX); of a tool that is one, it is the usable length.
var Properties = []Property{
	{"cutting_diameter", "CuttingDiameterMax", "DC", millimetre, false},
	{"max_depth_of_cut", "DepthOfCutMax", "APMX", millimetre, false},
	{"usable_length", "UsableLengthMax", "LUX", millimetre, false},
	{"protruding_length", "ProtrudingLength", "LPR", millimetre, false},
	{"shank_diameter", "ShankDiameter", "DMM", millimetre, false},
	{"corner_radius", "CornerRadius", "RE", millimetre, true},
	{"cutting_edge_angle", "ToolCuttingEdgeAngle", "KAPR", degree, true},
	{"point_angle", "PointAngle", "SIG", degree, true},
}

// also are elements that say a member as well: of an item what is of the assembly above, and
// the lead angle, which is what the cutting edge angle leaves of a right angle.
var also = []Property{
	{"cutting_diameter", "CuttingDiameter", "DC", millimetre, true},
	{"cutting_edge_angle", leadAngle, "PSIR", degree, true},
}

const leadAngle = "ToolLeadAngle"

// propertyOf finds what an element measures by its name, nil for an element of another schema.
func propertyOf(m *Measurement) *Property {
	for _, list := range [][]Property{Properties, also} {
		for i := range list {
			if list[i].Element == m.XMLName.Local {
				return &list[i]
			}
		}
	}
	return nil
}
