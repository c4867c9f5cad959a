package data

import (
	"math"
	"slices"
	"strings"
	"testing"

	"swarf/domain"
	"swarf/domain/machine"
)

// TestMachines checks that the machines of the demonstration say that they are
// invented, and that there is one of each kind. What their curves must be is checked
// with all other data (domain/smell).
func TestMachines(t *testing.T) {
	machines, err := loadMachines()
	if err != nil {
		t.Fatal(err)
	}
	var geared, pointed, turning int
	ids := []string{}
	for i := range machines {
		m := &machines[i]
		ids = append(ids, m.ID)
		if m.Basis != domain.Demo || !strings.HasPrefix(m.Note, "demo: invented") {
			t.Errorf("%s: basis %s, note %q", m.ID, m.Basis, m.Note)
		}
		if e := m.Spindle.EfficiencyRatio; e < 0.8 || e > 0.95 {
			t.Errorf("%s: efficiency %v", m.ID, e)
		}
		if m.Process == machine.Turning {
			turning++
		}
		if (m.Process == machine.Turning) != (m.WorkHolding != nil) || m.Meter == nil {
			t.Errorf("%s: work holding %v, meter %v", m.ID, m.WorkHolding, m.Meter)
		}
		if len(m.Spindle.Gears) > 1 {
			geared++
		}
		top := 0.0
		for _, gear := range m.Spindle.Gears {
			top = math.Max(top, gear.MaxSpeedPerMin)
			at := slices.IndexFunc(gear.Ratings, func(r machine.Rating) bool { return !r.Duty.ShortTerm() })
			if at < 0 {
				t.Errorf("%s %s: no S1", m.ID, gear.Name)
				continue
			}
			for _, rating := range gear.Ratings {
				if len(rating.Points) > 0 {
					pointed++
				}
			}
		}
		if top != m.Spindle.MaxSpeedPerMin {
			t.Errorf("%s: gears reach %v of %v", m.ID, top, m.Spindle.MaxSpeedPerMin)
		}
	}
	if len(machines) != 6 || geared < 1 || pointed < 1 || turning < 1 || !slices.Contains(ids, "vmc-50") {
		t.Errorf("machines %v: %d geared, %d ratings by points, %d lathes", ids, geared, pointed, turning)
	}
}
