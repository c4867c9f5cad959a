package picture

import (
	"fmt"
	"image/color"
	"slices"
	"strings"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/finding"
	"swarf/domain/unit"
)

// How finely a region is looked at, and how far around the cut. Common practice, no source.
const (
	regionCells = 80
	regionLow   = 0.25
	regionHigh  = 2.5
)

// Region draws where around a cut, in cutting speed and feed, nothing forbids it with a
// worn edge, and by what each part around is forbidden; nil for a cut whose feed is its
// pitch, and for one without loads.
//
// Range: an estimate with its parameters. Source: the contract's section 3.2.
func Region(e *estimate.Estimate, system unit.System) *Picture {
	if e.Cut.Operation.FeedIsPitch || !e.HasLoads {
		return nil
	}
	r := region{e: e, system: system}
	feedName, feed := "feed per turn", e.Motion.FeedPerRevolutionMM
	if r.tooth = e.Cut.Operation.Family == cut.MillingFamily; r.tooth {
		feedName, feed = "feed per tooth", e.Motion.FeedPerToothMM
	}
	r.speed, r.feed = e.Motion.CuttingSpeedMPerMin, feed
	r.look()
	p := chart("where the cut can run with a worn edge", "cutting speed, "+unit.Speed.Label(system), feedName+", "+unit.Length.Label(system))
	says, named := []string{}, []*plotter.Labels{}
	for k, why := range r.reasons {
		cells := r.cells(k + 1)
		if cells == nil {
			continue
		}
		p.Add(cells)
		if at, ok := r.middle(k + 1); ok {
			named = append(named, label(at, why, false))
		}
		p.Legend.Add(why, swatch{cells.Color})
		says = append(says, why)
	}
	for _, l := range named {
		l.TextStyle[0].XAlign, l.Offset.X = text.XCenter, 0
		p.Add(l)
	}
	p.Legend.Add("nothing forbids it", swatch{color.White})
	at := mark(plotter.XY{X: r.x(1), Y: r.y(1)}, true)
	p.Add(at)
	p.Legend.Add("the cut", at)
	p.X.Min, p.X.Max = r.x(regionLow), r.x(regionHigh)
	p.Y.Min, p.Y.Max = r.y(regionLow), r.y(regionHigh+0.14*float64(len(says)+2)) // room for the legend
	return onePlot("where the cut can run", fmt.Sprintf("around %s and %s it is forbidden by %s", amount(unit.Speed, r.speed, system), amount(unit.Length, r.feed, system), strings.Join(says, ", ")), p)
}

// region is what was found, cell by cell: 0 for free, else the number of a reason.
type region struct {
	e           *estimate.Estimate
	system      unit.System
	tooth       bool
	speed, feed float64
	found       [regionCells][regionCells]int // by feed, then speed
	reasons     []string
}

func (r *region) x(k float64) float64 { return unit.Speed.FromMetric(r.system, r.speed*k) }
func (r *region) y(k float64) float64 { return unit.Length.FromMetric(r.system, r.feed*k) }

// factor is that of the middle of a cell.
func factor(i int) float64 {
	return regionLow + (regionHigh-regionLow)*(float64(i)+0.5)/regionCells
}

// look judges every cell.
func (r *region) look() {
	for i := range regionCells {
		for k := range regionCells {
			if why := r.forbids(factor(k), factor(i)); why != "" {
				at := slices.Index(r.reasons, why)
				if at < 0 {
					at = len(r.reasons)
					r.reasons = append(r.reasons, why)
				}
				r.found[i][k] = at + 1
			}
		}
	}
}

// forbids names what stands against the cut at factors on speed and feed: the limit that is
// most over, else the first refusal, else the first hold that the cut itself has not.
func (r *region) forbids(speed, feed float64) string {
	c := *r.e.Cut
	v, f := r.speed*speed, r.feed*feed
	c.Parameters = cut.Parameters{CuttingSpeedMPerMin: &v, FeedPerRevolutionMM: &f}
	if r.tooth {
		c.Parameters = cut.Parameters{CuttingSpeedMPerMin: &v, FeedPerToothMM: &f}
	}
	e := estimate.Lean(&c)
	worst, over := "", 1.0
	if m := e.Machine; m != nil {
		for i := range m.Limits {
			if l := &m.Limits[i]; l.UtilisationWorn > over*(1+1e-9) {
				worst, over = strings.ReplaceAll(l.Name, "_", " "), l.UtilisationWorn
			}
		}
	}
	if worst != "" {
		return worst
	}
	for _, grave := range finding.Grave(e) {
		if grave.Severity == domain.Refusal {
			return grave.Code
		}
	}
	if h := e.Chip.ThicknessMaxMM; h > 0 && h < finding.MinimumChipMM(&c)*(1-1e-9) {
		return "chip too thin"
	}
	return ""
}

// cells are the rectangles of a reason, nil when it has none.
func (r *region) cells(reason int) *plotter.Polygon {
	var rings []plotter.XYer
	edge := func(i int) float64 { return regionLow + (regionHigh-regionLow)*float64(i)/regionCells }
	for i := range regionCells {
		for k := 0; k < regionCells; k++ {
			if r.found[i][k] != reason {
				continue
			}
			from := k
			for k+1 < regionCells && r.found[i][k+1] == reason {
				k++
			}
			x0, x1, y0, y1 := r.x(edge(from)), r.x(edge(k+1)), r.y(edge(i)), r.y(edge(i+1))
			rings = append(rings, plotter.XYs{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}})
		}
	}
	if rings == nil {
		return nil
	}
	p, err := plotter.NewPolygon(rings...)
	if err != nil {
		panic(err) // finite numbers only
	}
	shade := shades[(reason-1)%len(shades)]
	p.Color, p.LineStyle.Width = shade, 0
	return p
}

// middle is where the name of a reason stands: the middle of its cells, where they are many
// and one of them is there.
func (r *region) middle(reason int) (plotter.XY, bool) {
	rows, columns, n := 0, 0, 0
	for i := range regionCells {
		for k := range regionCells {
			if r.found[i][k] == reason {
				rows, columns, n = rows+i, columns+k, n+1
			}
		}
	}
	const few = regionCells * regionCells / 60
	if n < few || r.found[rows/n][columns/n] != reason {
		return plotter.XY{}, false
	}
	return plotter.XY{X: r.x(factor(columns / n)), Y: r.y(factor(rows / n))}, true
}

// shades tell reasons apart, in grey as well.
var shades = []color.Color{color.RGBA{0xd6, 0xe4, 0xf4, 0xff}, color.RGBA{0xee, 0xb8, 0x82, 0xff}, color.Gray{0x9a}, color.RGBA{0x8f, 0xb2, 0xd8, 0xff}, color.RGBA{0xf7, 0xe2, 0xc8, 0xff}, color.Gray{0xcc}}
