// Package picture draws what an answer says: curves of a spindle, a cut over one turn, the
// region in which a cut can run, and how far limits are used. Pictures are light, made for
// print and for grey: what differs, differs in dash, mark or words as well as in colour. The
// font is in the picture.
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

// Sizes of letters, points; the smallest can still be read on a phone that is held upright.
const (
	titleSize = 15
	headSize  = 11
	labelSize = 11
	footSize  = 10
)

// The colours, apart in grey as well: from black over blue and orange to the palest.
var (
	ink    = color.Gray{0x20}
	soft   = color.Gray{0x4c}
	blue   = color.RGBA{0x1f, 0x5a, 0x9c, 0xff}
	azure  = color.RGBA{0x3a, 0x8d, 0xd6, 0xff}
	orange = color.RGBA{0xd0, 0x6a, 0x10, 0xff}
	grey   = color.Gray{0x80}
	light  = color.Gray{0xd8}
	sky    = color.RGBA{0xbf, 0xd4, 0xea, 0xff}
	meadow = color.RGBA{0xe9, 0xf5, 0xe1, 0xff} // where a cut can run
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

// Inks and dashes tell the lines of one picture apart, by two things at once.
var (
	inks   = []color.Color{ink, azure, orange, grey}
	dashes = [][]float64{nil, {7, 3}, {2, 2}, {8, 2, 2, 2}}
)

// written is text of a size.
func written(size vg.Length, c color.Color) text.Style {
	s := text.Style{Color: c, Font: face, Handler: letters}
	s.Font.Size = size
	return s
}

// chart is an empty plot in our look.
func chart(x, y string) *plot.Plot {
	p := plot.New()
	p.BackgroundColor = color.White
	p.X.Label.Text, p.Y.Label.Text = x, y
	p.TextHandler = letters
	for _, s := range []*text.Style{&p.Title.TextStyle, &p.X.Label.TextStyle, &p.Y.Label.TextStyle, &p.X.Tick.Label, &p.Y.Tick.Label, &p.Legend.TextStyle} {
		s.Font, s.Handler, s.Color = face, letters, ink
		s.Font.Size = labelSize
	}
	p.Title.Padding = vg.Points(3)
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.LineStyle.Color, a.Tick.LineStyle.Color = grey, grey
		a.Tick.Marker, a.Padding, a.Tick.Length = ticks{}, 0, vg.Points(4)
		a.Label.Padding = vg.Points(3)
	}
	return p
}

// grid is drawn under or over the rest.
func grid() *plotter.Grid {
	g := plotter.NewGrid()
	g.Vertical = stroke{light, 0.5, nil}.style()
	g.Horizontal = g.Vertical
	return g
}
