package picture

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"swarf/domain/unit"
)

// Bar is how far one limit is used with a sharp and with a worn edge.
type Bar struct {
	Name        string
	Sharp, Worn unit.Opt // 1 is all of it
}

// Bars draws how far limits are used, the first one on top, against all of each.
//
// Range: up to a hundred bars. Source: the contract's section 3.2.
func Bars(title string, bars []Bar) *Picture {
	p := chart(title, "share of the limit, %", "")
	most := 1.0
	names := make([]plot.Tick, len(bars))
	for i, b := range bars {
		row := float64(len(bars) - i)
		names[i] = plot.Tick{Value: row, Label: b.Name}
		for _, v := range []unit.Opt{b.Sharp, b.Worn} {
			if v.OK {
				most = max(most, math.Min(v.V, 3))
			}
		}
	}
	for i, b := range bars {
		row := float64(len(bars) - i)
		if b.Worn.OK {
			p.Add(bar(row, 0.32, b.Worn.V, most, light))
		}
		if b.Sharp.OK {
			p.Add(bar(row, 0.16, b.Sharp.V, most, blue))
		}
		if v := max(b.Sharp.Or(0), b.Worn.Or(0)); v > 0 {
			words := short(round(100*v, 3)) + " %"
			p.Add(label(plotter.XY{X: 100 * most * 1.03, Y: row}, words, false))
		}
	}
	top := float64(len(bars)) + 0.6
	all := line(plotter.XYs{{X: 100, Y: 0.4}, {X: 100, Y: top}}, stroke{ink, 1.4, []float64{6, 3}})
	p.Add(all)
	p.Legend.Add("all of it", all)
	p.Legend.Add("sharp edge", swatch{blue})
	p.Legend.Add("worn edge", swatch{light})
	p.X.Min, p.X.Max = 0, 100*most*1.2
	p.Y.Min, p.Y.Max = 0.4, top+2
	p.Y.Tick.Marker = plot.ConstantTicks(names)
	out := onePlot(title, fmt.Sprintf("%d limits, up to %s %% used", len(bars), short(round(100*most, 3))), p)
	out.height = vg.Length(math.Max(180, 135+22*float64(len(bars))))
	return out
}

// bar is a rectangle of a row, cut off where the picture ends.
func bar(row, half, v, most float64, c color.Color) *plotter.Polygon {
	end := 100 * math.Min(v, most*1.15)
	p, err := plotter.NewPolygon(plotter.XYs{{X: 0, Y: row - half}, {X: end, Y: row - half}, {X: end, Y: row + half}, {X: 0, Y: row + half}})
	if err != nil {
		panic(err) // finite numbers only
	}
	p.Color = c
	p.LineStyle = draw.LineStyle{Color: grey, Width: vg.Points(0.6)}
	return p
}
