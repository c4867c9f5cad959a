package finding

import (
	"strings"

	"swarf/domain"
	"swarf/domain/estimate"
	"swarf/domain/unit"
)

// reamingStockMM is the least stock on diameter for a reamer. Common practice, no source.
const reamingStockMM = 0.10

// hole judges drilling: reach, coolant, entry, spot, exit.
func (j *judge) hole() {
	t, en := &j.c.Tool, &j.c.Engagement
	class := t.Class.ID
	depth, d := estimate.HoleDepthMM(j.c), *t.CuttingDiameterMM
	if reach, ok := given(t.UsableLengthMM); !ok {
		j.e.Unchecked = append(j.e.Unchecked, domain.Unchecked{Check: "usable_length", Needs: "tool.usable_length"})
	} else if over(depth, reach) {
		j.says("depth-beyond-usable-length", domain.Refusal, "engagement.hole_depth", unit.Length, depth, reach,
			"the hole is {value} deep to its full diameter; the tool reaches {limit}", "a longer tool, or from the other side")
	}
	if start, ok := given(en.StartDiameterMM); ok && j.c.Operation.Name == "reaming" && d-start < reamingStockMM*(1-1e-9) {
		j.says("reaming-stock-thin", domain.Warning, "engagement.start_diameter", unit.Length, d-start, reamingStockMM,
			"{value} of stock on diameter; under {limit} a reamer rubs", "0.2 to 0.3 mm (0.008 to 0.012 in) on diameter")
	}
	j.column(class)
	j.coolantDepth(class, depth, d)
	j.entry(class)
	j.chain()
	if spot, ok := given(en.SpotAngleDeg); ok {
		pointless := class == "drill-indexable" || class == "drill-exchangeable-tip"
		if pointless || over(*t.PointAngleDeg, spot) { // only drilling has a spot_angle
			j.says("spot-harms-drill", domain.Hold, "engagement.spot_angle", unit.Angle, spot, *t.PointAngleDeg,
				"a spot of {value} makes the corners of a {limit} point touch first", "no spot, or one flatter than the drill's point")
		}
	}
	indexable := class == "drill-indexable"
	if indexable && en.Through != nil && *en.Through {
		j.tells("exit-slug", domain.Warning, "engagement.through", "an indexable drill throws a disc at break-through", "guards closed; half feed at the exit")
	}
	if indexable && en.Stacked != nil && *en.Stacked {
		j.tells("stacked-work", domain.Refusal, "engagement.stacked", "an indexable drill jams on the loose disc between stacked plates", "drill the plates singly")
	}
}

// bucklingSafetyRatio is how many times over a drill shall stand its thrust, which is known
// only roughly. Common practice, no source.
const bucklingSafetyRatio = 3.0

// column holds a slender drill whose thrust comes near to bending it aside.
func (j *judge) column(class string) {
	k, ok := estimate.ColumnOf(j.c)
	if !ok && class == "drill-gun" {
		j.unchecked("buckling", "tool.protruding_length")
	}
	if thrust, limit := j.worn.FeedForceN, k.BucklingN()/bucklingSafetyRatio; ok && j.e.HasLoads && thrust.OK && over(thrust.V, limit) {
		j.says("drill-may-buckle", domain.Hold, "tool.protruding_length", unit.Force, thrust.V, limit,
			"a worn edge thrusts with {value}; a drill so long and thin stands {limit}, a third of what buckles it", "a steady or a whip guide between holder and hole, less feed, or a shorter drill first")
	}
}

func (j *judge) coolantDepth(class string, depth, d float64) {
	bite, ok := estimate.BiteOf(j.c)
	if !ok {
		return
	}
	through := j.c.Coolant.Delivery == "through-tool"
	if !through && over(depth, bite.HoldRatio*d) {
		j.says("coolant-below-practice", domain.Hold, "coolant.delivery", unit.Length, depth, bite.HoldRatio*d,
			"{value} deep without coolant through the tool; practice ends at {limit} for this drill", "steps with full retract, or a machine with coolant through the tool")
	}
	if n := len(j.e.Moves.Pecks); n > 1 {
		j.says("pecks-planned", domain.Note, "motion.pecks", unit.Length, depth, bite.OneRatio*d,
			"{value} is more than the {limit} of one bite: the depth is split", "follow the steps, or use coolant through the tool")
	}
	carbide := strings.HasPrefix(j.c.Tool.Material, "H") && j.c.Tool.Material != "HSS"
	if j.c.Engagement.Retract == "chip-break" && carbide && j.c.Material.WorkHardens() {
		j.tells("pecks-harm-edge", domain.Warning, "engagement.retract", "short pecks beat a carbide edge on hardened chips", "full retract, or none")
	}
}

// thinWebMM is the least web between pointed holes. Common practice, no source.
const thinWebMM = 0.5

// chain judges what stands between the holes of a chain: a pointed drill must not
// break into its neighbour.
func (j *judge) chain() {
	holes := j.e.Moves.Holes
	if holes == nil || *j.c.Tool.PointAngleDeg >= 180 {
		return
	}
	switch {
	case holes.WebMM <= 1e-9:
		j.says("holes-overlap", domain.Hold, "engagement.pitch", unit.Length, holes.WebMM, 0,
			"a web of {value}: a pointed drill breaks into its neighbour", "a pitch of at least the diameter and 0.5 mm (0.02 in); a flat-bottom drill where holes must overlap")
	case holes.WebMM < thinWebMM*(1-1e-9):
		j.says("web-thin", domain.Warning, "engagement.pitch", unit.Length, holes.WebMM, thinWebMM,
			"a web of {value}; under {limit} it gives way to the drill", "a larger pitch; drill every second hole first")
	}
}

// entry judges the face a drill meets.
func (j *judge) entry(class string) {
	slope, ok := given(j.c.Engagement.FaceSlopeDeg)
	if !ok {
		return
	}
	limit := 8.0
	switch class {
	case "drill-indexable":
		limit = 3
	case "drill-flat-bottom":
		limit = 45
	}
	switch {
	case over(slope, 45):
		j.says("entry-slope-too-steep", domain.Refusal, "engagement.face_slope", unit.Angle, slope, 45,
			"no drill enters a face of {value}; {limit} is the end", "mill a flat first")
	case over(slope, limit):
		j.says("entry-slope-beyond-practice", domain.Hold, "engagement.face_slope", unit.Angle, slope, limit,
			"the corner meets a face of {value} before the point; practice ends at {limit} for this drill", "mill a flat, or a flat-bottom drill first")
	}
}
