package recommend

import (
	"math"

	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/life"
)

// Economy is what a part costs at the speed and feed of an estimate, and where it would
// cost least or take least time within every limit. Handling and loading are left out:
// they do not depend on speed.
type Economy struct {
	AsRun, Cheapest, Fastest CostPoint
	// The speeds between which a part costs at most nearRatio times the least, at the
	// cheapest feed and without regard to limits: how flat the optimum is.
	NearLowMPerMin, NearHighMPerMin float64
}

// CostPoint is one speed and feed and what a part costs there.
type CostPoint struct {
	SpeedMPerMin, FeedPerRevolutionMM, LifeMinutes float64
	EdgesRatio, PartMinutes, PartCost              float64 // edges per part, in fractions
	BoundBy                                        string  // a limit; empty: the best there is by itself
}

// NearRatio is how much more than the least counts as nearly as cheap. A convention.
const NearRatio = 1.05

// EconomyOf works out the economy of an estimate. ok is false without rates, a tool life,
// a time in the cut, or an exponent below one.
func EconomyOf(e *estimate.Estimate) (economy Economy, ok bool) {
	rates, l, t := e.Cut.Rates, e.Life, e.Time.CuttingMinutes
	if rates == nil || l == nil || !t.OK || l.Record.TaylorExp.V >= 1 {
		return economy, false
	}
	r := life.Rates{MachineCostPerMin: rates.MachineCostPerMin, EdgeCost: rates.EdgeCost, ChangeMinutes: rates.ChangeMinutes}
	b := bench{e: e, rates: r, minutes: t.V}
	economy.AsRun = b.at(e.Motion.CuttingSpeedMPerMin, e.Motion.FeedPerRevolutionMM, "")
	economy.Cheapest = b.best(r.CheapestSpeedMPerMin, func(p CostPoint) float64 { return p.PartCost })
	economy.Fastest = economy.AsRun
	if r.ChangeMinutes > 0 {
		economy.Fastest = b.best(r.FastestSpeedMPerMin, func(p CostPoint) float64 { return p.PartMinutes })
	}
	economy.NearLowMPerMin, economy.NearHighMPerMin = b.near(economy.Cheapest.FeedPerRevolutionMM)
	return economy, true
}

// bench is an estimate on which speeds and feeds are tried.
type bench struct {
	e       *estimate.Estimate
	rates   life.Rates
	minutes float64 // in the cut as run
}

// at is the cost at a speed and feed: the path is the same, so its time goes with both.
func (b *bench) at(speed, feed float64, boundBy string) CostPoint {
	m := &b.e.Motion
	w := life.Worn{CuttingMinutes: b.minutes * m.CuttingSpeedMPerMin * m.FeedPerRevolutionMM / (speed * feed), LifeMinutes: b.e.Life.At(life.Cut{SpeedMPerMin: speed, FeedMM: feed})}
	return CostPoint{SpeedMPerMin: speed, FeedPerRevolutionMM: feed, LifeMinutes: w.LifeMinutes, EdgesRatio: w.Edges(), PartMinutes: b.rates.MinutesPerPart(w), PartCost: b.rates.CostPerPart(w), BoundBy: boundBy}
}

// feeds are those worth trying: the one run and the largest that the starting record
// allows, where that is larger and the law of the life knows what more feed costs.
func (b *bench) feeds() []float64 {
	list := []float64{b.e.Motion.FeedPerRevolutionMM}
	if s := b.e.Cut.Material.Starting.Served; s != nil && b.e.Life.Record.FeedExp.OK && !b.e.Cut.Operation.FeedIsPitch {
		f := estimate.StartingFeed(b.e.Cut, s)
		top := f.High.Or(0)
		if f.Member == "feed_per_tooth" {
			top *= b.e.Motion.FeedPerRevolutionMM / b.e.Motion.FeedPerToothMM
		}
		if top > list[0]*(1+1e-9) {
			list = append(list, top)
		}
	}
	return list
}

// best is the best of the feeds, each at its own best speed as far as the limits let it.
// Where they let none, the cut as run stands.
func (b *bench) best(speedOf func(life.Taylor) float64, worth func(CostPoint) float64) CostPoint {
	var best CostPoint
	for _, feed := range b.feeds() {
		speed, boundBy, ok := b.within(speedOf(b.e.Life.Law(feed)), feed)
		if !ok {
			continue
		}
		if p := b.at(speed, feed, boundBy); best.SpeedMPerMin == 0 || worth(p) < worth(best) {
			best = p
		}
	}
	if best.SpeedMPerMin == 0 {
		return b.at(b.e.Motion.CuttingSpeedMPerMin, b.e.Motion.FeedPerRevolutionMM, "request")
	}
	return best
}

// within lowers a speed until every limit holds at the confidence asked for, and names the
// limit that lowered it.
func (b *bench) within(speed, feed float64) (allowed float64, boundBy string, ok bool) {
	c := *b.e.Cut
	c.Parameters = cut.Parameters{FeedPerRevolutionMM: &feed}
	p := &proposal{c: &c, speed: speed, feedFixed: true, spread: b.e.Quantile(c.Confidence)}
	failing := p.failing(p.estimate())
	if failing == nil {
		return speed, "", true
	}
	if !p.slow() {
		return 0, failing.Name, false
	}
	return p.speed, failing.Name, true
}

// near finds the speeds at which a part costs NearRatio times the least, by halving on
// either side of the cheapest speed: the cost falls to it and rises from it.
func (b *bench) near(feed float64) (low, high float64) {
	best := b.rates.CheapestSpeedMPerMin(b.e.Life.Law(feed))
	limit := b.at(best, feed, "").PartCost * NearRatio
	side := func(far float64) float64 {
		in, out := best, far
		for range 60 {
			mid := math.Sqrt(in * out)
			if b.at(mid, feed, "").PartCost <= limit {
				in = mid
			} else {
				out = mid
			}
		}
		return in
	}
	return side(best / 100), side(best * 100)
}
