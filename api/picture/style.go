// Package picture draws what an answer says: curves of a spindle, a cut over one turn, the
// region in which a cut can run, and how far limits are used. Pictures are light, made for
// print and for grey: what differs, differs in dash or mark as well as in colour. The font
// is in the picture.
package picture

import (
	_ "embed"
	"image/color"

	"golang.org/x/image/font/opentype"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

//go:embed font/regular.ttf
var regular []byte

// face is the one font of pictures.
var face = font.Font{Typeface: "Go", Variant: "Sans"}

// letters lays text out in that font.
var letters = func() text.Handler {
	parsed, err := opentype.Parse(regular)
	if err != nil {
		panic(err) // it is in the binary; a test parses it
	}
	return text.Plain{Fonts: font.NewCache(font.Collection{{Font: face, Face: parsed}})}
}()

// Sizes of letters.
const (
	titleSize = 12
	labelSize = 10
	tickSize  = 9
)

// The colours, apart in grey as well: black, blue, orange, grey.
var (
	ink    = color.Gray{0x20}
	blue   = color.RGBA{0x1f, 0x5a, 0x9c, 0xff}
	orange = color.RGBA{0xd0, 0x6a, 0x10, 0xff}
	grey   = color.Gray{0x80}
	light  = color.Gray{0xd8}
	pale   = color.Gray{0xec}
)

// stroke is how a line is drawn.
type stroke struct {
	color  color.Color
	width  float64 // points
	dashes []float64
}

func (s stroke) style() draw.LineStyle {
	out := draw.LineStyle{Color: s.color, Width: vg.Points(s.width)}
	for _, d := range s.dashes {
		out.Dashes = append(out.Dashes, vg.Points(d))
	}
	return out
}

// strokes tell the lines of one picture apart.
var strokes = []stroke{
	{ink, 1.6, nil},
	{blue, 1.6, []float64{6, 3}},
	{orange, 1.6, []float64{2, 2}},
	{grey, 1.6, []float64{8, 2, 2, 2}},
	{ink, 1.0, []float64{1, 2}},
	{blue, 1.0, []float64{10, 4}},
	{orange, 1.0, []float64{4, 2, 1, 2}},
	{grey, 1.0, nil},
}

func strokeOf(i int) stroke { return strokes[i%len(strokes)] }

// chart is an empty plot in our look.
func chart(title, x, y string) *plot.Plot {
	p := plot.New()
	p.BackgroundColor = color.White
	p.Title.Text, p.X.Label.Text, p.Y.Label.Text = title, x, y
	p.Title.Padding = vg.Points(6)
	for _, s := range []*text.Style{&p.Title.TextStyle, &p.X.Label.TextStyle, &p.Y.Label.TextStyle, &p.X.Tick.Label, &p.Y.Tick.Label, &p.Legend.TextStyle} {
		s.Font, s.Handler, s.Color = face, letters, ink
	}
	p.TextHandler = letters
	p.Title.TextStyle.Font.Size = titleSize
	p.X.Label.TextStyle.Font.Size, p.Y.Label.TextStyle.Font.Size = labelSize, labelSize
	p.X.Tick.Label.Font.Size, p.Y.Tick.Label.Font.Size, p.Legend.TextStyle.Font.Size = tickSize, tickSize, tickSize
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.LineStyle.Color, a.Tick.LineStyle.Color = grey, grey
		a.Tick.Marker = ticks{}
	}
	p.Legend.Top, p.Legend.ThumbnailWidth, p.Legend.Padding = true, vg.Points(34), vg.Points(1)
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = light, light
	grid.Vertical.Width, grid.Horizontal.Width = vg.Points(0.5), vg.Points(0.5)
	p.Add(grid)
	return p
}

// label is text at a point.
func label(at plotter.XY, words string, right bool) *plotter.Labels {
	l, err := plotter.NewLabels(plotter.XYLabels{XYs: plotter.XYs{at}, Labels: []string{words}})
	if err != nil {
		panic(err) // finite numbers only
	}
	l.TextStyle[0] = text.Style{Color: ink, Font: face, Handler: letters, XAlign: text.XLeft, YAlign: text.YCenter}
	l.TextStyle[0].Font.Size = tickSize
	l.Offset = vg.Point{X: vg.Points(6)}
	if right {
		l.TextStyle[0].XAlign, l.Offset.X = text.XRight, vg.Points(-6)
	}
	return l
}

// swatch is a colour in a legend.
type swatch struct{ color color.Color }

// Thumbnail implements plot.Thumbnailer.
func (s swatch) Thumbnail(c *draw.Canvas) {
	points := []vg.Point{{X: c.Min.X, Y: c.Min.Y}, {X: c.Max.X, Y: c.Min.Y}, {X: c.Max.X, Y: c.Max.Y}, {X: c.Min.X, Y: c.Max.Y}}
	c.FillPolygon(s.color, c.ClipPolygonY(points))
	c.StrokeLines(draw.LineStyle{Color: grey, Width: vg.Points(0.6)}, append(points, points[0]))
}
