package finding

import (
	"swarf/domain"
	"swarf/domain/estimate"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// disagreement is the spread between sources that somebody must read.
const disagreementRatio = 1.25

// driftRatio is how far measured loads may go from a record before somebody must look.
const driftRatio = 1.15

// evidence judges what stands behind the numbers.
func (j *judge) evidence() {
	e := j.e
	if j.c.Force.HasLaw() {
		j.tells("force-data-from-request", domain.Note, "force_data", "the force data sent with the request serves instead of a record", "")
	}
	switch {
	case !e.HasLoads:
		j.tells("no-data", domain.Hold, "material", "no record gives a load for this material", "send force_data, or make a test cut")
	default:
		if rung := e.Basis.Rung(); rung < 3 {
			j.says("no-approved-record", domain.Note, "material", unit.None, float64(rung), 3,
				"the loads rest on evidence of rung {value} ("+string(e.Basis)+j.fallBack()+"); an approved shop record is rung {limit}", "a trial on this machine and lot")
		}
	}
	if far := j.c.Material.Force.Far; far != nil && e.Served == nil && !j.c.Force.HasLaw() {
		hb, limit := j.c.Material.HardnessHBW, far.Hardness.High.Or(0)
		if far.Hardness.Low.OK && hb < far.Hardness.Low.V {
			limit = far.Hardness.Low.V
		}
		j.says("far-outside-record-range", domain.Refusal, "material.hardness", unit.None, hb, limit,
			"hardness {value} HBW is more than twice outside the nearest force record, which ends at {limit} HBW: no number is served", "check the hardness and its scale; force_data for this metal")
	}
	j.curation()
	j.disagreement()
	j.recordRange()
	j.practice()
}

// curation judges what people decided about the records that serve, or would.
func (j *judge) curation() {
	w := &j.c.Material
	withdrawn := func(p *material.Provenance) {
		j.tells("record-withdrawn", domain.Refusal, "material", "record "+p.ID+", which would serve here, was withdrawn for safety: "+p.Curation.Reason,
			"/v1/records/"+p.ID+"/impact lists what rested on it; approve another in its place")
	}
	if r := w.Force.Withdrawn; r != nil && !j.c.Force.HasLaw() {
		withdrawn(&r.Provenance)
	}
	if r := w.Starting.Withdrawn; r != nil {
		withdrawn(&r.Provenance)
	}
	if r := j.e.Served; r != nil {
		j.curated(&r.Provenance)
	}
	if r := w.Starting.Served; r != nil {
		j.curated(&r.Provenance)
	}
}

// curated warns of a record that serves on thin or old evidence.
func (j *judge) curated(p *material.Provenance) {
	c := p.Curation
	if c == nil {
		return
	}
	if c.PastReview {
		j.tells("record-past-review", domain.Warning, "material", "record "+p.ID+" was to be reviewed by "+c.ReviewBy, "review it, and approve it anew")
	}
	if c.DriftRatio > 0 {
		j.says("record-drifts", domain.Warning, "material", unit.None, c.DriftRatio, driftRatio, "loads measured since record "+p.ID+" came into force are {value} times what it makes expect", "look for the cause; calibrate anew")
	}
	if p.Basis == domain.Shop && c.Lots == 1 {
		j.tells("single-lot-evidence", domain.Warning, "material", "record "+p.ID+" rests on one lot of metal", "measure a second lot")
	}
}

// fallBack says for how much more than the grade the record that serves is.
func (j *judge) fallBack() string {
	w := &j.c.Material
	if j.e.Served == nil || w.Grade == nil || w.Force.FallBack == "" {
		return ""
	}
	return ", of the whole " + w.Force.FallBack + " " + j.e.Served.Key
}

// disagreement compares the methods that rest on records.
func (j *judge) disagreement() {
	low, high := 0.0, 0.0
	for i := range j.e.Methods {
		m := &j.e.Methods[i]
		if m.Record == "" {
			continue
		}
		if low == 0 || m.TorqueNm < low {
			low = m.TorqueNm
		}
		high = max(high, m.TorqueNm)
	}
	if low > 0 && high/low > disagreementRatio {
		j.says("sources-disagree", domain.Warning, "loads.methods", unit.Torque, high, low,
			"records for this metal put the torque between {limit} and {value}", "a test cut on this lot")
	}
}

// recordRange compares the caller's hardness with the range of the record served.
func (j *judge) recordRange() {
	r, hb := j.e.Served, j.c.Material.HardnessHBW
	if r == nil || j.c.Material.Hardness == nil || hb == 0 || !r.Hardness.Known() || r.Hardness.Holds(hb) {
		return
	}
	limit := r.Hardness.High.Or(0)
	ratio := hb / max(limit, 1)
	if r.Hardness.Low.OK && hb < r.Hardness.Low.V {
		limit = r.Hardness.Low.V
		ratio = limit / hb
	}
	if over(ratio, 1.25) {
		j.says("outside-record-range", domain.Hold, "material.hardness", unit.None, hb, limit,
			"hardness {value} HBW is more than a quarter outside the force record, which ends at {limit} HBW", "a record nearer to this hardness")
	}
}

// practice compares speed and feed with the starting values on record: past three
// times or under a third a slip of unit is likelier than a choice.
func (j *judge) practice() {
	s := j.c.Material.Starting.Served
	if s == nil {
		return
	}
	o := j.c.Operation
	vc := j.e.Motion.CuttingSpeedMPerMin
	if s.Speed.Known() { // another tool's range is no practice of this one
		j.compare("parameters.cutting_speed", unit.Speed, vc, s.Speed, o.StartsAs.Class == "")
	}
	if feed := estimate.StartingFeed(j.c, s); feed.Known() && !o.FeedIsPitch {
		j.compare("parameters."+feed.Member, unit.Length, feed.Of(&j.e.Motion), feed.Range, false)
	}
}

func (j *judge) compare(field string, q unit.Quantity, value float64, r domain.Range, rangeCode bool) {
	low, high := r.Low.Or(0), r.High.Or(r.Low.V)
	if low == 0 {
		low = high
	}
	switch {
	case value > 3*high:
		j.says("unit-slip-suspected", domain.Warning, field, q, value, high, "{value} is over three times the record's {limit}", "check the unit, and whether it is per tooth or per turn")
	case value < low/3:
		j.says("unit-slip-suspected", domain.Warning, field, q, value, low, "{value} is under a third of the record's {limit}", "check the unit, and whether it is per tooth or per turn")
	case rangeCode && over(value, high):
		j.says("speed-outside-practice", domain.Warning, field, q, value, high, "{value} is over the record's {limit} for this class", "expect short edge life")
	case rangeCode && value < low*(1-1e-9):
		j.says("speed-outside-practice", domain.Warning, field, q, value, low, "{value} is under the record's {limit} for this class", "expect built-up edge or wasted time")
	}
}
