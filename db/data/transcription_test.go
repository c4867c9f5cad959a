package data

import (
	"bufio"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"swarf/domain"
	"swarf/domain/material"
)

// gathered reads a tab-separated file of testdata: the rows as they were gathered
// from the sources, by column name.
func gathered(t *testing.T, name string) []map[string]string {
	t.Helper()
	file, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	var header []string
	var rows []map[string]string
	for lines := bufio.NewScanner(file); lines.Scan(); {
		if strings.HasPrefix(lines.Text(), "#") {
			continue
		}
		cells := strings.Split(lines.Text(), "\t")
		if header == nil {
			header = cells
			continue
		}
		row := map[string]string{}
		for i, cell := range cells {
			row[header[i]] = cell
		}
		rows = append(rows, row)
	}
	return rows
}

// number reads a cell that must hold a number.
func number(t *testing.T, text string) float64 {
	t.Helper()
	value, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return value
}

// basisOf is what a standing may ship as at the most: recalled never as published.
var basisOf = map[string][]domain.Basis{
	"seen":     {domain.Published, domain.Derived, domain.Recalled},
	"memory":   {domain.Recalled},
	"computed": {domain.Derived},
}

// TestEveryPairShips checks that each gathered kc1.1 and mc that may ship is there
// under its source with a standing it can bear, and that the others are not.
func TestEveryPairShips(t *testing.T) {
	records := embedded(t).Force
	rows := gathered(t, "kienzle_rows.tsv")
	if len(rows) != 132 {
		t.Fatalf("%d gathered rows, want 132", len(rows))
	}
	used := map[string]bool{}
	for _, row := range rows {
		kc, mc := number(t, row["kc11_n_per_mm2"]), number(t, row["mc_exp"])
		found := false
		for _, f := range records {
			if f.Method == material.Kienzle && f.Source == row["source"] && f.SpecificCuttingForce11NPerMM2.V == kc && f.ChipThicknessExp.V == mc {
				found, used[f.ID] = true, true
				if !slices.Contains(basisOf[row["standing"]], f.Basis) {
					t.Errorf("%s: %s ships as %s", f.ID, row["standing"], f.Basis)
				}
			}
		}
		if found != (row["ships"] == "yes") {
			t.Errorf("%s %s %v/%v: ships %s, found %v", row["source"], row["material"], kc, mc, row["ships"], found)
		}
	}
	for _, f := range records {
		if f.Method == material.Kienzle && f.Source != "common-practice" && !used[f.ID] {
			t.Errorf("%s stands in no gathered row", f.ID)
		}
	}
}

// printedBand reports whether a record serves the hardness printed: the band itself,
// or a tenth about a single number.
func printedBand(served domain.Range, low, high float64) bool {
	if low == high {
		low, high = math.Round(low*0.9), math.Round(high*1.1)
	}
	return served.Low.V == low && served.High.V == high
}

// unnamed are the sources whose records do not begin their note with the material as
// printed, because it is plain from the scope.
var unnamed = []string{"carvill", "pcsharma", "kalpakjian-ex"}

// TestEveryUnitPowerShips checks the same of the unit powers: those printed at the
// motor ship times 0.8, those printed as a range as its geometric mean.
func TestEveryUnitPowerShips(t *testing.T) {
	records := embedded(t).Force
	rows := gathered(t, "unit_power_rows.tsv")
	if len(rows) != 230 {
		t.Fatalf("%d gathered rows, want 230", len(rows))
	}
	used := map[string]bool{}
	for _, row := range rows {
		low, high, isRange := strings.Cut(row["printed_j_per_mm3"], "-")
		energy := number(t, low)
		if isRange {
			energy = math.Sqrt(energy * number(t, high))
		}
		if row["at_the_motor"] == "yes" {
			energy *= 0.8
		}
		found := false
		for _, f := range records {
			if f.Method != material.UnitPower || f.Source != row["source"] || math.Abs(f.EnergyJPerMM3.V-energy) > 0.0006 {
				continue
			}
			if row["process"] != "" && f.Process != row["process"] || row["hardness_low_hbw"] != "" &&
				!printedBand(f.Hardness, number(t, row["hardness_low_hbw"]), number(t, row["hardness_high_hbw"])) {
				continue
			}
			if !slices.Contains(unnamed, f.Source) && !strings.HasPrefix(strings.ToLower(f.Note), strings.ToLower(row["material"])) {
				continue
			}
			found, used[f.ID] = true, true
			if !slices.Contains(basisOf[row["standing"]], f.Basis) {
				t.Errorf("%s: %s ships as %s", f.ID, row["standing"], f.Basis)
			}
			if motor := strings.Contains(f.Note, "times 0.8"); motor != (row["at_the_motor"] == "yes") {
				t.Errorf("%s: the note must name the correction by 0.8 and only then: %q", f.ID, f.Note)
			}
		}
		if found != (row["ships"] == "yes") {
			t.Errorf("%s %s %s: ships %s, found %v", row["source"], row["material"], row["printed_j_per_mm3"], row["ships"], found)
		}
	}
	for _, f := range records {
		if f.Method == material.UnitPower && !used[f.ID] {
			t.Errorf("%s stands in no gathered row", f.ID)
		}
	}
}

// TestUnitPowerColumns checks the two columns of the gathered rows against each
// other: 1 hp.min/in3 is 2.730 J/mm3 (exact definitions). Textbook tables round
// both to two figures.
func TestUnitPowerColumns(t *testing.T) {
	for _, row := range gathered(t, "unit_power_rows.tsv") {
		if row["hp_min_per_in3"] == "" || strings.Contains(row["hp_min_per_in3"], "-") {
			continue
		}
		hp, energy := number(t, row["hp_min_per_in3"]), number(t, row["printed_j_per_mm3"])
		slack := 0.006 + 0.005*2.730
		if row["source"] == "groover" || row["source"] == "kalpakjian-ex" {
			slack = 0.05 + 0.05*2.730
		}
		if math.Abs(energy-2.730*hp) > slack {
			t.Errorf("%s %s: %v J/mm3 against %v hp.min/in3", row["source"], row["material"], energy, hp)
		}
	}
}
