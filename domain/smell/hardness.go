package smell

import (
	"math"

	"swarf/domain/material"
)

// cell is a number of a row of a conversion table.
type cell struct {
	scale material.Scale
	value float64
}

const tensileStrength = "tensile strength"

func cellsOf(r *material.HardnessRow) []cell {
	return []cell{{material.HV, r.HV}, {material.HBW, r.HBW}, {material.HRC, r.HRC}, {material.HRB, r.HRB}, {tensileStrength, r.TensileStrengthNPerMM2}}
}

// offRatio is how far a cell of a smooth table may lie off the straight line between
// the rows around it. Tables round to whole units of hardness and 5 N/mm2. Common
// practice, no source.
const offRatio = 0.015

// hardnessTable checks the rows of conversion tables: each scale rises, Brinell is its
// share of Vickers, and no cell breaks the run of its column.
func hardnessTable(b *book) {
	last := map[material.Scale]float64{}
	for i := range b.Hardness {
		r := &b.Hardness[i]
		b.row()
		for _, c := range cellsOf(r) {
			if c.value == 0 {
				continue
			}
			b.failIf(!(c.value > last[c.scale]), "hardness", rowID(i), "%s %v does not rise above %v", c.scale, c.value, last[c.scale])
			last[c.scale] = c.value
		}
		b.failIf(r.HV > 0 && r.HBW > 0 && (r.HBW/r.HV < 0.93 || r.HBW/r.HV > 0.97), "hardness", rowID(i), "HBW %v is not its usual 0.95 of HV %v", r.HBW, r.HV)
		if i == 0 || i+1 == len(b.Hardness) {
			continue
		}
		before, after := cellsOf(&b.Hardness[i-1]), cellsOf(&b.Hardness[i+1])
		x0, x1 := b.Hardness[i-1].HV, b.Hardness[i+1].HV
		for j, c := range cellsOf(r) {
			if c.scale == material.HV || r.HV == 0 || x1 <= x0 || c.value == 0 || before[j].value == 0 || after[j].value == 0 {
				continue
			}
			line := before[j].value + (after[j].value-before[j].value)*(r.HV-x0)/(x1-x0)
			if off := c.value/line - 1; math.Abs(off) > offRatio {
				b.found(Warning, "hardness", rowID(i), "HV %v: %s %v breaks the run of its column, which has %.0f there (%+.1f %%)", r.HV, c.scale, c.value, line, 100*off)
			}
		}
	}
}
