package estimate_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"swarf/domain/estimate"
	"swarf/domain/machine"
)

// A cut is under the curve of what a rating allows exactly when both its limits hold, with
// idle power that is most of the rating as well as with none.
func TestUnderTheCurveExactlyWhenBothLimitsHold(t *testing.T) {
	random := rand.New(rand.NewPCG(6, 2))
	under, over := 0, 0
	for range 4_000 {
		m := spindle(2+30*random.Float64(), 5+200*random.Float64(), 8_000)
		m.Spindle.IdlePowerKW *= 4 * random.Float64()
		if random.IntN(3) == 0 {
			m.Spindle.Gears[1].Ratings[0].Points = []machine.Point{{SpeedPerMin: 400, PowerKW: 3}, {SpeedPerMin: 1500, PowerKW: 9}, {SpeedPerMin: 6000, PowerKW: 7}}
		}
		c := millingCut()
		c.Machine = m
		c.Parameters.CuttingSpeedMPerMin = n(10 + 280*random.Float64())
		c.Parameters.FeedPerToothMM = n(0.01 * math.Pow(40, random.Float64()))
		e := estimate.Of(c)
		torque, _ := e.Machine.Limit("torque")
		power, _ := e.Machine.Limit("power")
		rating := e.Machine.Gear.Held(c.Rating)
		speed := e.Motion.SpindleSpeedPerMin
		allowed := estimate.TorqueAllowedNm(m, rating, speed)
		for _, state := range []struct{ torque, demand, power float64 }{{e.Sharp.TorqueNm, torque.Utilisation, power.Utilisation}, {e.Worn().TorqueNm, torque.UtilisationWorn, power.UtilisationWorn}} {
			holds := max(state.demand, state.power) <= 1
			if math.Abs(max(state.demand, state.power)-1) < 1e-9 {
				continue
			}
			if holds != (state.torque <= allowed) {
				t.Fatalf("%v N·m at %v against %v N·m: torque used %v, power %v", state.torque, speed, allowed, state.demand, state.power)
			}
			if holds {
				under++
			} else {
				over++
			}
		}
	}
	if under < 1000 || over < 1000 {
		t.Errorf("%d under the curve and %d over it: too few of one", under, over)
	}
}

// On either side of its knee a rating of one pair is flat in torque, then in power.
func TestKneesOfARating(t *testing.T) {
	m := spindle(10, 100, 8_000)
	r := &m.Spindle.Gears[1].Ratings[0]
	at := estimate.Knees(m, r)[0]
	if flat := r.TorqueNm * m.Spindle.EfficiencyRatio; math.Abs(estimate.TorqueAllowedNm(m, r, at*0.999)/flat-1) > 1e-12 || estimate.TorqueAllowedNm(m, r, at*1.001) > flat*0.9995 {
		t.Errorf("no knee at %v", at)
	}
}
