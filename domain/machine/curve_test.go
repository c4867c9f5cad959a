package machine_test

import (
	"math"
	"slices"
	"strings"
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

// FuzzParseDuty: what is read as a rating is one of IEC 60034-1, with numbers in digits, and
// comes back when it is written.
func FuzzParseDuty(f *testing.F) {
	for _, seed := range []string{"S1", "S2-30", "S6-40", "S3-25", "S6-40.5", "S2-0x10", "S2-1e3", "S2-+30", "S2-NaN", "S6-Inf", "S6-100", "S1-10", "S6-", "s6-40", "S2-1_0", "S2-.5", "S2-00030"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, err := machine.ParseDuty(text)
		if err != nil {
			return
		}
		if strings.Trim(text, "S-.0123456789") != "" || !(d.CycleMinutes >= 0 && d.CycleMinutes <= 1e4) || !(d.Percent >= 0 && d.Percent < 100) {
			t.Fatalf("%q is read as %+v", text, d)
		}
		if again, err := machine.ParseDuty(d.String()); err != nil || again != d {
			t.Fatalf("%q is %+v, written %q, read %+v (%v)", text, d, d, again, err)
		}
	})
}

// A power curve of points is straight between them and of constant torque below the first; a
// pair is of constant torque below its knee.
func TestPowerAlongACurve(t *testing.T) {
	points := machine.Rating{Points: []machine.Point{{1000, 10}, {3000, 20}, {6000, 14}}}
	pair := machine.Rating{PowerKW: 10, TorqueNm: 95.49296585513721} // knee at 1000/min
	for _, c := range []struct {
		rating      machine.Rating
		speed, want float64
	}{
		{points, 500, 5}, {points, 1000, 10}, {points, 2000, 15}, {points, 4500, 17}, {points, 6000, 14}, {points, 7000, 14},
		{pair, 500, 5}, {pair, 1000, 10}, {pair, 4000, 10},
	} {
		if got := c.rating.PowerKWAt(c.speed); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("at %v/min %v kW, want %v", c.speed, got, c.want)
		}
	}
	if got := points.MaxTorqueNm(); math.Abs(got-95.49296585513721) > 1e-9 {
		t.Errorf("the largest torque is %v", got)
	}
}
