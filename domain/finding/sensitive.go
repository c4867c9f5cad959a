package finding

import (
	"math"
	"strconv"

	"swarf/domain"
	"swarf/domain/estimate"
	"swarf/domain/tool"
	"swarf/domain/unit"
)

// sensitiveRatio is how much an assumed input may move a load before somebody must read it.
const sensitiveRatio = 0.10

// other is what a tool might have had where the class's default was taken: one edge more,
// or angles so much to either side. Common practice, no source.
type other struct {
	field string
	steps [2]float64 // 0: none
	of    func(*tool.Tool) **float64

	// peakOnly: it moves the peak alone, which matters against a spindle, and the more the
	// smaller it is; so the first of its steps that the class allows is enough.
	peakOnly bool
}

var others = []other{
	{"tool.effective_edges", [2]float64{1, 0}, func(t *tool.Tool) **float64 { return &t.EffectiveEdgesCount }, false},
	{"tool.cutting_edge_angle", [2]float64{-15, 15}, func(t *tool.Tool) **float64 { return &t.CuttingEdgeAngleDeg }, false},
	{"tool.point_angle", [2]float64{-20, 20}, func(t *tool.Tool) **float64 { return &t.PointAngleDeg }, false},
	{"tool.flute_helix_angle", [2]float64{-10, 10}, func(t *tool.Tool) **float64 { return &t.FluteHelixAngleDeg }, true},
	{"tool.chamfer_threads", [2]float64{-1, 1}, func(t *tool.Tool) **float64 { return &t.ChamferThreadsCount }, false},
}

// sensitive warns where a default that might well be otherwise moves torque or its peak by
// more than a tenth.
func (j *judge) sensitive() {
	if !j.e.HasLoads {
		return
	}
	for i := range j.c.Assumed {
		for k := range others {
			o := &others[k]
			if o.field == j.c.Assumed[i].Field && (j.c.Machine != nil || !o.peakOnly) {
				j.vary(o)
			}
		}
	}
}

func (j *judge) vary(o *other) {
	member := *o.of(&j.c.Tool)
	if member == nil {
		return
	}
	given := *member
	most, at := 0.0, 0.0
	for _, step := range o.steps {
		value := given + step
		if step == 0 || !j.allows(o.field, value) {
			continue
		}
		if effect := j.effect(o, value); effect > most {
			most, at = effect, value
		}
		if o.peakOnly {
			break
		}
	}
	if over(most, sensitiveRatio) {
		j.list = append(j.list, domain.Finding{Code: "sensitive-default", Severity: domain.Warning, Field: o.field,
			Value: j.measure(unit.None, 100*most), Limit: j.measure(unit.None, 100*sensitiveRatio),
			Message: "this was assumed, and " + strconv.FormatFloat(at, 'g', 6, 64) + " in its place would move the torque by {value} %", Fix: "give it"})
	}
}

// effect is how much torque or its peak would change, as a share.
func (j *judge) effect(o *other, value float64) float64 {
	if ratio, ok := j.e.TorqueRatioAtEdgeAngle(value); ok && o.field == "tool.cutting_edge_angle" {
		return math.Abs(ratio - 1)
	}
	loads, _ := estimate.LoadsWith(j.c, func(t *tool.Tool) { *o.of(t) = &value })
	return max(math.Abs(loads.TorqueNm/j.e.Sharp.TorqueNm-1), math.Abs(loads.TorquePeakNm/j.e.Sharp.TorquePeakNm-1))
}

// allows reports a value inside the class's range, and an angle that is one.
func (j *judge) allows(field string, value float64) bool {
	if value <= 0 || value > 180 {
		return false
	}
	p, ok := j.c.Tool.Class.Property(field[len("tool."):])
	return !ok || (!p.Low.OK || value >= p.Low.V) && (!p.High.OK || value <= p.High.V)
}
