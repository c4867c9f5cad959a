package machine_test

import (
	"slices"
	"testing"

	"swarf/domain/machine"
)

// The law of a spindle's curve changes at the ends of gears, at the knee of a pair, where
// 9549·P/T is reached, and at every point of a list.
func TestBreaksOfASpindle(t *testing.T) {
	s := machine.Spindle{Gears: []machine.Gear{
		{MinSpeedPerMin: 20, MaxSpeedPerMin: 1500, Ratings: []machine.Rating{{PowerKW: 15, TorqueNm: 95.49296585513721}}},
		{MinSpeedPerMin: 60, MaxSpeedPerMin: 8000, Ratings: []machine.Rating{{Points: []machine.Point{{SpeedPerMin: 700, PowerKW: 22}, {SpeedPerMin: 6000, PowerKW: 22}}}}},
	}}
	got := s.BreaksPerMin()
	for _, want := range []float64{20, 1500, 60, 8000, 700, 6000} {
		if !slices.ContainsFunc(got, func(v float64) bool { return v > want*(1-1e-9) && v < want*(1+1e-9) }) {
			t.Errorf("no break at %v in %v", want, got)
		}
	}
	if len(got) != 8 { // the first point is the knee of its list, the knee of the pair is the end of its gear
		t.Errorf("%d breaks: %v", len(got), got)
	}
}
