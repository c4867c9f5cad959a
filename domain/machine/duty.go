package machine

import (
	"fmt"
	"strconv"
	"strings"
)

// Duty is a duty type after IEC 60034-1: S1 continuous, S2 short-time for a number
// of minutes, S3 and S6 intermittent with a cyclic duration factor.
type Duty struct {
	Type         string  // S1, S2, S3, S6
	Percent      float64 // cyclic duration factor of S3 and S6
	CycleMinutes float64 // cycle of S3 and S6 (10 unless said), run time of S2
}

// Continuous is S1.
var Continuous = Duty{Type: "S1"}

// DefaultCycleMinutes is the cycle that IEC 60034-1 assumes for S3 and S6.
const DefaultCycleMinutes = 10

// ParseDuty reads "S1", "S2-30" (minutes), "S3-25" or "S6-40" (percent of a ten
// minute cycle).
func ParseDuty(text string) (Duty, error) {
	kind, number, dashed := strings.Cut(text, "-")
	if kind == "S1" && !dashed {
		return Continuous, nil
	}
	value, err := strconv.ParseFloat(number, 64)
	if err != nil || !dashed || strings.Trim(number, "0123456789.") != "" || !(value > 0) || value > 1e4 {
		return Duty{}, fmt.Errorf("rating %q: write S1, S2-30 (minutes), S3-25 or S6-40 (percent)", text)
	}
	switch kind {
	case "S2":
		return Duty{Type: kind, CycleMinutes: value}, nil
	case "S3", "S6":
		if value < 100 {
			return Duty{Type: kind, Percent: value, CycleMinutes: DefaultCycleMinutes}, nil
		}
	}
	return Duty{}, fmt.Errorf("rating %q: write S1, S2-30 (minutes), S3-25 or S6-40 (percent)", text)
}

// String writes the duty as ParseDuty reads it.
func (d Duty) String() string {
	switch d.Type {
	case "S2":
		return "S2-" + strconv.FormatFloat(d.CycleMinutes, 'f', -1, 64)
	case "S3", "S6":
		return d.Type + "-" + strconv.FormatFloat(d.Percent, 'f', -1, 64)
	}
	return "S1"
}

// ShortTerm reports a rating that may not be used without end.
func (d Duty) ShortTerm() bool { return d.Type != "S1" }

// Allows reports whether cutting minutes within a cycle stay inside the duty.
//
// Range: minutes above zero. Errors: none; a duty without a cycle allows nothing
// but S1. Source: IEC 60034-1, duty types S1, S2, S3, S6 (recalled).
func (d Duty) Allows(u Use) bool {
	switch d.Type {
	case "S1":
		return true
	case "S2":
		return u.CuttingMinutes <= d.CycleMinutes
	}
	longest := d.CycleMinutes * d.Percent / 100
	return u.CuttingMinutes <= longest && u.CycleMinutes > 0 && u.CuttingMinutes/u.CycleMinutes <= d.Percent/100
}

// Use is how long and how often a cut runs.
type Use struct {
	CuttingMinutes, CycleMinutes float64
}
