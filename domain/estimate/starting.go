package estimate

import (
	"swarf/domain"
	"swarf/domain/cut"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// FeedRange is the feed of a starting record in millimetres, and which feed it is.
type FeedRange struct {
	domain.Range
	Member string // feed_per_tooth or feed_per_revolution
}

// Of reads the same feed from a motion.
func (f FeedRange) Of(m *Motion) float64 {
	if f.Member == "feed_per_tooth" {
		return m.FeedPerToothMM
	}
	return m.FeedPerRevolutionMM
}

// StartingFeed returns a record's feed for this tool: shares of the diameter become
// millimetres. It is empty when the record has none or the diameter is not known.
//
// Range: as the record. Errors: none. Source: the record's.
func StartingFeed(c *cut.Cut, s *material.Starting) FeedRange {
	scale := 1.0
	member := "feed_per_revolution"
	switch s.FeedKind {
	case material.PerTooth:
		member = "feed_per_tooth"
	case material.DiameterPerTooth:
		member = "feed_per_tooth"
		scale = value(c.Tool.CuttingDiameterMM, 0)
	case material.DiameterPerTurn:
		scale = value(c.Tool.CuttingDiameterMM, 0)
	}
	if scale == 0 {
		return FeedRange{}
	}
	f := FeedRange{Member: member, Range: domain.Range{Quantity: unit.Length, Low: s.Feed.Low, High: s.Feed.High}}
	f.Low.V *= scale
	f.High.V *= scale
	return f
}
