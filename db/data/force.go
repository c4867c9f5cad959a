package data

import (
	"io/fs"
	"path"
	"strings"

	"swarf/domain"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// forceColumns are the columns of every file below force/.
var forceColumns = []string{"id", "level", "key", "condition", "process", "method", "family",
	"kc11_n_per_mm2", "mc_exp", "kf11_n_per_mm2", "mf_exp", "kp11_n_per_mm2", "mp_exp", "reference_rake_deg",
	"energy_j_per_mm3", "energy_thickness_mm", "energy_exp", "drill_work_factor",
	"thickness_low_mm", "thickness_high_mm", "hardness_low_hbw", "hardness_high_hbw",
	"spread_ratio", "rank", "basis", "place", "note"}

// loadForce reads the force records, one file per source: force/<source>.csv. The
// name of the file is the id of the source.
func loadForce() ([]material.Force, error) {
	names, err := fs.Glob(files, "force/*.csv")
	if err != nil {
		return nil, err
	}
	var records []material.Force
	seen := map[string]string{} // id -> file
	for _, name := range names {
		t, err := ReadTable(files, name, forceColumns...)
		if err != nil {
			return nil, err
		}
		for _, r := range t.Rows {
			record := forceRecord(r, strings.TrimSuffix(path.Base(name), ".csv"))
			if file, twice := seen[record.ID]; twice {
				r.Fail("id", "%q stands already in %s", record.ID, file)
			}
			seen[record.ID] = name
			records = append(records, record)
		}
		if err := t.Err(); err != nil {
			return nil, err
		}
	}
	return records, nil
}

// forceRecord reads one row and refuses a record without the numbers of its law.
func forceRecord(r *Row, source string) material.Force {
	f := material.Force{
		Provenance: material.Provenance{ID: r.Unique("id"), Source: source, Place: r.Text("place"), Note: r.Text("note"),
			Basis: domain.Basis(r.OneOf("basis", bases...))},
		Scope:     material.Scope{Level: r.OneOf("level", "material", "subgroup", "group"), Key: r.Need("key")},
		Condition: r.Text("condition"),
		Process:   r.OneOf("process", "turning", "milling", "drilling", "general"),
		Method:    material.Method(r.OneOf("method", string(material.Kienzle), string(material.UnitPower), string(material.DrillWork))),
		Family:    r.Need("family"),

		SpecificCuttingForce11NPerMM2: r.Opt("kc11_n_per_mm2"),
		ChipThicknessExp:              r.Opt("mc_exp"),
		FeedForce11NPerMM2:            r.Opt("kf11_n_per_mm2"),
		FeedForceExp:                  r.Opt("mf_exp"),
		PassiveForce11NPerMM2:         r.Opt("kp11_n_per_mm2"),
		PassiveForceExp:               r.Opt("mp_exp"),
		ReferenceRakeDeg:              r.Opt("reference_rake_deg"),

		EnergyJPerMM3:      r.Opt("energy_j_per_mm3"),
		EnergyThicknessMM:  r.Opt("energy_thickness_mm"),
		EnergyThicknessExp: r.Opt("energy_exp"),

		DrillWorkFactor: r.Opt("drill_work_factor"),

		ChipThickness: r.Interval(unit.Length, "thickness_low_mm", "thickness_high_mm"),
		Hardness:      r.Interval(unit.None, "hardness_low_hbw", "hardness_high_hbw"),
		Speed:         domain.Range{Quantity: unit.Speed}, // no file has a column for it yet
		SpreadRatio:   r.Opt("spread_ratio"),
		Rank:          r.Count("rank"),
	}
	if f.Basis == domain.Published && f.Place == "" {
		r.Fail("place", "a published number needs its place in the source")
	}
	pair := f.SpecificCuttingForce11NPerMM2.OK && f.ChipThicknessExp.OK
	if pair != (f.Method == material.Kienzle) {
		r.Fail("kc11_n_per_mm2", "kc1.1 and mc belong to the method kienzle and to no other")
	}
	if f.EnergyJPerMM3.OK != (f.Method == material.UnitPower) || f.EnergyThicknessMM.OK != f.EnergyThicknessExp.OK {
		r.Fail("energy_j_per_mm3", "an energy, with both or neither of its thickness and exponent, belongs to the method unit-power")
	}
	if f.DrillWorkFactor.OK != (f.Method == material.DrillWork) {
		r.Fail("drill_work_factor", "the factor belongs to the method drill-handbook")
	}
	if f.FeedForce11NPerMM2.OK != f.FeedForceExp.OK || f.PassiveForce11NPerMM2.OK != f.PassiveForceExp.OK {
		r.Fail("kf11_n_per_mm2", "a force at h = 1 mm and its exponent go together")
	}
	return f
}
