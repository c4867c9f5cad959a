package catalog

import (
	"slices"

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
