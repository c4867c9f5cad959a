package picture

import (
	"bytes"
	"fmt"
	"html"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"

	"swarf/domain/unit"
)

// About is what stands around a drawing, so that it can be read alone, on paper too.
type About struct {
	System unit.System
	Head   []string // under the title: the cut, its parameters, the machine
	Result string   // under that, plainer: the verdict
	Foot   []string // under the drawing: data, caution
}

// with adds what is to be known of a kind of drawing before the rest under it.
func (a About) with(note string) About {
	a.Foot = append([]string{note}, a.Foot...)
	return a
}

// Picture is drawn and can be written: a title and what the drawing is of, a key, panels
// above one another with their axes in line, and what is to be known when it is read.
type Picture struct {
	Title, Says string // Says is for those who do not see it
	about       About
	key         []entry
	panels      []*plot.Plot
	tall        vg.Length // all panels together
	inset       bool      // in a page: narrow, without what the page says
}

// Inset makes the picture narrow, for a page that is read on a phone as well, and leaves its
// title and the words around it to the page.
func (p *Picture) Inset() {
	p.inset, p.about, p.tall = true, About{System: p.about.System}, 0.85*p.tall
}

// across is how wide the picture is.
func (p *Picture) across() vg.Length {
	if p.inset {
		return narrow
	}
	return wide
}

// entry is a line of the key.
type entry struct {
	words string
	sign  plot.Thumbnailer
}

// A picture is 800 pixels wide at 96 to the inch.
const (
	dotsPerInch = 96
	wide        = 600 // points
	narrow      = 340
)

// SVG writes the picture as SVG with its font, the same bytes each time.
func (p *Picture) SVG() []byte {
	s := p.lay()
	c := vgsvg.NewWith(vgsvg.UseWH(p.across(), s.height), vgsvg.EmbedFonts(true))
	s.paint(draw.New(c))
	var out bytes.Buffer
	if _, err := c.WriteTo(&out); err != nil {
		panic(err) // a buffer takes everything
	}
	about := fmt.Sprintf("<title>%s</title>\n<desc>%s</desc>\n", html.EscapeString(p.Title), html.EscapeString(p.Says))
	head, rest, _ := strings.Cut(out.String(), "<defs>")
	return []byte(strings.Replace(head, "<svg ", `<svg role="img" `, 1) + about + "<defs>" + rest)
}

// PNG writes the picture as PNG, the same bytes each time.
func (p *Picture) PNG() []byte {
	s := p.lay()
	c := vgimg.NewWith(vgimg.UseWH(p.across(), s.height), vgimg.UseDPI(dotsPerInch))
	s.paint(draw.New(c))
	return encode(c.Image())
}
