package catalog

import (
	"iter"
	"slices"
	"strings"

	"swarf/domain/material"
)

// Record is one force, starting-value or life record: one of the three is set.
type Record struct {
	ID       string
	Force    *material.Force
	Starting *material.Starting
	Life     *material.Life
}

// Kind is the kind of record: force, starting or life.
func (r *Record) Kind() string {
	switch {
	case r.Force != nil:
		return "force"
	case r.Starting != nil:
		return "starting"
	}
	return "life"
}

// Provenance is where the record comes from.
func (r *Record) Provenance() *material.Provenance {
	switch {
	case r.Force != nil:
		return &r.Force.Provenance
	case r.Starting != nil:
		return &r.Starting.Provenance
	}
	return &r.Life.Provenance
}

// Scope is what the record is about.
func (r *Record) Scope() material.Scope {
	switch {
	case r.Force != nil:
		return r.Force.Scope
	case r.Starting != nil:
		return r.Starting.Scope
	}
	return r.Life.Scope
}

// State is how far the record has come; reference data is approved.
func (r *Record) State() material.State {
	if c := r.Provenance().Curation; c != nil {
		return c.State
	}
	return material.Approved
}

// recordAt is where a record stands: half of what a pointer to a Record with its three
// would take, for there may be hundreds of thousands.
type recordAt struct {
	kind useKind
	at   int32
}

// record is the record that stands somewhere.
func (d *Data) record(p recordAt) Record {
	switch p.kind {
	case forceUse:
		return Record{ID: d.Force[p.at].ID, Force: &d.Force[p.at]}
	case startingUse:
		return Record{ID: d.Starting[p.at].ID, Starting: &d.Starting[p.at]}
	}
	return Record{ID: d.Life[p.at].ID, Life: &d.Life[p.at]}
}

// placesOf lists where the records stand, by id.
func placesOf(d *Data) []recordAt {
	type named struct {
		id string
		recordAt
	}
	all := make([]named, 0, len(d.Force)+len(d.Starting)+len(d.Life))
	for i := range d.Force {
		all = append(all, named{d.Force[i].ID, recordAt{forceUse, int32(i)}})
	}
	for i := range d.Starting {
		all = append(all, named{d.Starting[i].ID, recordAt{startingUse, int32(i)}})
	}
	for i := range d.Life {
		all = append(all, named{d.Life[i].ID, recordAt{lifeUse, int32(i)}})
	}
	slices.SortStableFunc(all, func(a, b named) int { return strings.Compare(a.id, b.id) })
	places := make([]recordAt, len(all))
	for i := range all {
		places[i] = all[i].recordAt
	}
	return places
}

// Records lists every force, starting-value and life record by id, drafts and ended ones
// too.
func (s *Snapshot) Records() []*Record {
	all := make([]*Record, len(s.records))
	for i, p := range s.records {
		r := s.data.record(p)
		all[i] = &r
	}
	return all
}

// EachRecord visits the records that Records lists, one by one.
func (s *Snapshot) EachRecord() iter.Seq[Record] {
	return func(yield func(Record) bool) {
		for _, p := range s.records {
			if !yield(s.data.record(p)) {
				return
			}
		}
	}
}

// Record finds a record in any state.
func (s *Snapshot) Record(id string) (*Record, bool) {
	at, there := slices.BinarySearchFunc(s.records, id, func(p recordAt, id string) int { return strings.Compare(s.data.record(p).ID, id) })
	if !there {
		return nil, false
	}
	r := s.data.record(s.records[at])
	return &r, true
}

// recordsOf lists the records of the data.
func recordsOf(d *Data) []Record {
	all := make([]Record, 0, len(d.Force)+len(d.Starting)+len(d.Life))
	for i := range d.Force {
		all = append(all, Record{ID: d.Force[i].ID, Force: &d.Force[i]})
	}
	for i := range d.Starting {
		all = append(all, Record{ID: d.Starting[i].ID, Starting: &d.Starting[i]})
	}
	for i := range d.Life {
		all = append(all, Record{ID: d.Life[i].ID, Life: &d.Life[i]})
	}
	return all
}

// ValidAt is the data as it was in force on the floor at a time (RFC 3339, UTC), by what is
// known now: records put in force later are not, those ended later are.
func (d Data) ValidAt(at string) Data {
	return d.with(func(_ string, c *material.Curation) {
		switch c.InForce = c.ServedAt(at); {
		case c.InForce:
			c.State, c.Safety, c.SupersededBy = material.Approved, false, ""
		case c.State == material.Withdrawn && at < c.ValidTo:
			c.Safety = false // not yet
		}
	})
}

// Approved is the data with a draft in force in the place of what it supersedes.
func (d Data) Approved(id string) Data {
	replaced := ""
	for _, r := range recordsOf(&d) {
		if c := r.Provenance().Curation; r.ID == id && c != nil {
			replaced = c.Supersedes
		}
	}
	return d.with(func(record string, c *material.Curation) {
		switch record {
		case id:
			c.InForce = true
		case replaced:
			c.InForce, c.SupersededBy = false, id
		}
	}, replaced)
}

// Without is the data without a record.
func (d Data) Without(id string) Data {
	return d.with(func(record string, c *material.Curation) {
		if record == id {
			c.InForce = false
		}
	}, id)
}

// with is a copy of the data whose curations were changed; records of the data named get
// one first, since reference data has none.
func (d Data) with(change func(id string, c *material.Curation), named ...string) Data {
	d.Force, d.Starting, d.Life = slices.Clone(d.Force), slices.Clone(d.Starting), slices.Clone(d.Life)
	for _, r := range recordsOf(&d) {
		p := r.Provenance()
		var c material.Curation
		switch {
		case p.Curation != nil:
			c = *p.Curation
		case slices.Contains(named, r.ID):
			c = material.Curation{State: material.Approved, InForce: true}
		default:
			continue
		}
		change(r.ID, &c)
		p.Curation = &c
	}
	return d
}
