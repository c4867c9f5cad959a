package wire

import "swarf/domain/unit"

// StartedFrom is the record that a recommendation began from: its own ranges, of which the
// middle was taken, and how far its speed may be off by what sources of such speeds differ.
type StartedFrom struct {
	Record       string   `json:"record"`
	Source       string   `json:"source"`
	Basis        string   `json:"basis"`
	CuttingSpeed *Ends    `json:"cutting_speed,omitempty" q:"speed"`
	FeedOf       string   `json:"feed_of,omitempty" enum:"feed_per_tooth,feed_per_revolution"`
	Feed         *Ends    `json:"feed,omitempty" q:"length"`
	Likely       *Band    `json:"likely_speed,omitempty" q:"speed"`
	Spread       unit.Opt `json:"spread,omitzero"`
}

// Ends are the ends of a range.
type Ends struct {
	Low  unit.Opt `json:"low,omitzero" q:"inherit"`
	High unit.Opt `json:"high,omitzero" q:"inherit"`
}
