package main

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"swarf/api"
	"swarf/db"
	"swarf/domain"
	"swarf/domain/access"
	"swarf/domain/catalog"
)

// dbConfig is how the settings say to reach the database.
func (p *program) dbConfig() db.Config {
	return db.Config{URL: p.config.DatabaseURL.Reveal(), MaxConns: int32(p.config.DBMaxConns), PollInterval: p.config.PollInterval,
		Patience: p.config.DBPatience, UnsafeWrites: p.config.UnsafeWrites, JobSlice: p.config.JobSlice, Logger: p.log, Tracer: p.traces.tracer()}
}

// database serves from PostgreSQL. With the server out of reach it goes on trying,
// and requests get data-not-ready meanwhile, or answers from the snapshot file where one is
// kept: the embedded data never stands in. A schema that does not fit is an error that says
// what to run.
func (p *program) database(ctx context.Context, options *api.Options) (stop func(), err error) {
	ctx, cancel := context.WithCancel(ctx)
	way := new(link)
	var pg *db.DB
	present := newSnapshots(func(ctx context.Context) (catalog.Data, error) { return pg.Snapshot(ctx) })
	ring := new(keyring)
	kept, err := p.keeper(present, ring)
	if err != nil {
		cancel()
		return nil, err
	}
	config := p.dbConfig()
	config.CheckOnly = api.ValidatesOnly
	config.Lost = func(err error) { way.lose(err); kept.start(way) }
	config.Keys = func(asked time.Time, list []access.Key) {
		ring.take(asked, list)
		kept.tell()
	}
	if pg, err = db.Open(ctx, config); err != nil {
		cancel()
		return nil, err
	}
	if err := p.schemaFits(ctx, pg, config.Lost); err != nil {
		cancel()
		pg.Close()
		return nil, err
	}
	ring.db = pg
	present.machines, present.switches = pg.MachinesSince, pg.Switches
	earlier := newHistory(pg, p.config.AsOfKeep)
	options.Mode = api.PostgreSQL
	options.Snapshots = present.now
	options.Refresh = present.refresh
	options.AsOf = earlier.at
	options.Store = store{pg}
	options.Keys = ring
	options.Answers = answersKept{pg, p.config.AnswersKeep}
	options.Degraded = way.degraded
	if options.Metrics != nil {
		options.Metrics.MustRegister(pg)
	}
	var listening sync.WaitGroup
	listening.Go(func() { pg.Watch(ctx, way.beat) })
	listening.Go(func() { p.follow(ctx, pg, present, way, kept) })
	if kept != nil {
		listening.Go(func() { kept.run(ctx) })
	}
	listening.Go(func() { p.keepCalendar(ctx, pg) })
	listening.Go(func() { pg.WorkJobs(ctx, p.sweep) })
	listening.Go(func() {
		ring.noteUses(ctx, func(err error) { p.log.Warn("when keys were used was not written down", "error", err) })
	})
	return func() { cancel(); listening.Wait(); pg.Close() }, nil
}

// sweep computes items of a job that is computed later, once the service is there.
func (p *program) sweep(ctx context.Context, j *db.Job, from, to int) ([]byte, error) {
	server := p.server.Load()
	if server == nil {
		return nil, errors.New("the service is still starting")
	}
	whole := api.Job(*j)
	return server.Sweep(ctx, &whole, from, to)
}

// soon is how long a start waits for the database where there is a file to serve from.
const soon = time.Second

// schemaFits holds the schema against what the program needs, when the database
// answers. When it does not, lost is told, and that is for follow to find out again.
func (p *program) schemaFits(ctx context.Context, pg *db.DB, lost func(error)) error {
	if p.config.Snapshot != "" {
		var cancel context.CancelFunc
		ctx, cancel = context.WithTimeout(ctx, soon)
		defer cancel()
	}
	note, err := pg.CheckSchema(ctx)
	var ours *domain.Error
	switch {
	case err == nil:
	case errors.As(err, &ours) && ours.Err == nil: // the schema's state, not a failure to read it
		return fmt.Errorf("%s: %s", ours.Msg, ours.Fix)
	default:
		p.log.Warn("the database does not answer; trying on", "error", err)
		lost(err)
		return nil
	}
	if note != "" {
		p.log.Warn(note)
	}
	if err := pg.CheckDurability(ctx); err != nil {
		p.log.Warn("writes are at risk", "error", err)
	}
	return nil
}

