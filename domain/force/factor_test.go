package force

import (
	"math"
	"testing"
)

// A steeper rake takes less force, 1.5 % a degree and no more than ten degrees of it; harder
// metal, more.
func TestFactorsPointTheRightWay(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"rake of the record", RakeRatio(Rake{6, 6}), 1},
		{"six degrees steeper", RakeRatio(Rake{12, 6}), 0.91},
		{"twelve degrees flatter, taken as ten", RakeRatio(Rake{-6, 6}), 1.15},
		{"as hard as the record", HardnessRatio(Harder{200, 200}), 1},
		{"harder by a fifth", HardnessRatio(Harder{240, 200}), math.Pow(1.2, 0.475)},
		{"far harder, no further than what was measured", HardnessRatio(Harder{400, 200}), math.Pow(1.3, 0.475)},
	} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("%s: %v, want %v", c.name, c.got, c.want)
		}
	}
}

// A hole that is there already is not cut again: the torque of the rest and of the first
// hole are that of the whole, at one chip; its force likewise (an identity of the ring).
func TestDrilledRingsAddUp(t *testing.T) {
	law := Law{2000, 0.25}
	ring := func(to, from float64) Drilled { return Drilled{law, 0.1, 0.2, to, from} }
	if whole, parts := DrillingTorqueNm(ring(20, 0)), DrillingTorqueNm(ring(20, 12))+DrillingTorqueNm(ring(12, 0)); math.Abs(whole-parts) > 1e-9*whole {
		t.Errorf("torque %v in one, %v in two", whole, parts)
	}
	if whole, parts := DrillingForceN(ring(20, 0)), DrillingForceN(ring(20, 12))+DrillingForceN(ring(12, 0)); math.Abs(whole-parts) > 1e-9*whole {
		t.Errorf("force %v in one, %v in two", whole, parts)
	}
}

// The motor gives what the cut takes and what the drive loses, and idles besides.
func TestMotorGivesMoreThanTheCutTakes(t *testing.T) {
	if got := (Drive{EfficiencyRatio: 0.8, IdlePowerKW: 0.5}).MotorPowerKW(4); math.Abs(got-5.5) > 1e-12 {
		t.Errorf("%v kW", got)
	}
}
