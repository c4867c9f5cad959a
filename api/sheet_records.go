package api

import (
	"iter"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/material"
	"swarf/domain/unit"
)

// recordSheets are the tables of force, starting-value and life records. A row that is not
// on record becomes a draft; those that are change by drafts that supersede them.
func recordSheets() []catalogSheet {
	return []catalogSheet{
		sheetOf("force", "force records: the constants of one law for one metal", "id scope.level scope.key process method basis source", ties[wire.ForceRow]{
			all: func(snap *catalog.Snapshot, system unit.System) iter.Seq[*wire.ForceRow] {
				return ofRecords(snap, func(r *catalog.Record) *wire.ForceRow { return forceRow(r, system) })
			},
			find: func(snap *catalog.Snapshot, r *wire.ForceRow) *wire.ForceRow { return recorded(snap, r.ID, forceRow) },
			key:  func(r *wire.ForceRow) string { return r.ID },
			metric: func(r *wire.ForceRow) {
				if v := r.Valid; v != nil {
					turnSpan(unit.Length, v.ChipThickness)
					turnSpan(unit.Speed, v.CuttingSpeed)
				}
			},
			take: func(im *importer, r *wire.ForceRow, l *line) {
				im.record(l, r.ID, "force", &r.Drafted, r.Rank, &wire.Record{Force: &r.ForceRecord})
			},
		}),
		sheetOf("starting", "starting values: speeds and feeds to begin with", "id scope.level scope.key operations basis source", ties[wire.StartingRow]{
			all: func(snap *catalog.Snapshot, system unit.System) iter.Seq[*wire.StartingRow] {
				return ofRecords(snap, func(r *catalog.Record) *wire.StartingRow { return startingRow(r, system) })
			},
			find: func(snap *catalog.Snapshot, r *wire.StartingRow) *wire.StartingRow {
				return recorded(snap, r.ID, startingRow)
			},
			key: func(r *wire.StartingRow) string { return r.ID },
			metric: func(r *wire.StartingRow) {
				turnSpan(unit.Speed, r.CuttingSpeed)
				turnSpan(unit.Length, r.Feed)
			},
			take: func(im *importer, r *wire.StartingRow, l *line) {
				im.record(l, r.ID, "starting", &r.Drafted, r.Rank, &wire.Record{Starting: &r.StartingRecord})
			},
		}),
		sheetOf("life", "tool-life records", "id scope.level scope.key process taylor_exponent basis source", ties[wire.LifeRow]{
			all: func(snap *catalog.Snapshot, _ unit.System) iter.Seq[*wire.LifeRow] {
				return ofRecords(snap, func(r *catalog.Record) *wire.LifeRow { return lifeRow(r, unit.Metric) })
			},
			find: func(snap *catalog.Snapshot, r *wire.LifeRow) *wire.LifeRow { return recorded(snap, r.ID, lifeRow) },
			key:  func(r *wire.LifeRow) string { return r.ID },
			take: func(im *importer, r *wire.LifeRow, l *line) {
				im.record(l, r.ID, "life", &r.Drafted, nil, &wire.Record{Life: &r.LifeRecord})
			},
		}),
	}
}

// ofRecords are the rows of the records for which there is one.
func ofRecords[R any](snap *catalog.Snapshot, row func(*catalog.Record) *R) iter.Seq[*R] {
	return func(yield func(*R) bool) {
		for r := range snap.EachRecord() {
			if one := row(&r); one != nil && !yield(one) {
				return
			}
		}
	}
}

// recorded is the row of a record on file, nil when there is none of its kind.
func recorded[R any](snap *catalog.Snapshot, id string, row func(*catalog.Record, unit.System) *R) *R {
	r, ok := snap.Record(id)
	if !ok {
		return nil
	}
	return row(r, unit.Metric)
}

func forceRow(r *catalog.Record, system unit.System) *wire.ForceRow {
	if r.Force == nil {
		return nil
	}
	return &wire.ForceRow{ForceRecord: forceToWire(r.Force, system), Rank: rankOf(r.Force.Rank), Drafted: draftedOf(r)}
}

func startingRow(r *catalog.Record, system unit.System) *wire.StartingRow {
	if r.Starting == nil {
		return nil
	}
	return &wire.StartingRow{StartingRecord: startingToWire(r.Starting, system), Rank: rankOf(r.Starting.Rank), Drafted: draftedOf(r)}
}

func lifeRow(r *catalog.Record, _ unit.System) *wire.LifeRow {
	if r.Life == nil {
		return nil
	}
	return &wire.LifeRow{LifeRecord: lifeToWire(r.Life), Drafted: draftedOf(r)}
}

func rankOf(rank int) *float64 {
	if rank == 0 {
		return nil
	}
	return pointer(float64(rank))
}

func draftedOf(r *catalog.Record) wire.Drafted {
	out := wire.Drafted{State: string(r.State())}
	if c := r.Provenance().Curation; c != nil {
		out.Supersedes, out.ReviewBy = c.Supersedes, c.ReviewBy
		if c.Lots > 0 {
			out.Lots = pointer(float64(c.Lots))
		}
	}
	return out
}

// mostRank is the last place in the steward's order.
const mostRank = 1_000

// record takes up a record as a draft.
func (im *importer) record(l *line, id, kind string, d *wire.Drafted, rank *float64, w *wire.Record) {
	if l.known {
		l.fault(fault(domain.Conflict, "state-unfit", "id", "the record "+quoteClipped(id)+" is on file with other numbers", "give the row an id of its own and name the old one in supersedes"))
		return
	}
	if _, other := im.snap.Record(id); other {
		l.fault(fault(domain.Invalid, "fields-conflict", "id", "a record of another kind has the id "+quoteClipped(id), "take another id"))
		return
	}
	w.Kind, w.Supersedes, w.Lots, w.ReviewBy = kind, d.Supersedes, d.Lots, d.ReviewBy
	c := l.checker()
	place, _ := c.read("rank", rank, bound{unit.None, mostRank, true})
	if place != float64(int(place)) {
		c.faults.Range("rank", "rank is {value}", unit.Of(unit.None, place), nil, "send a whole number")
	}
	r := recordFromWire(im, id, w, unit.Metric, c.faults)
	for _, e := range c.faults.List {
		e.Field = trimKind(e.Field, kind)
	}
	if old, ok := im.snap.Record(d.Supersedes); d.Supersedes != "" && (!ok || old.Kind() != kind) {
		c.faults.Any(fault(domain.Invalid, "value-out-of-range", "supersedes", "there is no "+kind+" record "+quoteClipped(d.Supersedes), "/v1/records lists all"))
	}
	l.end(c, func() {
		switch {
		case r.Force != nil:
			r.Force.Rank = int(place)
		case r.Starting != nil:
			r.Starting.Rank = int(place)
		}
		life := r.Provenance().Curation
		life.State, life.Author, life.Reason = material.Draft, im.by.Who, im.by.Reason
		im.records = append(im.records, *r)
	})
}

// trimKind is a field of a record as its column.
func trimKind(field, kind string) string {
	if len(field) > len(kind) && field[:len(kind)+1] == kind+"." {
		return field[len(kind)+1:]
	}
	return field
}
