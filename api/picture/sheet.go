package picture

import (
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Space around and between the parts of a picture, points.
const (
	marginSide   = 14
	marginTop    = 10
	marginBottom = 9
	gap          = 7
	signWide     = 26
	signGap      = 5
	entryGap     = 16
	leading      = 1.32 // of a line, in its size
)

// sheet is a picture laid out: what stands in which line, and how high it all is.
type sheet struct {
	*Picture
	head, result, foot []string
	key                [][]entry // by rows
	height             vg.Length
}

// lay breaks lines and finds the height.
func (p *Picture) lay() *sheet {
	s := &sheet{Picture: p}
	for _, line := range p.about.Head {
		s.head = append(s.head, broken(line, written(headSize, soft), p.across())...)
	}
	if p.about.Result != "" {
		s.result = broken(p.about.Result, written(labelSize, ink), p.across())
	}
	for _, line := range p.about.Foot {
		s.foot = append(s.foot, broken(line, written(footSize, soft), p.across())...)
	}
	style, room := written(labelSize, ink), vg.Length(0)
	for _, e := range p.key {
		need := style.Width(e.words) + signWide + signGap + entryGap
		if len(s.key) == 0 || need-entryGap > room {
			s.key, room = append(s.key, nil), p.across()-2*marginSide
		}
		s.key[len(s.key)-1] = append(s.key[len(s.key)-1], e)
		room -= need
	}
	if p.inset {
		s.height = high(len(s.key), labelSize) + 2*gap + p.tall
		return s
	}
	s.height = marginTop + high(1, titleSize) + high(len(s.head), headSize) + high(len(s.result)+len(s.key), labelSize) + 3*gap + p.tall + high(len(s.foot), footSize) + marginBottom
	return s
}

func high(lines int, size vg.Length) vg.Length { return vg.Length(lines) * leading * size }

// paint draws the sheet from the top.
func (s *sheet) paint(c draw.Canvas) {
	if s.inset {
		s.paintDrawing(c, c.Max.Y)
		return
	}
	y := c.Max.Y - marginTop
	down := func(lines []string, style text.Style) {
		for _, line := range lines {
			y -= leading * style.Font.Size
			c.FillText(style, vg.Point{X: c.Min.X + marginSide, Y: y + 0.3*style.Font.Size}, strings.ReplaceAll(line, "\u00a0", " "))
		}
	}
	down([]string{s.Title}, written(titleSize, ink))
	down(s.head, written(headSize, soft))
	down(s.result, written(labelSize, ink))
	y = s.paintDrawing(c, y-gap) - gap
	c.StrokeLine2(stroke{light, 0.8, nil}.style(), c.Min.X+marginSide, y+gap/3, c.Max.X-marginSide, y+gap/3)
	down(s.foot, written(footSize, soft))
}

// paintDrawing draws the key and the panels from a height down, and says how far it came.
func (s *sheet) paintDrawing(c draw.Canvas, y vg.Length) vg.Length {
	for _, row := range s.key {
		y -= leading * labelSize
		s.paintKey(c, row, y)
	}
	y -= gap
	s.paintPanels(draw.Crop(c, marginSide, -marginSide, y-s.tall-c.Min.Y, y-c.Max.Y))
	return y - s.tall
}

// paintKey draws one row of the key.
func (s *sheet) paintKey(c draw.Canvas, row []entry, y vg.Length) {
	style := written(labelSize, ink)
	x := c.Min.X + marginSide
	for _, e := range row {
		at := c
		at.Min, at.Max = vg.Point{X: x, Y: y + 1}, vg.Point{X: x + signWide, Y: y + 0.95*labelSize}
		e.sign.Thumbnail(&at)
		x += signWide + signGap
		c.FillText(style, vg.Point{X: x, Y: y + 0.25*labelSize}, e.words)
		x += style.Width(e.words) + entryGap
	}
}

// paintPanels draws the panels with their axes in line.
func (s *sheet) paintPanels(c draw.Canvas) {
	rows := make([][]*plot.Plot, len(s.panels))
	for i, p := range s.panels {
		rows[i] = []*plot.Plot{p}
	}
	for i, cell := range plot.Align(rows, draw.Tiles{Rows: len(rows), Cols: 1, PadY: 6, PadRight: 4}, c) {
		s.panels[i].Draw(cell[0])
	}
}

// broken breaks a line between words to a width. A no-break space holds what
// belongs together.
func broken(line string, style text.Style, width vg.Length) []string {
	var lines []string
	now := ""
	for word := range strings.SplitSeq(line, " ") {
		next := word
		if now != "" {
			next = now + " " + word
		}
		if now != "" && style.Width(next) > width-2*marginSide {
			lines, next = append(lines, now), word
		}
		now = next
	}
	return append(lines, now)
}
