package picture

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"testing"

	"gonum.org/v1/plot/plotter"

	"swarf/domain/cut"
	"swarf/domain/cut/cuttest"
	"swarf/domain/estimate"
	"swarf/domain/machine"
	"swarf/domain/region"
	"swarf/domain/unit"
)

// on is a cut of an operation on a machine that does it.
func on(name string) *cut.Cut {
	c := cuttest.Of(name)
	c.Machine = cuttest.Machine(cuttest.Drive{PowerKW: 6, TorqueNm: 20, MaxSpeedPerMin: 6000})
	if c.Operation.Family == cut.TurningFamily {
		c.Machine.Process = machine.Turning
	}
	return c
}

// Every picture of every operation that there is can be written, with and without a machine,
// in both unit systems: SVG is sound XML, PNG, of every fifth, 800 wide and as high as the SVG.
func TestEveryPictureIsSound(t *testing.T) {
	drawn := 0
	for _, name := range cut.Names() {
		c := on(name)
		for _, m := range []*machine.Machine{c.Machine, nil} {
			c.Machine = m
			e := estimate.Of(c)
			for _, system := range []unit.System{unit.Metric, unit.Inch} {
				about := About{System: system, Head: []string{"a & b < c"}, Result: "verdict: yes", Foot: []string{"foot"}}
				list := []*Picture{Revolution(e, about), Region(e, about)}
				if m != nil {
					list = append(list, Spindle(m, e, about), Spindle(m, nil, about), Bars("limits", []Bar{{Name: "torque", Sharp: unit.Some(0.4), Worn: unit.Some(7)}, {Name: "grip"}}, about))
				}
				for _, p := range list {
					if p != nil {
						if sound(t, name, p); drawn%5 == 0 {
							soundPNG(t, name, p)
						}
						drawn++
					}
				}
			}
		}
	}
	if drawn < 150 {
		t.Errorf("only %d pictures were drawn", drawn)
	}
}

func sound(t *testing.T, name string, p *Picture) {
	t.Helper()
	for d := xml.NewDecoder(bytes.NewReader(p.SVG())); ; {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatalf("%s, %s: %v", name, p.Title, err)
		}
	}
}

func soundPNG(t *testing.T, name string, p *Picture) {
	t.Helper()
	m, err := png.DecodeConfig(bytes.NewReader(p.PNG()))
	if err != nil || m.Width != 800 || m.Height != int(math.Round(float64(p.lay().height)*800/wide)) && m.Height != int(float64(p.lay().height)*800/wide) {
		t.Fatalf("%s, %s: %v, %+v", name, p.Title, err, m)
	}
}

// What is shaded is all that the axes span, and nothing else was looked at: no place looks
// as if nothing stood against it for want of a look.
func TestRegionIsShadedAllOver(t *testing.T) {
	for _, name := range []string{"side-milling", "drilling", "turning"} {
		e := estimate.Of(on(name))
		r, _ := region.Of(e)
		m := newMap(r, unit.Inch)
		sum := 0.0
		for _, rings := range m.rings {
			for _, ring := range rings {
				sum += size(ring.(plotter.XYs))
			}
		}
		p := Region(e, About{System: unit.Inch}).panels[0]
		if all := (p.X.Max - p.X.Min) * (p.Y.Max - p.Y.Min); math.Abs(sum/all-1) > 1e-6 {
			t.Errorf("%s: %v of %v is shaded", name, sum, all)
		}
		if p.Y.Max > m.y(r.FeedMM*region.HighRatio)*(1+1e-9) || p.X.Max > m.x(r.SpeedMPerMin*region.HighRatio)*(1+1e-9) {
			t.Errorf("%s: the axes go on to %v and %v", name, p.X.Max, p.Y.Max)
		}
	}
}

