package data

import (
	"swarf/domain"
	"swarf/domain/material"
)

// loadHardness reads the conversion table of hardness scales (hardness.csv), from
// soft to hard. The rows hold for carbon and low-alloy steel and nothing else.
// Every column that a row has must rise from row to row: a table that falls cannot
// be read backwards.
func loadHardness() ([]material.HardnessRow, error) {
	t, err := ReadTable(files, "hardness.csv", "vickers_hv", "brinell_hbw", "rockwell_hrc", "rockwell_hrb",
		"tensile_strength_n_per_mm2", "basis", "source", "place", "note")
	if err != nil {
		return nil, err
	}
	rows := make([]material.HardnessRow, 0, len(t.Rows))
	last := map[string]float64{}
	for _, r := range t.Rows {
		rising := func(column string) float64 {
			value := r.Opt(column)
			if value.OK && value.V <= last[column] {
				r.Fail(column, "%v does not rise above %v", value.V, last[column])
			}
			if value.OK {
				last[column] = value.V
			}
			return value.V
		}
		rows = append(rows, material.HardnessRow{
			HV: rising("vickers_hv"), HBW: rising("brinell_hbw"), HRC: rising("rockwell_hrc"),
			HRB: rising("rockwell_hrb"), TensileStrengthNPerMM2: rising("tensile_strength_n_per_mm2"),
			Source: r.Need("source"),
		})
		r.OneOf("basis", string(domain.Published))
		r.Need("place")
	}
	return rows, t.Err()
}
