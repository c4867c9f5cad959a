package region

import (
	"math"
	"slices"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/finding"
)

// look judges a cut at other speeds and feeds.
type look struct {
	e         *estimate.Estimate
	region    *Region
	leastMM   float64  // the least chip
	holds     []string // those that the cut itself has
	low, high float64  // feeds
}

func newLook(e *estimate.Estimate, r *Region) *look {
	l := &look{e: e, region: r, leastMM: finding.MinimumChipMM(e.Cut), low: r.FeedMM * LowRatio, high: r.FeedMM * HighRatio}
	for _, f := range finding.Grave(estimate.Lean(e.Cut)) {
		l.holds = append(l.holds, f.Code)
	}
	return l
}

// sample is what was found at a speed and a feed.
type sample struct {
	feedMM  float64
	against Against
	thin    float64 // logarithm of the least chip over the thickest
	limits  []estimate.Limit
}

// at judges in full: the limit that is most over, else a refusal, a chip too thin, a hold
// that the cut itself has not, any other hold.
func (l *look) at(speed, feed float64) sample {
	c := *l.e.Cut
	c.Parameters = cut.Parameters{CuttingSpeedMPerMin: &speed, FeedPerRevolutionMM: &feed}
	if l.region.PerTooth {
		c.Parameters = cut.Parameters{CuttingSpeedMPerMin: &speed, FeedPerToothMM: &feed}
	}
	e := estimate.Lean(&c)
	s := sample{feedMM: feed, thin: math.Inf(-1)}
	if h := e.Chip.ThicknessMaxMM; h > 0 {
		s.thin = math.Log(l.leastMM / h)
	}
	if e.Machine != nil {
		s.limits = e.Machine.Limits
		worst := 1 + 1e-9
		for i := range s.limits {
			if u := s.limits[i].UtilisationWorn; u > worst {
				worst, s.against = u, Against{Limit, s.limits[i].Name}
			}
		}
	}
	if s.against.Kind == Nothing {
		s.against = l.judged(e, s.thin)
	}
	return s
}

// judged is what stands against a cut within its limits.
func (l *look) judged(e *estimate.Estimate, thin float64) Against {
	var held Against
	for _, f := range finding.Grave(e) {
		switch {
		case f.Severity == domain.Refusal:
			return Against{Refused, f.Code}
		case held.Kind == Nothing, slices.Contains(l.holds, held.Name) && !slices.Contains(l.holds, f.Code):
			held = Against{Held, f.Code}
		}
	}
	if thin > 1e-9 {
		return Against{Thin, "chip-too-thin"}
	}
	return held
}

// level is how far something is over where it begins to stand against the cut, as a
// logarithm; ok is false for what has no such number.
func (s *sample) level(a Against) (level float64, ok bool) {
	switch a.Kind {
	case Nothing:
		return 0, true
	case Thin:
		return s.thin, true
	case Limit:
		for i := range s.limits {
			if l := &s.limits[i]; l.Name == a.Name && l.UtilisationWorn > 0 {
				return math.Log(l.UtilisationWorn), true
			}
		}
	}
	return 0, false
}

// column goes from the lowest feed to the highest.
func (l *look) column(speed float64) Column {
	c := Column{SpeedMPerMin: speed}
	before := l.at(speed, l.low)
	for i := 1.0; i <= feeds; i++ {
		next := l.at(speed, l.low*math.Pow(HighRatio/LowRatio, i/feeds))
		for before.against != next.against {
			end, after := l.change(speed, before, next)
			c.Parts = append(c.Parts, Part{before.against, end})
			before = after
		}
		before = next
	}
	c.Parts = append(c.Parts, Part{before.against, l.high})
	return c
}

// change finds the first feed between two at which something else stands against the cut
// than at the lower, and what was found just beyond it. Levels are nearly straight in the
// logarithm of the feed, so that a guess by them mostly needs no second; where it misses,
// halves.
func (l *look) change(speed float64, a, b sample) (float64, sample) {
	nearly := math.Sqrt(feedNearly)
	for guesses := 0; b.feedMM > a.feedMM*feedNearly*(1+1e-9); guesses++ {
		middle := math.Sqrt(a.feedMM * b.feedMM)
		if guesses%2 == 0 {
			if k, ok := crossing(&a, &b); ok {
				middle = a.feedMM * math.Pow(b.feedMM/a.feedMM, k)
			}
		}
		for _, feed := range [2]float64{middle / nearly, middle * nearly} {
			if feed <= a.feedMM || feed >= b.feedMM {
				continue
			}
			if s := l.at(speed, feed); s.against == a.against {
				a = s
			} else {
				b = s
				break
			}
		}
	}
	return math.Sqrt(a.feedMM * b.feedMM), b
}

// crossing is the share of the way, in logarithms, at which what stands against the one
// gives way to what stands against the other.
func crossing(a, b *sample) (share float64, ok bool) {
	difference := func(s *sample) (float64, bool) {
		p, known := s.level(a.against)
		q, also := s.level(b.against)
		return p - q, known && also
	}
	from, ok1 := difference(a)
	to, ok2 := difference(b)
	share = from / (from - to)
	return share, ok1 && ok2 && share > 0 && share < 1
}
