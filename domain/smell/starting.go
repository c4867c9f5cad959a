package smell

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// startingWindow finds speeds and feeds that no machine tool has, and records that do
// not say what they are for. Windows: common practice, no source.
func startingWindow(b *book) {
	does := map[string][]string{}
	for i := range b.Classes {
		does[b.Classes[i].ID] = b.Classes[i].Operations
	}
	for i := range b.Starting {
		r := &b.Starting[i]
		b.row()
		fail := func(bad bool, format string, args ...any) { b.failIf(bad, "starting", r.ID, format, args...) }
		fail(!r.Speed.Known() && !r.Feed.Known(), "neither speed nor feed")
		fail(len(r.Operations) == 0, "no operation")
		for _, v := range []unit.Opt{r.Speed.Low, r.Speed.High} {
			fail(v.OK && (v.V < 0.5 || v.V > 5000), "speed %v m/min is outside 0.5 to 5000", v.V)
		}
		feed := window{0.001, 10}
		if r.FeedKind == material.DiameterPerTurn || r.FeedKind == material.DiameterPerTooth {
			feed = window{0.0002, 0.2}
		}
		for _, v := range []unit.Opt{r.Feed.Low, r.Feed.High} {
			fail(v.OK && !(v.V >= feed.low && v.V <= feed.high), "feed %v is outside %v to %v", v.V, feed.low, feed.high)
		}
		for _, operation := range r.Operations {
			fail(!cut.Known(operation), "no operation %s", operation)
		}
		for _, class := range r.Classes {
			fits := slices.ContainsFunc(r.Operations, func(o string) bool { return slices.Contains(does[class], o) })
			fail(!fits, "class %s does none of %s", class, strings.Join(r.Operations, ", "))
		}
	}
}

// startingSafety finds speeds that burn an edge in titanium and nickel, chips of
// magnesium that catch fire, and chips that rub in metal that work-hardens. Limits:
// common practice, no source. Only the trade's own habits are held to the least chip:
// a source that prints a finer one is shown as it prints.
func startingSafety(b *book) {
	for i := range b.Starting {
		r := &b.Starting[i]
		b.row()
		kind, speed := b.kind(r.Scope), r.Speed.High.V
		carbide := r.ToolMaterial == "HC" || r.ToolMaterial == "HW" || r.ToolMaterial == ""
		fail := func(bad bool, format string, args ...any) { b.failIf(bad, "starting", r.ID, format, args...) }
		fail(strings.HasPrefix(kind, "S/titanium") && speed > 80 && carbide, "%v m/min burns a carbide edge in titanium: 80 at most", speed)
		fail(kind == "S/nickel" && speed > 55 && carbide, "%v m/min burns a carbide edge in nickel alloys: 55 at most", speed)
		fail(strings.HasPrefix(kind, "S") && speed > 30 && r.ToolMaterial == "HSS", "%v m/min burns a high-speed-steel edge: 30 at most", speed)
		chip := chipMM(r)
		if r.Basis != domain.CommonPractice || chip == 0 {
			continue
		}
		fail(kind == "N/magnesium" && chip < 0.05, "chips of %.3f mm are fine enough to burn", chip)
		fail((strings.HasPrefix(kind, "M") || strings.HasPrefix(kind, "S")) && chip < 0.02, "chips of %.3f mm rub", chip)
	}
}

// chipMM is the thinnest chip that a whole record can mean, on a tool of 10 mm; 0 where
// it cannot be said.
func chipMM(r *material.Starting) float64 {
	whole := r.Speed.Low.OK && r.Speed.High.OK && r.Feed.Low.OK && r.Feed.High.OK
	if !whole || r.FeedKind == material.DiameterPerTooth {
		return 0
	}
	chip := r.Feed.Low.V
	if r.FeedKind == material.DiameterPerTurn {
		chip *= 10
		if !slices.Contains(r.Classes, "drill-gun") {
			chip *= math.Sin(59*math.Pi/180) / 2
		}
	}
	if slices.Contains(r.Classes, "mill-high-feed") {
		chip *= math.Sin(12 * math.Pi / 180)
	}
	if slices.Contains(r.Classes, "mill-face") {
		chip *= math.Sin(45 * math.Pi / 180)
	}
	return chip
}

// startingNeighbours follows each source through its bands of hardness: for one metal,
// operation, tool and depth the speed neither jumps nor rises steeply.
func startingNeighbours(b *book) {
	type place struct {
		material.Scope
		source, condition, operations, classes, tool, kind string
		depth                                              float64
	}
	at := map[place][]*material.Starting{}
	var order []place
	for i := range b.Starting {
		r := &b.Starting[i]
		if !r.Speed.Low.OK || !r.Speed.High.OK || !r.Hardness.Low.OK || !r.Hardness.High.OK {
			continue
		}
		b.row()
		p := place{r.Scope, r.Source, r.Condition, strings.Join(r.Operations, ";"), strings.Join(r.Classes, ";"), r.ToolMaterial, r.Kind, r.DepthMM.V}
		if at[p] == nil {
			order = append(order, p)
		}
		at[p] = append(at[p], r)
	}
	for _, p := range order {
		bands := at[p]
		slices.SortStableFunc(bands, func(x, y *material.Starting) int {
			return cmp.Or(cmp.Compare(x.Hardness.Low.V, y.Hardness.Low.V), cmp.Compare(x.Hardness.High.V, y.Hardness.High.V))
		})
		for i := 1; i < len(bands); i++ {
			soft, hard := bands[i-1], bands[i]
			if low, high := hard.Hardness.Low.V, soft.Hardness.High.V; low < high || low > 1.25*high {
				continue // two rows of one band are no neighbours, nor are bands far apart
			}
			ratio := middle(hard.Speed) / middle(soft.Speed)
			if ratio > 1.25 || ratio < 0.5 {
				b.found(Warning, "starting", hard.ID, "%.2f times the speed of %s, the band of %v to %v HBW before it", ratio, soft.ID, soft.Hardness.Low.V, soft.Hardness.High.V)
			}
		}
	}
}

func middle(r domain.Range) float64 { return math.Sqrt(r.Low.V * r.High.V) }
