package picture

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"

	"swarf/domain/unit"
)

// Bar is how far one limit is used with a sharp and with a worn edge.
type Bar struct {
	Name        string
	Sharp, Worn unit.Opt // 1 is all of it
	Binding     bool     // of the limits of a cut the one that is used most
}

// mostRatio is how far beyond its limit a bar is drawn; its number says how far it goes.
const mostRatio = 2.5

// numberWide is the room of a number beside the bars, points.
const numberWide vg.Length = 58

// Bars draws how far limits are used, the first one on top, against all of each.
//
// Range: up to a hundred bars. Source: the contract's section 3.2.
func Bars(title string, bars []Bar, about About) *Picture {
	p := chart("share of the limit, %", "")
	out := &Picture{Title: title, about: about, panels: []*plot.Plot{p}, tall: vg.Length(72 + 24*len(bars))}
	end, most, left := 1.05, 0.0, vg.Length(0)
	names := make([]plot.Tick, len(bars))
	for i, b := range bars {
		names[i] = plot.Tick{Value: float64(len(bars) - i), Label: b.Name}
		most = max(most, b.Sharp.Or(0), b.Worn.Or(0))
		left = max(left, written(labelSize, ink).Width(b.Name))
	}
	if end = max(end, 1.02*min(most, mostRatio)); most > mostRatio {
		p.X.Label.Text += fmt.Sprintf(" (longer bars end at %v)", 100*mostRatio)
	}
	room := wide - 2*marginSide - max(left, 20) - 10 // of the bars with their numbers, points
	most = 100 * end * float64(room/max(room-2*numberWide, room/3))
	column := func(k float64) float64 { return most * (1 - float64(numberWide/room)*k) }
	p.X.Min, p.X.Max = 0, most
	p.Y.Min, p.Y.Max = 0.4, float64(len(bars))+1.4
	p.Y.Tick.Marker, p.Y.Tick.LineStyle.Width, p.Y.LineStyle.Width = plot.ConstantTicks(names), 0, 0
	p.X.Tick.Marker = plot.ConstantTicks(ticks{}.Ticks(0, 100*end))
	bound := false
	for i, b := range bars {
		if row := float64(len(bars) - i); b.Binding {
			frame := bar(row, 0.47, 0.999*most/100, color.White)
			frame.LineStyle = stroke{ink, 1, nil}.style()
			p.Add(frame)
			bound = true
		}
	}
	p.Add(grid())
	for i, b := range bars {
		row := float64(len(bars) - i)
		for _, state := range []struct {
			used unit.Opt
			half float64
			fill color.Color
			at   float64
		}{{b.Worn, 0.34, sky, 0.12}, {b.Sharp, 0.17, blue, 1.12}} {
			if state.used.OK {
				p.Add(bar(row, state.half, math.Min(state.used.V, end), state.fill), label(plotter.XY{X: column(state.at), Y: row}, percent(state.used.V), text.XRight))
			}
		}
	}
	all := line(plotter.XYs{{X: 100, Y: 0.4}, {X: 100, Y: float64(len(bars)) + 0.6}}, stroke{ink, 1.6, []float64{6, 3}})
	p.Add(all)
	over := float64(len(bars)) + 0.95
	p.Add(label(plotter.XY{X: column(1.12), Y: over}, "sharp", text.XRight), label(plotter.XY{X: column(0.12), Y: over}, "worn", text.XRight))
	out.key = []entry{{"sharp edge", swatch{blue, grey}}, {"worn edge", swatch{sky, grey}}, {"all of the limit", all}}
	if bound {
		out.key = append(out.key, entry{"the binding limit", swatch{color.White, ink}})
	}
	out.Says = says(bars)
	return out
}

// says writes the bars for those who do not see them.
func says(bars []Bar) string {
	out := fmt.Sprintf("%d limits", len(bars))
	for _, b := range bars {
		out += fmt.Sprintf("; %s: %s used with a sharp edge, %s with a worn one", b.Name, percent(b.Sharp.Or(0)), percent(b.Worn.Or(0)))
	}
	return out
}

func percent(v float64) string {
	if v >= 10 {
		return "over 999 %"
	}
	return fmt.Sprintf("%.1f %%", 100*v)
}

// bar is a rectangle of a row.
func bar(row, half, end float64, c color.Color) *plotter.Polygon {
	return area(c, plotter.XYs{{X: 0, Y: row - half}, {X: 100 * end, Y: row - half}, {X: 100 * end, Y: row + half}, {X: 0, Y: row + half}})
}
