package estimate

import (
	"testing"

	"swarf/domain/machine"
	"swarf/domain/unit"
)

// Stretches over the continuous rating against duties of IEC 60034-1: S6-40 allows four
// minutes of ten, S2-15 a quarter of an hour.
func TestProgramAgainstDuties(t *testing.T) {
	duty := func(name string) machine.Duty {
		d, err := machine.ParseDuty(name)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	type part struct {
		minutes float64
		over    bool
	}
	for name, c := range map[string]struct {
		parts         []part
		s6, s2        bool
		over, longest float64
	}{
		"never over":              {[]part{{20, false}, {5, false}}, true, true, 0, 0},
		"two stretches":           {[]part{{3, true}, {6, false}, {3, true}, {8, false}}, true, true, 6, 3},
		"cuts in one stretch":     {[]part{{3, true}, {2, true}, {30, false}}, false, true, 5, 5},
		"too large a share":       {[]part{{4, true}, {4, false}}, false, true, 4, 4},
		"nothing but the stretch": {[]part{{16, true}}, false, false, 16, 16},
	} {
		var p Program
		for _, x := range c.parts {
			p.Add(unit.Some(x.minutes), x.over)
		}
		if p.OverMinutes != c.over || p.LongestMinutes != c.longest || p.Allowed(duty("S6-40")) != c.s6 || p.Allowed(duty("S2-15")) != c.s2 || p.Allowed(machine.Continuous) != (c.over == 0) {
			t.Errorf("%s: %+v, by S6-40 %v, by S2-15 %v", name, p, p.Allowed(duty("S6-40")), p.Allowed(duty("S2-15")))
		}
	}
	var p Program
	if p.Add(unit.Opt{}, true); p.UnknownCount != 1 || p.CuttingMinutes != 0 {
		t.Errorf("%+v", p)
	}
}
