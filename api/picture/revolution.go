package picture

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/plotter"

	"swarf/api/wire"
	"swarf/domain/estimate"
	"swarf/domain/force"
	"swarf/domain/unit"
)

// turnSamples are the turns at which a revolution is drawn: every half degree.
const turnSamples = 721

// Revolution draws the torque of all teeth and the forces on the cutter along and across the
// feed over one turn of a mill, sharp and worn, with their means; nil for a cut that does not
// pulse so.
//
// Range: any estimate. Source: the contract's section 3.2.
func Revolution(e *estimate.Estimate, about About) *Picture {
	turn := e.Turn(turnSamples)
	if turn == nil {
		return nil
	}
	system := about.System
	about = about.with("Forces on the cutter, milled conventionally, the heavier way round. Above nought they push against the feed; across it, towards the side on which a chip begins at nothing.")
	out := &Picture{Title: "One turn of the cutter", about: about, tall: 460,
		Says: fmt.Sprintf("torque over one turn: mean %s, peak %s with a sharp edge", wire.Written(unit.Torque, e.Sharp.TorqueNm, system), wire.Written(unit.Torque, e.Sharp.TorquePeakNm, system))}
	for _, row := range []struct {
		name string
		q    unit.Quantity
		of   func(force.Instant) float64
	}{
		{"torque", unit.Torque, func(i force.Instant) float64 { return i.TorqueNm }},
		{"force against the feed", unit.Force, func(i force.Instant) float64 { return i.FeedN }},
		{"force across the feed", unit.Force, func(i force.Instant) float64 { return i.AcrossN }},
	} {
		curve := make(plotter.XYs, len(turn))
		for i, at := range turn {
			curve[i] = plotter.XY{X: at.TurnDeg, Y: row.q.FromMetric(system, row.of(at))}
		}
		out.swing(row.name, row.q.Label(system), curve, e.WearRatio)
	}
	for _, p := range out.panels[:2] {
		p.X.Tick.Marker = blank{degrees{}}
	}
	out.panels[2].X.Label.Text = "turn, " + unit.Angle.Label(system)
	return out
}

// swing adds a panel of one curve over a turn: the sharp edge's line, a band from it to the
// worn edge's, and the mean, which stands in its heading with the highest.
func (p *Picture) swing(name, label string, sharp plotter.XYs, wear float64) {
	chart := chart("", label)
	mean, most := 0.0, 0.0
	for i, at := range sharp {
		if i > 0 {
			mean += at.Y / float64(len(sharp)-1)
		}
		most = max(most, at.Y, -at.Y)
	}
	sharp = thinned(sharp, most/1500)
	var band plotter.XYs
	for _, at := range sharp {
		band = append(band, plotter.XY{X: at.X, Y: at.Y * wear})
	}
	for i := range sharp {
		band = append(band, sharp[len(sharp)-1-i])
	}
	curve := line(sharp, stroke{ink, 1.5, nil})
	level := line(plotter.XYs{{X: 0, Y: mean}, {X: 360, Y: mean}}, stroke{orange, 1.5, []float64{5, 3}})
	chart.Add(area(sky, band), grid(), level, curve)
	chart.Title.Text = fmt.Sprintf("%s: mean %s, at most %s %s with a sharp edge; worn %s and %s", name, wire.Short(mean), wire.Short(most), label, wire.Short(mean*wear), wire.Short(most*wear))
	chart.X.Min, chart.X.Max, chart.X.Tick.Marker = 0, 360, degrees{}
	chart.Y.Min, chart.Y.Max = min(0, chart.Y.Min*1.08), max(0, chart.Y.Max*1.08)
	if p.key == nil {
		p.key = []entry{{"sharp edge", curve}, {"up to the worn edge", swatch{sky, grey}}, {"mean, sharp edge", level}}
	}
	p.panels = append(p.panels, chart)
}

// thinned leaves out the points of a curve that lie on the line between those kept, to within
// a distance up or down.
func thinned(points plotter.XYs, within float64) plotter.XYs {
	out := points[:1:1]
	for from := 0; from < len(points)-1; {
		to := from + 1
		for to+1 < len(points) && straight(points[from:to+2], within) {
			to++
		}
		out, from = append(out, points[to]), to
	}
	return out
}

func straight(points plotter.XYs, within float64) bool {
	a, b := points[0], points[len(points)-1]
	for _, p := range points[1 : len(points)-1] {
		if math.Abs(a.Y+(b.Y-a.Y)*(p.X-a.X)/(b.X-a.X)-p.Y) > within {
			return false
		}
	}
	return true
}
