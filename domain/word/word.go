// Package word rounds the speed and the feed of a cut to what a block of a part program
// (ISO 6983-1) can say, and looks whether the cut still keeps every limit then.
package word

import (
	"math"

	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/finding"
)

// Steps are what a block can say: the speed in whole steps of the spindle's, the feed in
// steps of a rate, or of a feed per revolution.
type Steps struct {
	SpeedPerMin       float64
	PerRevolution     bool // the feed word is a feed per revolution (G95), else a rate (G94)
	FeedMMPerMin      float64
	PerRevolutionMM   float64
	SearchedDownCount int // speeds tried below, until a rate meets the pitch of a thread; 0: 2,000
}

// Words are a speed and a feed as a block says them, and the cut computed with them.
type Words struct {
	SpindleSpeedPerMin  float64
	FeedRateMMPerMin    float64
	FeedPerRevolutionMM float64
	Up                  bool // one of them was rounded up, because down breaks a limit
	Estimate            *estimate.Estimate
	Findings            []domain.Finding
}

// Of rounds the parameters of a cut. Down is safe for nearly every limit and is tried first;
// up, where down would break one that holds unrounded, such as the least chip. Each try is
// computed anew, with the feed per revolution kept: a lower speed at the same rate would
// thicken the chip. Up is never tried where a step is more than a twentieth of the number:
// then the step is too coarse. The feed of a thread is its pitch, which no step may change.
//
// Without a rounding that keeps every limit, ok is false and broken says what each would do.
func Of(e *estimate.Estimate, s Steps) (w *Words, broken []domain.Finding, ok bool) {
	before := finding.Judge(e)
	for _, t := range tries(e, s) {
		own := *e.Cut
		own.Parameters = t.parameters(e, s)
		made := estimate.Of(&own)
		after := finding.Judge(made)
		worse := added(before, after)
		if f, less := lessSure(e, made); less {
			worse = append(worse, f)
		}
		if len(worse) == 0 {
			return &Words{SpindleSpeedPerMin: t.speed, FeedRateMMPerMin: made.Motion.FeedRateMMPerMin, FeedPerRevolutionMM: made.Motion.FeedPerRevolutionMM,
				Up: t.up, Estimate: made, Findings: after}, nil, true
		}
		broken = append(broken, added(broken, worse)...)
	}
	if len(broken) == 0 {
		broken = append(broken, unsayable(e, s))
	}
	return nil, broken, false
}

// try is one way to round.
type try struct {
	speed, feed float64 // feed: of the word
	up          bool
}

// mostUpRatio is the largest step, of the number, by which a word is rounded up.
const mostUpRatio = 0.05

// tries lists the ways to round, the safest first.
func tries(e *estimate.Estimate, s Steps) []try {
	n, turn := e.Motion.SpindleSpeedPerMin, e.Motion.FeedPerRevolutionMM
	if e.Cut.Operation.FeedIsPitch {
		return pitched(n, turn, s)
	}
	var list []try
	for _, speedUp := range []bool{false, true} {
		speed := rounded(n, s.SpeedPerMin, speedUp)
		feed, step := turn, s.PerRevolutionMM
		if !s.PerRevolution {
			feed, step = turn*speed, s.FeedMMPerMin
		}
		for _, feedUp := range []bool{false, true} {
			coarse := speedUp && s.SpeedPerMin > mostUpRatio*n || feedUp && step > mostUpRatio*feed
			t := try{speed, rounded(feed, step, feedUp), speedUp || feedUp}
			if t.speed > 0 && t.feed > 0 && !coarse {
				list = append(list, t)
			}
		}
	}
	return list
}

// pitched lists the speeds at which the feed of a thread can be said exactly.
func pitched(n, pitch float64, s Steps) []try {
	if s.PerRevolution {
		if speed := rounded(n, s.SpeedPerMin, false); speed > 0 && whole(pitch/s.PerRevolutionMM) {
			return []try{{speed: speed, feed: pitch}}
		}
		return nil
	}
	most := s.SearchedDownCount
	if most == 0 {
		most = 2_000
	}
	for speed := rounded(n, s.SpeedPerMin, false); speed > s.SpeedPerMin/2 && most > 0; most-- {
		if whole(speed * pitch / s.FeedMMPerMin) {
			return []try{{speed: speed, feed: speed * pitch}}
		}
		speed = rounded(speed-s.SpeedPerMin/2, s.SpeedPerMin, false)
	}
	return nil
}

func (t try) parameters(e *estimate.Estimate, s Steps) cut.Parameters {
	p := cut.Parameters{SpindleSpeedPerMin: &t.speed}
	switch {
	case e.Cut.Operation.FeedIsPitch: // it need not be said
	case s.PerRevolution:
		p.FeedPerRevolutionMM = &t.feed
	default:
		p.FeedRateMMPerMin = &t.feed
	}
	return p
}

// unsayable is the finding of a cut of which no word can be made.
func unsayable(e *estimate.Estimate, s Steps) domain.Finding {
	f := domain.Finding{Code: "step-too-coarse", Severity: domain.Hold, Field: "parameters", Message: "speed or feed is less than one step", Fix: "take finer steps"}
	if e.Cut.Operation.FeedIsPitch {
		f.Code, f.Field, f.Message = "pitch-not-exact", "engagement.pitch", "no step of the feed word meets the pitch exactly"
		if !s.PerRevolution {
			f.Fix = "say the feed per revolution, or take finer steps"
		}
	}
	return f
}

// rounded is a number as whole steps, down or up. A number that is whole steps already,
// but for the last bits, stays.
func rounded(v, step float64, up bool) float64 {
	steps := v / step
	if whole(steps) {
		return math.Round(steps) * step
	}
	if up {
		return math.Ceil(steps) * step
	}
	return math.Floor(steps) * step
}

func whole(v float64) bool { return math.Abs(v-math.Round(v)) <= 1e-9*math.Max(1, math.Abs(v)) }

// added are the holds and refusals of a list that another has not.
func added(before, after []domain.Finding) []domain.Finding {
	var list []domain.Finding
	for _, f := range after {
		known := false
		for _, b := range before {
			known = known || b.Code == f.Code && b.Field == f.Field && b.Severity >= f.Severity
		}
		if !known && f.Severity >= domain.Hold {
			list = append(list, f)
		}
	}
	return list
}

// lessSure reports a limit that held with the probability asked for and does not any more.
func lessSure(before, after *estimate.Estimate) (domain.Finding, bool) {
	if before.Machine == nil || after.Machine == nil {
		return domain.Finding{}, false
	}
	want := before.Cut.Confidence
	for i := range after.Machine.Limits {
		l := &after.Machine.Limits[i]
		was, ok := before.Machine.Limit(l.Name)
		if ok && was.ProbabilityRatio.OK && l.ProbabilityRatio.OK && was.ProbabilityRatio.V >= want && l.ProbabilityRatio.V < want {
			return domain.Finding{Code: "limit-less-sure", Severity: domain.Hold, Field: l.Name, Message: "rounded, the limit holds with less than the confidence asked for"}, true
		}
	}
	return domain.Finding{}, false
}
