package main

import (
	"reflect"
	"slices"

	"swarf/domain/catalog"
)

// mostLost is how many records a line of the log names.
const mostLost = 50

// tellLost says in the log what this replica had and the server that took the place of the
// one before has not: with a standby that lags, a failover loses what was acknowledged last,
// and a deposed primary may have taken writes that nobody else has.
func (p *program) tellLost(before, after *catalog.Snapshot) {
	lost := lostOf(before, after)
	args := []any{"data_revision_before", before.Revision, "data_revision", after.Revision, "lost", len(lost), "records", lost[:min(len(lost), mostLost)]}
	if len(lost) == 0 {
		p.log.Warn("another database server took over; it has all that this replica had", args...)
		return
	}
	p.log.Error("another database server took over without what this replica had; write it again", args...)
}

// writing is one thing that people write, with the revision that last changed it.
type writing struct {
	revision int64
	content  any
}

// keptIn lists, as kind/id, what people write.
func keptIn(s *catalog.Snapshot) map[string]writing {
	all := map[string]writing{}
	for _, m := range s.Machines() {
		all["machine/"+m.ID] = writing{m.Revision, m}
	}
	for _, c := range s.Cuts() {
		all["cut/"+c.ID] = writing{c.Revision, c}
	}
	for r := range s.EachRecord() {
		k := writing{content: r}
		if c := r.Provenance().Curation; c != nil {
			k.revision = c.Revision
		}
		all["record/"+r.ID] = k
	}
	return all
}

// lostOf lists what the earlier snapshot has and the later has not, nor anything in its
// place that was written since.
func lostOf(before, after *catalog.Snapshot) []string {
	var lost []string
	now := keptIn(after)
	for name, was := range keptIn(before) {
		is, there := now[name]
		if !there || is.revision <= was.revision && !reflect.DeepEqual(is, was) {
			lost = append(lost, name)
		}
	}
	slices.Sort(lost)
	return lost
}
