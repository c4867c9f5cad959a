package catalog

import (
	"cmp"
	"slices"
	"strings"

	"swarf/domain/material"
)

// Arrange puts the records where they are into the order in which a snapshot keeps
// them: by scope, those of one scope by id. New does the same with a copy, which is
// large, where it finds them otherwise.
func (d *Data) Arrange() {
	arrange(d.Force, placeOfForce)
	arrange(d.Starting, placeOfStarting)
	arrange(d.Life, placeOfLife)
}

// inOrder is the data with grades of its own, without records, and with the records in
// their order, so that an answer does not depend on where the data came from.
func inOrder(d Data) Data {
	d.Materials = slices.Clone(d.Materials)
	for i := range d.Materials {
		m := &d.Materials[i]
		m.Force, m.Starting, m.Life = nil, nil, nil
	}
	d.Force = arranged(d.Force, placeOfForce)
	d.Starting = arranged(d.Starting, placeOfStarting)
	d.Life = arranged(d.Life, placeOfLife)
	return d
}

// place is what records are ordered by.
type place struct {
	material.Scope
	id string
}

func placeOfForce(r *material.Force) place       { return place{r.Scope, r.ID} }
func placeOfStarting(r *material.Starting) place { return place{r.Scope, r.ID} }
func placeOfLife(r *material.Life) place         { return place{r.Scope, r.ID} }

func (p place) compare(q place) int {
	return cmp.Or(strings.Compare(p.Level, q.Level), strings.Compare(p.Key, q.Key), strings.Compare(p.id, q.id))
}

// arranged is the records in their order: themselves, or a copy.
func arranged[R any](records []R, of func(*R) place) []R {
	for i := 1; i < len(records); i++ {
		if of(&records[i-1]).compare(of(&records[i])) > 0 {
			records = slices.Clone(records)
			arrange(records, of)
			break
		}
	}
	return slices.Clip(records)
}

// arrange sorts records in place. They are large: what is sorted is where they stand,
// and each is moved once, along the rings that the moves make.
func arrange[R any](records []R, of func(*R) place) {
	from := make([]int32, len(records))
	for i := range from {
		from[i] = int32(i)
	}
	slices.SortStableFunc(from, func(i, j int32) int { return of(&records[i]).compare(of(&records[j])) })
	for start := range from {
		if int(from[start]) == start {
			continue
		}
		first, to := records[start], start
		for int(from[to]) != start {
			next := int(from[to])
			records[to], from[to] = records[next], int32(to)
			to = next
		}
		records[to], from[to] = first, int32(to)
	}
}