// size is the area of a ring.
func size(ring plotter.XYs) float64 {
	sum := 0.0
	for i, a := range ring {
		b := ring[(i+1)%len(ring)]
		sum += (a.X*b.Y - b.X*a.Y) / 2
	}
	return math.Abs(sum)
}

// The curves that are drawn are what is allowed, between their points too.
func TestSpindleCurvesAreWhatIsAllowed(t *testing.T) {
	m := cuttest.Machine(cuttest.Drive{PowerKW: 6, TorqueNm: 20, MaxSpeedPerMin: 6000})
	m.Spindle.Gears[1].Ratings[1].Points = []machine.Point{{SpeedPerMin: 900, PowerKW: 3}, {SpeedPerMin: 2500, PowerKW: 8}, {SpeedPerMin: 6000, PowerKW: 5}}
	for i := range m.Spindle.Gears {
		g := &m.Spindle.Gears[i]
		for k := range g.Ratings {
			torque, power := curves(m, g, &g.Ratings[k], 60, unit.Metric)
			for i := range torque[1:] {
				n := (torque[i].X + torque[i+1].X) / 2
				want := estimate.TorqueAllowedNm(m, &g.Ratings[k], n)
				if got := (torque[i].Y + torque[i+1].Y) / 2; math.Abs(got-want) > 2e-3*g.Ratings[k].MaxTorqueNm() {
					t.Errorf("%v N·m at %v, allowed %v", got, n, want)
				}
				if got := (power[i].Y + power[i+1].Y) / 2; math.Abs(got-want*n*2*math.Pi/60000) > 2e-3*8 {
					t.Errorf("%v kW at %v, allowed %v N·m", got, n, want)
				}
			}
		}
	}
}

// A curve that is thinned out is the same curve to within what was asked.
func TestThinnedCurveIsTheSame(t *testing.T) {
	var points plotter.XYs
	for i := range 721 {
		points = append(points, plotter.XY{X: float64(i), Y: math.Abs(math.Sin(float64(i) / 40))})
	}
	thin, k := thinned(points, 0.002), 0
	for _, p := range points {
		for thin[k+1].X < p.X {
			k++
		}
		a, b := thin[k], thin[k+1]
		if y := a.Y + (b.Y-a.Y)*(p.X-a.X)/(b.X-a.X); math.Abs(y-p.Y) > 0.002 {
			t.Errorf("at %v: %v, was %v", p.X, y, p.Y)
		}
	}
	if len(thin) > len(points)/4 {
		t.Errorf("%d of %d points are left", len(thin), len(points))
	}
}

// A palette keeps every colour that fills an area, one that is nearly another's too, and is
// near those of rims.
func TestPaletteKeepsColours(t *testing.T) {
	m := image.NewRGBA(image.Rect(0, 0, 100, 100))
	for i := range 100 * 100 {
		c := color.RGBA{0xd2, 0xd2, 0xd2, 0xff}
		if i >= 5000 { // rims: a thousand blends of four colours with white
			k, way := i%250, [4][3]int{{250, 250, 250}, {250, 120, 0}, {0, 120, 250}, {120, 0, 120}}[i%4]
			c = color.RGBA{uint8(255 - way[0]*k/250), uint8(255 - way[1]*k/250), uint8(255 - way[2]*k/250), 0xff}
		} else if i >= 4000 {
			c = color.RGBA{0xd8, 0xd8, 0xd8, 0xff}
		}
		m.SetRGBA(i%100, i/100, c)
	}
	got, err := png.Decode(bytes.NewReader(encode(m)))
	if err != nil {
		t.Fatal(err)
	}
	for i := range 100 * 100 {
		was, _, _, _ := m.At(i%100, i/100).RGBA()
		is, _, _, _ := got.At(i%100, i/100).RGBA()
		if d := int(is>>8) - int(was>>8); i < 5000 && d != 0 || d > 16 || d < -16 {
			t.Fatalf("pixel %d is %v, was %v", i, got.At(i%100, i/100), m.At(i%100, i/100))
		}
	}
}