// follow keeps the present snapshot up with the database until the context ends. It listens
// on while it loads, so that a key that is revoked meanwhile is known of at once.
func (p *program) follow(ctx context.Context, pg *db.DB, present *snapshots, way *link, kept *keeper) {
	due := make(chan int64, 1) // the newest revision heard of
	var loading sync.WaitGroup
	loading.Go(func() {
		for revision := range due {
			p.loadRevision(ctx, present, way, kept, revision)
		}
	})
	err := pg.Listen(ctx, func(revision int64) {
		way.hear()
		select {
		case <-due: // older
		default:
		}
		due <- revision
	})
	close(due)
	loading.Wait()
	if ctx.Err() == nil {
		p.log.Error("listening for new data ended", "error", err)
	}
}

// loadRevision brings the present snapshot to a revision and tells of it.
func (p *program) loadRevision(ctx context.Context, present *snapshots, way *link, kept *keeper, revision int64) {
	before := present.now()
	ctx, cancel := context.WithTimeout(ctx, 30*time.Second)
	defer cancel()
	switch err := p.take(ctx, present, revision); {
	case err != nil:
		way.lose(err)
		p.log.Error("loading new data failed", "revision", revision, "error", err)
	case present.now() != before:
		p.log.Info("serving", "data_revision", present.now().Revision)
		kept.tell()
	default:
		kept.tell() // a write through this replica has loaded what it made
	}
}

// keepCalendar applies the day to the records, at once and again with every poll: records
// come into force and go past their review on some replica's watch.
func (p *program) keepCalendar(ctx context.Context, pg *db.DB) {
	for {
		if due, err := pg.KeepCalendar(ctx, time.Now()); err != nil && ctx.Err() == nil {
			p.log.Warn("the calendar of the records was not kept", "error", err)
		} else if due > 0 {
			p.log.Info("records the calendar changed", "count", due)
		}
		if drifts, err := pg.KeepWatch(ctx); err != nil && ctx.Err() == nil {
			p.log.Warn("measured loads were not held against the records", "error", err)
		} else if drifts > 0 {
			p.log.Info("records marked for drift, or no longer", "count", drifts)
		}
		if err := pg.ForgetAnswers(ctx, p.config.AnswersKeep); err != nil && ctx.Err() == nil {
			p.log.Warn("answers whose time is over were not removed", "error", err)
		}
		select {
		case <-ctx.Done():
			return
		case <-time.After(p.config.PollInterval):
		}
	}
}

// take brings the present snapshot to a revision. A database without data is
// waited for.
func (p *program) take(ctx context.Context, present *snapshots, revision int64) error {
	if revision == 0 {
		return &domain.Error{Kind: domain.Unavailable, Code: "data-not-ready", Msg: "the database holds no data", Fix: "run swarf load"}
	}
	if held := present.now(); held != nil && held.Revision > revision {
		return present.reload(ctx)
	}
	return present.refresh(ctx, revision)
}

// newHistory rebuilds earlier snapshots from a database.
func newHistory(pg *db.DB, keep int) *history {
	return &history{
		revision: func(ctx context.Context, text string) (int64, error) {
			when, err := parseAsOf(text)
			if err != nil {
				return 0, err
			}
			return pg.RevisionAt(ctx, when)
		},
		load: func(ctx context.Context, revision int64) (catalog.Data, error) {
			return pg.SnapshotAt(ctx, db.AsOf{Revision: &revision})
		},
		switches: pg.Switches,
		keep:     keep,
		turn:     make(chan struct{}, 1),
	}
}
