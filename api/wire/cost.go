package wire

import "swarf/domain/unit"

// Cost is what a part costs and takes as the cut is run, in the currency of the rates, and
// where it would cost least or take least time within every limit. Handling and loading
// are left out: they do not depend on the speed.
type Cost struct {
	PerPart      unit.Opt   `json:"per_part"`
	TimePerPart  unit.Opt   `json:"time_per_part" q:"time"` // cutting and its share of changing edges
	EdgesPerPart unit.Opt   `json:"edges_per_part"`         // in fractions
	Cheapest     *CostPoint `json:"cheapest,omitempty"`
	Fastest      *CostPoint `json:"fastest,omitempty"`
	NearlyAs     *Near      `json:"nearly_as_cheap,omitempty"`
}

// CostPoint is one speed and feed and what a part costs there. bound_by names the limit
// that holds the speed down; without one it is the best there is by itself.
type CostPoint struct {
	CuttingSpeed      unit.Opt `json:"cutting_speed" q:"speed"`
	FeedPerRevolution unit.Opt `json:"feed_per_revolution" q:"length"`
	EdgeLife          unit.Opt `json:"edge_life" q:"time"`
	PerPart           unit.Opt `json:"per_part"`
	TimePerPart       unit.Opt `json:"time_per_part" q:"time"`
	EdgesPerPart      unit.Opt `json:"edges_per_part"`
	BoundBy           string   `json:"bound_by,omitempty"`
}

// Near is how flat the optimum is: the speeds at which a part costs at most so many times
// the least, limits left aside.
type Near struct {
	SpeedFrom unit.Opt `json:"speed_from" q:"speed"`
	SpeedTo   unit.Opt `json:"speed_to" q:"speed"`
	Times     unit.Opt `json:"times"`
}
