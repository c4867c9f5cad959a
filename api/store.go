package api

import (
	"context"
	"time"

	"swarf/domain/catalog"
	"swarf/domain/evidence"
	"swarf/domain/machine"
	"swarf/domain/material"
)

// Store keeps what callers write, but for a context that ValidatesOnly: then it checks all
// and keeps nothing. Errors it returns are domain Errors: Unavailable
// when the database is away, whatever Write.Check returned when that refused.
type Store interface {
	// PutMachine creates or replaces a machine in one transaction.
	PutMachine(ctx context.Context, m machine.Machine, w Write) (Written, error)
	// DeleteMachine removes a machine in one transaction. A machine that does not
	// exist is a NotFound.
	DeleteMachine(ctx context.Context, id string, w Write) (Written, error)
	// PutRecord writes a draft, or writes it anew, in one transaction; check sees the
	// record as it stands, nil when there is none.
	PutRecord(ctx context.Context, r catalog.Record, by Author, check func(present *catalog.Record) error) (Written, error)
	// CurateRecord takes a record one step on, and ends what it supersedes.
	CurateRecord(ctx context.Context, id string, by Author, step func(*material.Curation) (material.Curation, error)) (Written, error)
	// PutCut and DeleteCut keep a cut, as machines are kept.
	PutCut(ctx context.Context, c catalog.StoredCut, by Author, check func(present *catalog.StoredCut) error) (Written, error)
	DeleteCut(ctx context.Context, id string, by Author, check func(present *catalog.StoredCut) error) (Written, error)
	// AddObservations keeps observations, all or none, and returns the number of the first;
	// the others follow in order. Observations reads them, oldest first.
	AddObservations(ctx context.Context, list []evidence.Kept) (first int64, err error)
	Observations(ctx context.Context, q ObservationsQuery) ([]evidence.Kept, error)
	// ForcePoints and LifePoints read the accepted evidence of a metal, at most so many;
	// loads of other metals on the same machines come with its own.
	ForcePoints(ctx context.Context, material, process string, most int) ([]evidence.ForcePoint, error)
	LifePoints(ctx context.Context, material, process, toolMaterial string, most int) ([]evidence.LifePoint, error)
	// Import writes what an import came to, all or none, when the data is still at its
	// revision; else a Conflict says that somebody was faster.
	Import(ctx context.Context, what Import, by Author) (Written, error)
	// CurateImport takes the records that an import wrote and that are still drafts one step
	// on, all or none, and says how many there were. Without any, NotFound.
	CurateImport(ctx context.Context, revision int64, by Author, step func(*material.Curation) (material.Curation, error)) (int, Written, error)
	// CreateJob keeps a batch to be computed later and queues it. Job, Jobs and JobParts read
	// it, how far it has come and its lines; CancelJob ends it.
	CreateJob(ctx context.Context, j Job) (Job, error)
	Job(ctx context.Context, id int64) (Job, error)
	Jobs(ctx context.Context, before int64, limit int) ([]Job, error)
	CancelJob(ctx context.Context, id int64) (Job, error)
	JobParts(ctx context.Context, id int64, use func(lines []byte) error) error
	// Changes lists changes, oldest first.
	Changes(ctx context.Context, q ChangesQuery) ([]Change, error)
}

// Author is who changes something and why. Who is the name of a key, or what a caller
// without one said; Person is whom a caller named beside its key, and proves nothing.
type Author struct{ Who, Person, Reason string }

// Write is who changes something and why, and the condition under which it may
// happen.
type Write struct {
	Author
	// Check is called inside the transaction with the present record, nil when
	// there is none; an error from it undoes the write and is returned as it is.
	Check func(present *machine.Machine) error
}

// Written is what a write did.
type Written struct {
	Revision       int64 // of the data after the write
	RecordRevision int64 // in which the record last changed: this write, or an earlier one when nothing differed
	Created        bool  // there was no such record before
	// Record is a record, Cut a kept cut, as it stands after the write of one.
	Record *catalog.Record
	Cut    *catalog.StoredCut
}

// Change is one entry of the change feed.
type Change struct {
	Revision int64
	At       time.Time
	Who      string
	Person   string
	Kind     string
	ID       string
	Action   string
	Reason   string
}

// ObservationsQuery asks for observations after a number; empty texts ask for all.
type ObservationsQuery struct {
	After                          int64
	Limit                          int
	Kind, State, Material, Machine string
}

// ChangesQuery asks for changes after a revision, leaving out the first Skip.
type ChangesQuery struct {
	After int64
	Skip  int
	Limit int
}
