package data

import "testing"

// TestHardness checks the conversion table against values of another published table
// (ASTM E140 / SAE J417 lineage as a metal distributor prints it: HRC 30 is HV 302 and
// 286 HBW, HRC 40 is HV 392 and 371 HBW, HRC 50 is HV 513 and 481 HBW), which must lie
// between the rows around them within what the two tables differ by.
func TestHardness(t *testing.T) {
	rows, err := loadHardness()
	if err != nil {
		t.Fatal(err)
	}
	sources := sourceIDs(t)
	withHRB := 0
	for _, r := range rows {
		if r.HV == 0 || !sources[r.Source] {
			t.Errorf("row %+v: no Vickers or no source", r)
		}
		if r.HBW > 0 && (r.HBW/r.HV < 0.93 || r.HBW/r.HV > 0.97) {
			t.Errorf("HV %v: HBW %v is not its usual 0.95", r.HV, r.HBW)
		}
		if r.HRB > 0 {
			withHRB++
		}
	}
	if len(rows) != 69 || withHRB != 16 {
		t.Errorf("%d rows, %d with HRB; want 69 and 16", len(rows), withHRB)
	}
	for _, c := range []struct{ hrc, hv, hbw float64 }{{30, 302, 286}, {40, 392, 371}, {50, 513, 481}} {
		found := false
		for i := 1; i < len(rows); i++ {
			a, b := rows[i-1], rows[i]
			if a.HRC == 0 || c.hrc < a.HRC || c.hrc > b.HRC {
				continue
			}
			found = true
			share := (c.hrc - a.HRC) / (b.HRC - a.HRC)
			hv, hbw := a.HV+share*(b.HV-a.HV), a.HBW+share*(b.HBW-a.HBW)
			if hv < c.hv*0.99 || hv > c.hv*1.01 || hbw < c.hbw*0.98 || hbw > c.hbw*1.02 {
				t.Errorf("HRC %v: HV %.1f, HBW %.1f; the other table has %v, %v", c.hrc, hv, hbw, c.hv, c.hbw)
			}
		}
		if !found {
			t.Errorf("HRC %v is outside the table", c.hrc)
		}
	}
}
