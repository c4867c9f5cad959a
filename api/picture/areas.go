package picture

import (
	"image/color"
	"slices"

	"gonum.org/v1/plot/plotter"

	"swarf/domain/region"
	"swarf/domain/unit"
)

// areas is a region in the units of the picture, by what stands against the cut.
type areas struct {
	region *region.Region
	system unit.System
	found  []region.Against
	rings  map[region.Against][]plotter.XYer
	edges  []plotter.XYs // between parts
}

func newMap(r *region.Region, system unit.System) *areas {
	m := &areas{region: r, system: system, rings: map[region.Against][]plotter.XYer{}}
	for from := 0; from < len(r.Columns); {
		to := from + 1
		for to < len(r.Columns) && region.SameParts(&r.Columns[from], &r.Columns[to]) {
			to++
		}
		m.band(from, to)
		if to < len(r.Columns) {
			m.step(&r.Columns[to-1], &r.Columns[to])
		}
		from = to
	}
	slices.SortStableFunc(m.found, func(a, b region.Against) int { return rank[a.Kind] - rank[b.Kind] })
	return m
}

// rank is the order of the key: what can be, what may be, what not.
var rank = map[region.Kind]int{region.Nothing: 0, region.Held: 1, region.Thin: 2, region.Limit: 2, region.Refused: 2}

func (m *areas) x(speed float64) float64 { return unit.Speed.FromMetric(m.system, speed) }
func (m *areas) y(feed float64) float64  { return unit.Length.FromMetric(m.system, feed) }

// band takes over columns whose parts go on from one to the next, each part as one ring; it
// reaches half-way to the columns beside it.
func (m *areas) band(from, to int) {
	columns := m.region.Columns
	speeds := make([]float64, 0, to-from+2)
	if from > 0 {
		speeds = append(speeds, (columns[from-1].SpeedMPerMin+columns[from].SpeedMPerMin)/2)
	}
	for i := from; i < to; i++ {
		speeds = append(speeds, columns[i].SpeedMPerMin)
	}
	if to < len(columns) {
		speeds = append(speeds, (columns[to-1].SpeedMPerMin+columns[to].SpeedMPerMin)/2)
	}
	lead := 0
	if from > 0 {
		lead = 1
	}
	column := func(i int) *region.Column { return &columns[min(max(from+i-lead, from), to-1)] }
	for k := range columns[from].Parts {
		var ring plotter.XYs
		for i, v := range speeds {
			low := m.region.FeedMM * region.LowRatio
			if k > 0 {
				low = column(i).Parts[k-1].ToMM
			}
			ring = append(ring, plotter.XY{X: m.x(v), Y: m.y(low)})
		}
		for i := len(speeds) - 1; i >= 0; i-- {
			ring = append(ring, plotter.XY{X: m.x(speeds[i]), Y: m.y(column(i).Parts[k].ToMM)})
		}
		if k < len(columns[from].Parts)-1 {
			m.edges = append(m.edges, ring[len(speeds):])
		}
		a := columns[from].Parts[k].Against
		if m.rings[a] == nil {
			m.found = append(m.found, a)
		}
		m.rings[a] = append(m.rings[a], ring)
	}
}

// step adds the upright edges half-way between two columns that differ.
func (m *areas) step(a, b *region.Column) {
	x := m.x((a.SpeedMPerMin + b.SpeedMPerMin) / 2)
	low := m.region.FeedMM * region.LowRatio
	for i, k := 0, 0; i < len(a.Parts) && k < len(b.Parts); {
		to := min(a.Parts[i].ToMM, b.Parts[k].ToMM)
		if a.Parts[i].Against != b.Parts[k].Against && to > low {
			m.edges = append(m.edges, plotter.XYs{{X: x, Y: m.y(low)}, {X: x, Y: m.y(to)}})
		}
		low = to
		if a.Parts[i].ToMM <= to {
			i++
		}
		if i == len(a.Parts) || b.Parts[k].ToMM <= to {
			k++
		}
	}
}

// shade is the fill of a part, the same in every picture for what is met often; else by its
// place among those of its kind.
func (m *areas) shade(a region.Against) color.Color {
	if c, ok := shades[a.Name]; ok || a.Kind == region.Nothing {
		return c
	}
	list := others
	if a.Kind == region.Held {
		list = holds
	}
	place := 0
	for _, b := range m.found[:slices.Index(m.found, a)] {
		if (b.Kind == region.Held) == (a.Kind == region.Held) && shades[b.Name] == nil {
			place++
		}
	}
	return list[place%len(list)]
}

// The fills, apart in grey as well: the palest where nothing stands against a cut, holds next.
var (
	shades = map[string]color.Color{
		"":              meadow,
		"chip-too-thin": color.Gray{0xd2},
		"torque":        color.RGBA{0xf0, 0xb9, 0x7a, 0xff},
		"power":         color.RGBA{0x7f, 0xa3, 0xcc, 0xff},
		"feed_force":    color.Gray{0x8c},
		"feed_rate":     color.RGBA{0xf8, 0xdd, 0xbe, 0xff},
		"spindle_speed": color.RGBA{0xb9, 0xcf, 0xe8, 0xff},
		"chuck_speed":   color.RGBA{0xb9, 0xcf, 0xe8, 0xff},
	}
	holds  = []color.Color{color.RGBA{0xf5, 0xe6, 0xa3, 0xff}, color.RGBA{0xe4, 0xcf, 0x78, 0xff}}
	others = []color.Color{color.RGBA{0xe3, 0xa9, 0xa0, 0xff}, color.RGBA{0xc9, 0xb7, 0xd8, 0xff}, color.Gray{0xb0}}
)
