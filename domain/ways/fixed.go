package ways

import "slices"

// fixedCodes are refusals and holds that no lever of this package moves: what they are about
// is the record, the tool, the machine, the coolant, the hole or the thread itself.
var fixedCodes = []string{
	"no-approved-record", "no-data", "not-checked", "record-withdrawn",
	"group-record-used", "hardness-outside-condition", "outside-record-range", "far-outside-record-range",
	"combustible-metal-coolant", "dry-drilling-heat-resistant", "coolant-below-practice", "coolant-not-on-machine",
	"process-not-on-machine", "tapping-not-synchronised",
	"tool-material-unfit", "form-tap-unfit", "thread-mill-too-large", "thread-hand-mismatch", "groove-diameter-out-of-range",
	"overhang-beyond-practice", "depth-beyond-usable-length", "ramp-angle-exceeded", "tap-bottoms",
	"entry-slope-beyond-practice", "entry-slope-too-steep", "spot-harms-drill", "holes-overlap", "stacked-work",
}

func fixed(code string) bool { return slices.Contains(fixedCodes, code) }

// Why levers have no way.
const (
	whyFixed   = "no lever moves these: the record, the tool, the machine, the coolant or the shape of the part must change, or a named person answers a hold"
	whyStands  = "these stand at every value of the lever that was tried"
	whyBetween = "where some of these give way the others stand"
)
