package picture

import (
	"image/color"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// line is a curve.
func line(points plotter.XYs, s stroke) *plotter.Line {
	l, err := plotter.NewLine(points)
	if err != nil {
		panic(err) // finite numbers only
	}
	l.LineStyle = s.style()
	return l
}

// area is a filled outline without a line, or several as one.
func area(c color.Color, rings ...plotter.XYer) *plotter.Polygon {
	p, err := plotter.NewPolygon(rings...)
	if err != nil {
		panic(err) // finite numbers only
	}
	p.Color, p.LineStyle.Width = c, 0
	return p
}

// mark is a point.
func mark(at plotter.XY, shape draw.GlyphDrawer) *plotter.Scatter {
	s, err := plotter.NewScatter(plotter.XYs{at})
	if err != nil {
		panic(err) // finite numbers only
	}
	s.GlyphStyle = draw.GlyphStyle{Color: ink, Radius: vg.Points(4.5), Shape: shape}
	return s
}

// Shapes of marks: a hollow circle for the sharp edge, a full triangle for the worn one, a
// bar with a full point for a peak, and a full circle for a cut. All are rimmed with white,
// so that no line hides them.
type (
	hollow  struct{}
	pyramid struct{}
	summit  struct{}
	full    struct{}
)

// DrawGlyph implements draw.GlyphDrawer.
func (hollow) DrawGlyph(c *draw.Canvas, s draw.GlyphStyle, at vg.Point) {
	disc(c, color.White, at, s.Radius+1)
	disc(c, s.Color, at, s.Radius)
	disc(c, color.White, at, s.Radius-1.6)
}

// DrawGlyph implements draw.GlyphDrawer.
func (full) DrawGlyph(c *draw.Canvas, s draw.GlyphStyle, at vg.Point) {
	disc(c, color.White, at, s.Radius+1.2)
	disc(c, s.Color, at, s.Radius)
}

// DrawGlyph implements draw.GlyphDrawer.
func (pyramid) DrawGlyph(c *draw.Canvas, s draw.GlyphStyle, at vg.Point) {
	triangle(c, color.White, at, s.Radius+2.2)
	triangle(c, s.Color, at, s.Radius+0.6)
}

// DrawGlyph implements draw.GlyphDrawer.
func (summit) DrawGlyph(c *draw.Canvas, s draw.GlyphStyle, at vg.Point) {
	block(c, color.White, at, vg.Point{X: s.Radius + 2.4, Y: 2.2})
	block(c, s.Color, at, vg.Point{X: s.Radius + 1.4, Y: 1.2})
}

func disc(c *draw.Canvas, fill color.Color, at vg.Point, radius vg.Length) {
	var p vg.Path
	p.Move(vg.Point{X: at.X + radius, Y: at.Y})
	p.Arc(at, radius, 0, 2*3.141592653589793)
	p.Close()
	c.SetColor(fill)
	c.Fill(p)
}

func triangle(c *draw.Canvas, fill color.Color, at vg.Point, radius vg.Length) {
	c.FillPolygon(fill, []vg.Point{{X: at.X, Y: at.Y + radius}, {X: at.X + 0.87*radius, Y: at.Y - radius/2}, {X: at.X - 0.87*radius, Y: at.Y - radius/2}})
}

func block(c *draw.Canvas, fill color.Color, at, half vg.Point) {
	c.FillPolygon(fill, []vg.Point{{X: at.X - half.X, Y: at.Y - half.Y}, {X: at.X + half.X, Y: at.Y - half.Y}, {X: at.X + half.X, Y: at.Y + half.Y}, {X: at.X - half.X, Y: at.Y + half.Y}})
}

// label is text at a point, in the middle of it or to its right.
func label(at plotter.XY, words string, align text.XAlignment) *plotter.Labels {
	l, err := plotter.NewLabels(plotter.XYLabels{XYs: plotter.XYs{at}, Labels: []string{words}})
	if err != nil {
		panic(err) // finite numbers only
	}
	l.TextStyle[0] = written(labelSize, ink)
	l.Offset.Y = 1.5 // letters without a descender stand in the middle then
	l.TextStyle[0].XAlign, l.TextStyle[0].YAlign = align, text.YCenter
	return l
}

// swatch is a colour in a key.
type swatch struct{ fill, rim color.Color }

// Thumbnail implements plot.Thumbnailer.
func (s swatch) Thumbnail(c *draw.Canvas) {
	points := []vg.Point{{X: c.Min.X, Y: c.Min.Y}, {X: c.Max.X, Y: c.Min.Y}, {X: c.Max.X, Y: c.Max.Y}, {X: c.Min.X, Y: c.Max.Y}}
	c.FillPolygon(s.fill, points)
	c.StrokeLines(stroke{s.rim, 0.8, nil}.style(), append(points, points[0]))
}
