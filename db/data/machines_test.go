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
// invented and agree with themselves: S1 in every gear, knees inside the gear, torque
// that does not rise with speed, short-term ratings above the continuous one.
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
				checkRating(t, m.ID, gear, rating, gear.Ratings[at])
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

// checkRating checks one rating: power = torque x speed / 9549 at a knee inside the
// gear, torque not rising with speed, and no short-term rating below S1.
func checkRating(t *testing.T, id string, gear machine.Gear, rating, continuous machine.Rating) {
	t.Helper()
	torque, power := rating.TorqueNm, rating.PowerKW
	knee := 9549 * power / torque
	if points := rating.Points; len(points) > 0 {
		knee, power = points[0].SpeedPerMin, points[0].PowerKW
		torque = 9549 * power / knee
		for i := 1; i < len(points); i++ {
			if points[i].PowerKW/points[i].SpeedPerMin > points[i-1].PowerKW/points[i-1].SpeedPerMin {
				t.Errorf("%s %s %s: torque rises above %v/min", id, gear.Name, rating.Duty, points[i-1].SpeedPerMin)
			}
			if points[i].SpeedPerMin > gear.MaxSpeedPerMin {
				t.Errorf("%s %s %s: point above the gear", id, gear.Name, rating.Duty)
			}
		}
	}
	if knee <= gear.MinSpeedPerMin || knee >= gear.MaxSpeedPerMin {
		t.Errorf("%s %s %s: knee at %.0f/min outside %v to %v", id, gear.Name, rating.Duty, knee, gear.MinSpeedPerMin, gear.MaxSpeedPerMin)
	}
	base := continuous.PowerKW
	if len(continuous.Points) > 0 {
		base = continuous.Points[0].PowerKW
	}
	if rating.Duty.ShortTerm() && power <= base {
		t.Errorf("%s %s %s: %v kW is no more than continuous", id, gear.Name, rating.Duty, power)
	}
}
