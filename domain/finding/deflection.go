package finding

import (
	"swarf/domain"
	"swarf/domain/unit"
)

// DeflectionRatio is the share of the tolerance past which what gives way is held. Common
// practice, no source.
const DeflectionRatio = 1.0 / 2

// Shares of the tolerance from which a tool's deflection must be read, less for a bar that
// measures its own hole, and how many times as high as thick walls may be. Common practice,
// no source.
const (
	deflectionWarnRatio = 1.0 / 3
	boringRatio         = 1.0 / 4
	slenderWallRatio    = 30.0 // past it a wall needs a plan of its own
	thinWallRatio       = 15.0 // from it on both sides are stepped down in turn
)

// deflection holds what gives way against the tolerance asked for, with a worn edge.
func (j *judge) deflection() {
	d := &j.e.Deflection
	if w := j.c.Wall; w != nil && w.HeightMM != nil && w.ThicknessMM != nil {
		switch slender := *w.HeightMM / *w.ThicknessMM; {
		case over(slender, slenderWallRatio):
			j.says("wall-deflection-high", domain.Hold, "wall.height", unit.None, slender, slenderWallRatio,
				"the wall is {value} times as high as thick; past {limit} it needs a plan of its own", "step down on both sides, leave the wall thick until last, or support it")
		case over(slender, thinWallRatio):
			j.says("thin-wall", domain.Note, "wall.height", unit.None, slender, thinWallRatio,
				"the wall is {value} times as high as thick; from {limit} on it is stepped down", "step down on both sides in turn")
		}
	}
	tolerance := j.c.Target.ToleranceMM
	if tolerance == nil {
		return
	}
	wear := j.e.WearRatio
	if d.ToolMM.OK {
		bends := d.ToolMM.V * wear
		warn := deflectionWarnRatio
		if j.c.Operation.Name == "boring-rotating" {
			warn = boringRatio
		}
		switch {
		case over(bends, DeflectionRatio**tolerance):
			j.says("tool-deflection-high", domain.Hold, "deflection.tool", unit.Length, bends, DeflectionRatio**tolerance,
				"with a worn edge the tool gives way by {value}, over {limit}, half of the tolerance", "a shorter or thicker tool, less width, two passes")
		case over(bends, warn**tolerance):
			j.says("tool-deflection-high", domain.Warning, "deflection.tool", unit.Length, bends, warn**tolerance,
				"with a worn edge the tool gives way by {value}, over {limit} of the tolerance", "a shorter or thicker tool, less width, two passes")
		}
	}
	if bends := d.WallMM.V * wear; d.WallMM.OK && over(bends, DeflectionRatio**tolerance) {
		j.says("wall-deflection-high", domain.Hold, "deflection.wall", unit.Length, bends, DeflectionRatio**tolerance,
			"with a worn edge the wall gives way by {value}, over {limit}, half of the tolerance", "another order of passes, less width, or support behind the wall")
	}
}
