// Package kinematics holds the identities of cutting motion: speeds, feeds, chip
// geometry, engagement and removal rate. They are geometry, true whatever the
// material; nothing here knows a force.
//
// Letters follow ISO 3002-1 and DIN 6580: vc cutting speed, n rotation, f feed per
// revolution, fz feed per tooth, vf feed speed, D diameter, z edges, κ cutting edge
// angle, σ point angle, φ angle of the cutter's turn.
package kinematics

import "math"

// Rim is a diameter and the speed at it.
type Rim struct{ DiameterMM, SpeedMPerMin float64 }

// Turn is a diameter and how fast it turns.
type Turn struct{ DiameterMM, SpindleSpeedPerMin float64 }

// SpindleSpeedPerMin returns the rotation that gives a rim its speed,
// n = 1000·vc/(π·D), in 1/min.
//
// Range: D > 0. Errors: none; the caller has checked D.
// Source: DIN 6580, geometry.
func SpindleSpeedPerMin(r Rim) float64 { return 1000 * r.SpeedMPerMin / (math.Pi * r.DiameterMM) }

// CuttingSpeedMPerMin returns the speed at a turning diameter, vc = π·D·n/1000, in m/min.
//
// Range: D > 0. Errors: none. Source: DIN 6580, geometry.
func CuttingSpeedMPerMin(t Turn) float64 {
	return math.Pi * t.DiameterMM * t.SpindleSpeedPerMin / 1000
}

// Advance is a feed per revolution and the rotation it goes with.
type Advance struct{ FeedPerRevolutionMM, SpindleSpeedPerMin float64 }

// FeedRateMMPerMin returns the feed speed, vf = f·n, in mm/min.
//
// Range: any. Errors: none. Source: DIN 6580, geometry.
func FeedRateMMPerMin(a Advance) float64 { return a.FeedPerRevolutionMM * a.SpindleSpeedPerMin }

// Teeth is a feed per tooth and the number of edges that share the turn.
type Teeth struct{ FeedPerToothMM, EdgesCount float64 }

// FeedPerRevolutionMM returns the feed per turn, f = z·fz, in mm.
//
// Range: z ≥ 1. Errors: none. Source: DIN 6580, geometry.
func FeedPerRevolutionMM(t Teeth) float64 { return t.FeedPerToothMM * t.EdgesCount }

// Chip is the undeformed chip of one edge.
type Chip struct{ ThicknessMM, WidthMM float64 }

func sinDeg(a float64) float64 { return math.Sin(a * math.Pi / 180) }
