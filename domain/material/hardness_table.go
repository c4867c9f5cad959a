package material

import (
	"fmt"
	"slices"
	"sort"

	"swarf/domain"
)

// HardnessRow is one line of a published conversion table; absent cells are zero.
type HardnessRow struct {
	HV, HBW, HRC, HRB      float64
	TensileStrengthNPerMM2 float64
	Source                 string // source id
}

// on returns the row's cell of a scale, zero when absent.
func (r *HardnessRow) on(s Scale) float64 {
	switch s {
	case HV:
		return r.HV
	case HBW:
		return r.HBW
	case HRC:
		return r.HRC
	case HRB:
		return r.HRB
	case tensile:
		return r.TensileStrengthNPerMM2
	}
	return 0
}

// tensile is the column of tensile strengths, N/mm²; no scale of hardness.
const tensile Scale = "N/mm²"

// Scales lists the scales.
var Scales = []Scale{HBW, HRC, HRB, HV}

// HardnessTable converts between scales by the rows of a published table. It holds
// for the metal the table was made for (carbon and low-alloy steel in the tables on
// file) and is approximate by nature. The zero value converts nothing.
type HardnessTable struct {
	columns map[[2]Scale]column
}

// column is one scale read as another: pairs, rising in both.
type column struct{ from, to []float64 }

// NewHardnessTable reads the rows of a table. A table in which one scale falls while
// another rises cannot be read backwards and is refused.
func NewHardnessTable(rows []HardnessRow) (*HardnessTable, error) {
	t := &HardnessTable{columns: map[[2]Scale]column{}}
	columns := append(slices.Clone(Scales), tensile)
	for _, from := range columns {
		for _, to := range columns {
			if from == to {
				continue
			}
			c, err := columnOf(rows, from, to)
			if err != nil {
				return nil, err
			}
			if len(c.from) > 1 {
				t.columns[[2]Scale{from, to}] = c
			}
		}
	}
	return t, nil
}

// columnOf collects the rows that have both scales.
func columnOf(rows []HardnessRow, from, to Scale) (column, error) {
	var c column
	for i := range rows {
		if a, b := rows[i].on(from), rows[i].on(to); a > 0 && b > 0 {
			c.from, c.to = append(c.from, a), append(c.to, b)
		}
	}
	order := make([]int, len(c.from))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		switch {
		case c.from[i] < c.from[j]:
			return -1
		case c.from[i] > c.from[j]:
			return 1
		}
		return 0
	})
	sorted := column{make([]float64, len(order)), make([]float64, len(order))}
	for at, i := range order {
		sorted.from[at], sorted.to[at] = c.from[i], c.to[i]
		if at > 0 && (sorted.from[at] == sorted.from[at-1] || sorted.to[at] <= sorted.to[at-1]) {
			return column{}, fmt.Errorf("hardness table: %v %s does not rise with %v %s", sorted.to[at], to, sorted.from[at], from)
		}
	}
	return sorted, nil
}

// To reads a hardness on another scale, by linear interpolation between the rows of
// the table. On its own scale a hardness stays as it is.
//
// Range: the rows that have both scales; nothing is extrapolated. Errors:
// value-out-of-range outside them. Source: the table's rows.
func (t *HardnessTable) To(h Hardness, scale Scale) (float64, error) {
	if h.Scale == scale {
		return h.Value, nil
	}
	c := t.columns[[2]Scale{h.Scale, scale}]
	if len(c.from) == 0 {
		return 0, outOfTable(fmt.Sprintf("no table on file reads %s as %s", h.Scale, scale), scale)
	}
	low, high := c.from[0], c.from[len(c.from)-1]
	if !(h.Value >= low && h.Value <= high) {
		return 0, outOfTable(fmt.Sprintf("%.6g %s lies outside the conversion table, which reads %g to %g %s as %s",
			h.Value, h.Scale, low, high, h.Scale, scale), scale)
	}
	i := sort.SearchFloat64s(c.from, h.Value)
	if c.from[i] == h.Value {
		return c.to[i], nil
	}
	share := (h.Value - c.from[i-1]) / (c.from[i] - c.from[i-1])
	return c.to[i-1] + share*(c.to[i]-c.to[i-1]), nil
}

func outOfTable(text string, scale Scale) error {
	return &domain.Error{Kind: domain.Invalid, Field: "material.hardness.value", Code: "value-out-of-range",
		Msg: text, Fix: "give the hardness in " + string(scale)}
}

// ToHBW reads a hardness in Brinell. Range, errors and source: as To; the Brinell
// column ends near 618 HBW (57.8 HRC), above which ToHV goes on.
func (t *HardnessTable) ToHBW(h Hardness) (float64, error) { return t.To(h, HBW) }

// ToHV reads a hardness in Vickers, the scale that reaches furthest. Range, errors
// and source: as To.
func (t *HardnessTable) ToHV(h Hardness) (float64, error) { return t.To(h, HV) }

// Compare says whether a is softer (-1), as hard (0) or harder (1) than b, on the
// first scale that both can be read on: their own, else Brinell, Vickers, Rockwell C
// or B. It reports false when there is none.
func (t *HardnessTable) Compare(a, b Hardness) (int, bool) {
	for _, scale := range [...]Scale{a.Scale, b.Scale, HBW, HV, HRC, HRB} {
		x, errA := t.To(a, scale)
		y, errB := t.To(b, scale)
		if errA != nil || errB != nil {
			continue
		}
		switch {
		case x < y:
			return -1, true
		case x > y:
			return 1, true
		}
		return 0, true
	}
	return 0, false
}

// Highest returns the hardest value of a scale that the table reads on another,
// zero when it reads none.
func (t *HardnessTable) Highest(of, on Scale) Hardness {
	c := t.columns[[2]Scale{of, on}]
	if len(c.from) == 0 {
		return Hardness{Scale: of}
	}
	return Hardness{c.from[len(c.from)-1], of}
}
