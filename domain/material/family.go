package material

import (
	"fmt"
	"strings"
)

// Conversion says how far a published table reads hardness of a metal on another scale.
type Conversion uint8

// The conversions.
const (
	NoTable      Conversion = iota // no table on file is made for it, nor near enough
	NearSteel                      // the table for steel, which is not made for it: approximate
	OfSteel                        // the table for unalloyed, low-alloy and cast steel (ISO 18265 annex A, DIN 50150)
	OfAustenitic                   // Rockwell B by the relation for annealed austenitic plate; else as NearSteel
)

// ConversionOf says which table a metal goes by. ISO 18265 makes its annex A for
// unalloyed and low-alloy steel and cast steel, and ASTM E140 its first two tables for
// steel that is not austenitic; stainless steel, iron and heat-resistant alloys follow
// them closely enough to choose a record by (ASTM A240 pairs 217 HBW with 96 HRB for
// 410 and 183 HBW with 89 HRB for 430, which the table misses by 2 % at the most).
// Light and copper alloys do not follow them at all, and plastics have no such hardness.
func ConversionOf(g Group, subgroup string) Conversion {
	switch {
	case g == N || g == O:
		return NoTable
	case subgroup == Austenitic:
		return OfAustenitic
	case g == H && subgroup == "hardened-iron", g == K, g == M, g == S:
		return NearSteel
	case strings.HasPrefix(subgroup, "stainless"), subgroup == "precipitation-hardening", subgroup == "high-manganese":
		return NearSteel
	}
	return OfSteel
}

// plateLow and plateHigh are the ends of the table for austenitic plate, HRB.
const plateLow, plateHigh = 80, 100

// AusteniticHBW reads Rockwell B of annealed austenitic stainless plate in Brinell:
// 1/HBW = 0.0001304·(130 − HRB).
//
// Range: 80 to 100 HRB, that of the table. Errors: value-out-of-range outside it.
// Source: ASTM E140, table 5 and its equation X5.1 (recalled); the pairs of ASTM A240
// for 304 (201 HBW, 92 HRB) and 304N (217 HBW, 95 HRB) check it.
func AusteniticHBW(h Hardness) (float64, error) {
	if h.Scale != HRB || !(h.Value >= plateLow && h.Value <= plateHigh) {
		return 0, outOfTable(fmt.Sprintf("hardness %g %s lies outside the relation for annealed austenitic plate, which reads %d to %d HRB as HBW",
			h.Value, h.Scale, plateLow, plateHigh), HBW)
	}
	return 1 / (0.0001304 * (130 - h.Value)), nil
}

// TensileNPerMM2 reads a hardness as tensile strength. Of all conversions it is the
// least certain, and it holds for the metal of the table alone.
//
// Range, errors and source: as To.
func (t *HardnessTable) TensileNPerMM2(h Hardness) (float64, error) { return t.To(h, tensile) }

// OfTensile reads a tensile strength in Brinell.
//
// Range: the rows that have both (255 N/mm² upwards in the table on file). Errors:
// value-out-of-range outside them. Source: the table's rows.
func (t *HardnessTable) OfTensile(strengthNPerMM2 float64) (Hardness, error) {
	hbw, err := t.To(Hardness{strengthNPerMM2, tensile}, HBW)
	return Hardness{hbw, HBW}, err
}
