package unit_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"swarf/domain/unit"
)

// vocabularies reads what others say of our units; the file names them.
func vocabularies(t *testing.T) []map[string]string {
	t.Helper()
	file, err := os.Open("../../testdata/units/vocabularies.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	lines, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, name := range lines[0] {
			row[name] = line[i]
		}
		rows = append(rows, row)
	}
	return rows
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Every unit is in the file, with the codes that the lists of others have for it.
func TestUnitsGoByTheCodesOfOthers(t *testing.T) {
	rows, found := vocabularies(t), 0
	for _, q := range unit.Quantities() {
		for _, s := range []unit.System{unit.Metric, unit.Inch} {
			for _, row := range rows {
				if row["quantity"] != q.Name() || row["system"] != s.String() {
					continue
				}
				found++
				v := q.Vocabulary(s)
				if q.Code(s) != row["ucum"] || v.UNECE != row["unece"] || v.QUDT != row["qudt"] {
					t.Errorf("%s, %s: %s %+v, the lists have %v", q.Name(), s, q.Code(s), v, row)
				}
				if id := unit.OPCUnitID(v.UNECE); v.UNECE != "" && strconv.FormatInt(id, 10) != row["opc_unit_id"] || v.UNECE == "" && id != 0 {
					t.Errorf("%s: unit id %d, OPC UA has %s", v.UNECE, id, row["opc_unit_id"])
				}
			}
		}
	}
	if want := 2 * len(unit.Quantities()); found != want || len(rows) != want {
		t.Errorf("%d of %d rows are of units, want %d", found, len(rows), want)
	}
}

// A general library for UCUM converts every unit as we do: the code is valid and means what
// we take it for.
func TestUnitsConvertAsUCUMDoes(t *testing.T) {
	for _, row := range vocabularies(t) {
		q, _ := unit.Named(row["quantity"])
		s, _ := unit.ParseSystem(row["system"])
		theirs, ours := number(t, row["in_metric"]), q.ToMetric(s, 100)
		if math.Abs(ours-theirs) > 1e-11*math.Abs(theirs) {
			t.Errorf("100 %s are %v %s, the library has %v", row["ucum"], ours, q.Code(unit.Metric), theirs)
		}
	}
}

// The QUDT unit of an inch column is as large against that of its metric column as ours. QUDT
// rounds some factors (pound-force, horsepower) in the eighth digit.
func TestUnitsConvertAsQUDTDoes(t *testing.T) {
	metric, compared := map[string]map[string]string{}, 0
	for _, row := range vocabularies(t) {
		if row["system"] == "metric" {
			metric[row["quantity"]] = row
			continue
		}
		of := metric[row["quantity"]]
		if row["qudt"] == "" || of["qudt"] == "" {
			continue
		}
		compared++
		if row["qudt_dimension"] != of["qudt_dimension"] {
			t.Errorf("%s and %s measure different things", row["qudt"], of["qudt"])
		}
		q, _ := unit.Named(row["quantity"])
		// QUDT: SI = (value + offset) × multiplier.
		theirs := (100+number(t, row["qudt_offset"]))*number(t, row["qudt_multiplier"])/number(t, of["qudt_multiplier"]) - number(t, of["qudt_offset"])
		if ours := q.ToMetric(unit.Inch, 100); math.Abs(ours-theirs) > 1e-7*math.Abs(theirs) {
			t.Errorf("100 %s are %v %s, QUDT has %v", row["qudt"], ours, of["qudt"], theirs)
		}
	}
	if compared < 20 {
		t.Errorf("only %d units compared", compared)
	}
}
