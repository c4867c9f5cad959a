package picture

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"

	"swarf/api/wire"
	"swarf/domain/estimate"
	"swarf/domain/region"
	"swarf/domain/unit"
)

// Region draws where around a cut, in cutting speed and feed, nothing stands against it with
// a worn edge, and what does in each part around; nil for a cut whose feed is its pitch, and
// for one without loads. Nothing is drawn beyond what was looked at.
//
// Range: an estimate with its parameters. Source: the contract's section 3.2.
func Region(e *estimate.Estimate, about About) *Picture {
	r, ok := region.Of(e)
	if !ok {
		return nil
	}
	feed := "feed per turn, "
	if r.PerTooth {
		feed = "feed per tooth, "
	}
	system := about.System
	p := chart("cutting speed, "+unit.Speed.Label(system), feed+unit.Length.Label(system))
	out := &Picture{Title: "Where the cut can run with a worn edge", about: about, panels: []*plot.Plot{p}, tall: 330}
	m := newMap(r, system)
	var names []*plotter.Labels
	var said []string
	for k, a := range m.found {
		fill := m.shade(a)
		drawn := area(fill, m.rings[a]...)
		drawn.LineStyle = stroke{fill, 0.4, nil}.style() // no seam between neighbours
		p.Add(drawn)
		out.key = append(out.key, entry{words(a), swatch{fill, grey}})
		if at, ok := m.middle(k, words(a)); ok {
			names = append(names, label(at, words(a), text.XCenter))
		}
		if a.Kind != region.Nothing {
			said = append(said, words(a))
		}
	}
	p.Add(grid())
	for _, edge := range m.edges {
		p.Add(line(edge, stroke{soft, 0.8, nil}))
	}
	at := mark(plotter.XY{X: m.x(r.SpeedMPerMin), Y: m.y(r.FeedMM)}, full{})
	for _, n := range names {
		p.Add(n)
	}
	p.Add(at)
	out.key = append(out.key, entry{"the cut", at})
	p.X.Min, p.X.Max = m.x(r.SpeedMPerMin*region.LowRatio), m.x(r.SpeedMPerMin*region.HighRatio)
	p.Y.Min, p.Y.Max = m.y(r.FeedMM*region.LowRatio), m.y(r.FeedMM*region.HighRatio)
	out.Says = fmt.Sprintf("around %s and %s there stands against it: %s", wire.Written(unit.Speed, r.SpeedMPerMin, system), wire.Written(unit.Length, r.FeedMM, system), strings.Join(said, ", "))
	return out
}

// words name what stands against a cut.
func words(a region.Against) string {
	name := strings.NewReplacer("_", " ", "-", " ").Replace(a.Name)
	switch a.Kind {
	case region.Nothing:
		return "nothing against it"
	case region.Limit:
		return "over " + name
	case region.Refused:
		return "refused: " + name
	case region.Held:
		return "a person decides: " + name
	}
	return name
}

// Places looked at for a name, and how far apart their points lie in the picture.
const (
	acrossPlaces, upPlaces = 60, 36
	placeWide, placeHigh   = 530.0 / acrossPlaces, 290.0 / upPlaces // points, about
)

// middle is where the name of a part has most room, where it has enough.
func (m *areas) middle(k int, name string) (at plotter.XY, ok bool) {
	r := m.region
	speed := func(i int) float64 {
		return r.SpeedMPerMin * (region.LowRatio + (region.HighRatio-region.LowRatio)*(float64(i)+0.5)/acrossPlaces)
	}
	feed := func(j int) float64 {
		return r.FeedMM * (region.LowRatio + (region.HighRatio-region.LowRatio)*(float64(j)+0.5)/upPlaces)
	}
	half := int(float64(written(labelSize, ink).Width(name))/2/placeWide) + 1
	const need = 1                        // places above and below
	var taken [upPlaces][acrossPlaces]int // 1 where the part is, but for the mark of the cut
	for j := range upPlaces {
		for i := range acrossPlaces {
			if r.At(region.Point{SpeedMPerMin: speed(i), FeedMM: feed(j)}) == m.found[k] {
				taken[j][i] = 1
			}
		}
	}
	const cut = (1 - region.LowRatio) / (region.HighRatio - region.LowRatio)
	taken[int(cut*upPlaces)][int(cut*acrossPlaces)] = 0
	best := 0
	var spots []plotter.XY
	for j := range upPlaces {
		for i := range acrossPlaces {
			room := 0
			for free(&taken, i, j, half+2*(room+1), room+1) {
				room++
			}
			if room < need || room < best {
				continue
			}
			if room > best {
				best, spots = room, nil
			}
			spots = append(spots, plotter.XY{X: m.x(speed(i)), Y: m.y(feed(j))})
		}
	}
	if spots == nil {
		return plotter.XY{}, false
	}
	return spots[len(spots)/2], true
}

// free reports that all places up to half to the sides and so many up and down are taken.
func free(taken *[upPlaces][acrossPlaces]int, i, j, half, room int) bool {
	if i-half < 0 || i+half >= acrossPlaces || j-room < 0 || j+room >= upPlaces {
		return false
	}
	for y := j - room; y <= j+room; y++ {
		for x := i - half; x <= i+half; x++ {
			if taken[y][x] == 0 {
				return false
			}
		}
	}
	return true
}
