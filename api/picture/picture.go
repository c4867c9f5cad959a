package picture

import (
	"bytes"
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"

	"swarf/domain/unit"
)

// Picture is drawn and can be written.
type Picture struct {
	Title, Says string // for those who do not see it
	height      vg.Length
	paint       func(draw.Canvas)
}

// A picture is 800 pixels wide at 96 to the inch.
const (
	dotsPerInch = 96
	wide        = 600 // points
	tall        = 390
)

// SVG writes the picture as SVG with its font, the same bytes each time.
func (p *Picture) SVG() []byte {
	c := vgsvg.NewWith(vgsvg.UseWH(wide, p.height), vgsvg.EmbedFonts(true))
	p.paint(draw.New(c))
	var out bytes.Buffer
	if _, err := c.WriteTo(&out); err != nil {
		panic(err) // a buffer takes everything
	}
	about := fmt.Sprintf("<title>%s</title>\n<desc>%s</desc>\n", html.EscapeString(p.Title), html.EscapeString(p.Says))
	head, rest, _ := strings.Cut(out.String(), "<defs>")
	return []byte(head + about + "<defs>" + rest)
}

// PNG writes the picture as PNG, the same bytes each time.
func (p *Picture) PNG() []byte {
	c := vgimg.NewWith(vgimg.UseWH(wide, p.height), vgimg.UseDPI(dotsPerInch))
	p.paint(draw.New(c))
	var out bytes.Buffer
	if _, err := (vgimg.PngCanvas{Canvas: c}).WriteTo(&out); err != nil {
		panic(err) // a buffer takes everything
	}
	return out.Bytes()
}

// onePlot is a picture of one plot.
func onePlot(title, says string, p *plot.Plot) *Picture {
	return &Picture{Title: title, Says: says, height: tall, paint: func(c draw.Canvas) {
		c.SetColor(p.BackgroundColor)
		p.Draw(draw.Crop(c, 8, -14, 6, -8))
	}}
}

// twoPlots is a picture of two plots above one another, with their axes in line.
func twoPlots(title, says string, upper, lower *plot.Plot) *Picture {
	return &Picture{Title: title, Says: says, height: tall * 1.35, paint: func(c draw.Canvas) {
		tiles := draw.Tiles{Rows: 2, Cols: 1, PadTop: 6, PadBottom: 6, PadLeft: 8, PadRight: 14, PadY: 10}
		cells := plot.Align([][]*plot.Plot{{upper}, {lower}}, tiles, c)
		upper.Draw(cells[0][0])
		lower.Draw(cells[1][0])
	}}
}

// ticks are marks at round numbers, written plainly.
type ticks struct{}

// Ticks implements plot.Ticker.
func (ticks) Ticks(low, high float64) []plot.Tick {
	span := high - low
	if !(span > 0) || math.IsInf(span, 0) {
		return []plot.Tick{{Value: low, Label: short(low)}}
	}
	step := math.Pow(10, math.Floor(math.Log10(span/4)))
	for _, k := range [...]float64{1, 2, 2.5, 5, 10} {
		if span/(step*k) <= 7 {
			step *= k
			break
		}
	}
	var list []plot.Tick
	for v := math.Ceil(low/step-1e-9) * step; v <= high+step*1e-9; v += step {
		list = append(list, plot.Tick{Value: v, Label: short(v)})
	}
	return list
}

// short writes a number with few digits, zero without a sign.
func short(v float64) string {
	if math.Abs(v) < 1e-12 {
		return "0"
	}
	digits := 4
	if whole := math.Abs(v); whole >= 1e4 {
		digits = int(math.Log10(whole)) + 1
	}
	return strconv.FormatFloat(round(v, digits), 'f', -1, 64)
}

func round(v float64, digits int) float64 {
	out, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64)
	return out
}

// line is a curve.
func line(points plotter.XYs, s stroke) *plotter.Line {
	l, err := plotter.NewLine(points)
	if err != nil {
		panic(err) // finite numbers only
	}
	l.LineStyle = s.style()
	return l
}

// mark is a point: hollow for the sharp edge, full for the worn one.
func mark(at plotter.XY, worn bool) *plotter.Scatter {
	s, err := plotter.NewScatter(plotter.XYs{at})
	if err != nil {
		panic(err) // finite numbers only
	}
	s.GlyphStyle = draw.GlyphStyle{Color: ink, Radius: vg.Points(4), Shape: draw.RingGlyph{}}
	if worn {
		s.GlyphStyle.Shape = draw.TriangleGlyph{}
		s.GlyphStyle.Radius = vg.Points(5)
	}
	return s
}

// degrees are marks of a full turn.
type degrees struct{}

// Ticks implements plot.Ticker.
func (degrees) Ticks(low, high float64) []plot.Tick {
	var list []plot.Tick
	for v := 0.0; v <= 360; v += 45 {
		list = append(list, plot.Tick{Value: v, Label: short(v)})
	}
	return list
}

// amount writes a metric number in the caller's units.
func amount(q unit.Quantity, v float64, system unit.System) string {
	return strings.TrimSpace(short(q.FromMetric(system, v)) + " " + q.Label(system))
}
