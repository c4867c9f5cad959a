package picture

import (
	"fmt"

	"gonum.org/v1/plot/plotter"

	"swarf/domain/estimate"
	"swarf/domain/unit"
)

// turnSamples are the turns at which a revolution is drawn: every half degree.
const turnSamples = 721

// Revolution draws the cutting force of all teeth and the torque over one turn of a mill,
// sharp and worn, with the mean; nil for a cut that does not pulse so.
//
// Range: any estimate. Source: the contract's section 3.2.
func Revolution(e *estimate.Estimate, system unit.System) *Picture {
	turn := e.Turn(turnSamples)
	if turn == nil {
		return nil
	}
	force := chart("one turn of the cutter", "", "cutting force, "+unit.Force.Label(system))
	torque := chart("", "turn, "+unit.Angle.Label(system), "torque, "+unit.Torque.Label(system))
	var sharp, worn, moment, wornMoment plotter.XYs
	for _, i := range turn {
		f, t := unit.Force.FromMetric(system, i.TangentialN), unit.Torque.FromMetric(system, i.TorqueNm)
		sharp, worn = append(sharp, plotter.XY{X: i.TurnDeg, Y: f}), append(worn, plotter.XY{X: i.TurnDeg, Y: f * e.WearRatio})
		moment, wornMoment = append(moment, plotter.XY{X: i.TurnDeg, Y: t}), append(wornMoment, plotter.XY{X: i.TurnDeg, Y: t * e.WearRatio})
	}
	level := func(q unit.Quantity, v float64) plotter.XYs {
		y := q.FromMetric(system, v)
		return plotter.XYs{{X: 0, Y: y}, {X: 360, Y: y}}
	}
	a, b := line(sharp, strokes[0]), line(worn, strokes[1])
	mean := line(level(unit.Force, e.Sharp.CuttingForceN), strokes[2])
	force.Add(a, b, mean)
	force.Legend.Add("sharp edge", a)
	force.Legend.Add("worn edge", b)
	force.Legend.Add("mean, sharp edge", mean)
	torque.Add(line(moment, strokes[0]), line(wornMoment, strokes[1]), line(level(unit.Torque, e.Sharp.TorqueNm), strokes[2]))
	force.Y.Min, torque.Y.Min = 0, 0
	force.Y.Max, torque.Y.Max = force.Y.Max*1.3, torque.Y.Max*1.1
	force.X.Min, force.X.Max, torque.X.Min, torque.X.Max = 0, 360, 0, 360
	force.X.Tick.Marker, torque.X.Tick.Marker = degrees{}, degrees{}
	return twoPlots("one turn of the cutter", fmt.Sprintf("torque over one turn: mean %s, peak %s with a sharp edge", amount(unit.Torque, e.Sharp.TorqueNm, system), amount(unit.Torque, e.Sharp.TorquePeakNm, system)), force, torque)
}
