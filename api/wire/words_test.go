package wire

import (
	"strings"
	"testing"

	"swarf/domain/unit"
)

func TestWords(t *testing.T) {
	depth, angle, yes, no := 25.4, 12.345678, true, false
	e := Engagement{AxialDepth: &depth, EngagementAngle: &angle, Through: &yes, Stacked: &no, Retract: "full"}
	for system, want := range map[unit.System]string{
		unit.Metric: "axial depth 25.4 mm, engagement angle 12.35°, through, retract full",
		unit.Inch:   "axial depth 1 in, engagement angle 12.35°, through, retract full",
	} {
		if got := strings.Join(Words(&e, system), ", "); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestWritten(t *testing.T) {
	for _, c := range []struct {
		q      unit.Quantity
		v      float64
		system unit.System
		want   string
	}{{unit.Rotation, 596.831, unit.Metric, "596.8/min"}, {unit.Torque, 177.31, unit.Metric, "177.3 N·m"}, {unit.Angle, 45, unit.Inch, "45°"}, {unit.Length, 25.4, unit.Inch, "1 in"}, {unit.None, 0.5, unit.Metric, "0.5"}} {
		if got := Written(c.q, c.v, c.system); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

func TestShort(t *testing.T) {
	for v, want := range map[float64]string{0: "0", -1e-15: "0", 0.0012346: "0.001235", 3.14159: "3.142", 596.831: "596.8", 12345.6: "12346", -250: "-250", 0.1 + 0.2: "0.3"} {
		if got := Short(v); got != want {
			t.Errorf("%v is %s, want %s", v, got, want)
		}
	}
}
