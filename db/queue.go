package db

import (
	"context"
	"errors"
	"log/slog"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"
	"github.com/riverqueue/river"
	"github.com/riverqueue/river/riverdriver/riverpgxv5"
	"github.com/riverqueue/river/rivermigrate"

	"swarf/domain"
)

// queueSchema is where River keeps its tables, apart from ours.
const queueSchema = "river"

// How much of a job is kept at a time, how often its computing is tried when it fails, and
// how often a worker may die over it.
const (
	partItems  = 250
	mostTries  = 5
	mostDeaths = 1_000
)

// sweepArgs is what River knows of a job: its number.
type sweepArgs struct {
	JobID int64 `json:"job_id"`
}

// Kind names the work.
func (sweepArgs) Kind() string { return "sweep" }

// JobFunc computes items of a job, from one to before another, a line each.
type JobFunc func(ctx context.Context, j *Job, from, to int) (lines []byte, err error)

// queue is a client that only adds jobs.
func (db *DB) queue() (*river.Client[pgx.Tx], error) {
	return river.NewClient(riverpgxv5.New(db.pool), &river.Config{Schema: queueSchema, Logger: quiet})
}

// quiet keeps River's own lines out of the log; what fails is logged by those who wait.
var quiet = slog.New(slog.DiscardHandler)

// WorkJobs computes the jobs of the queue until its context ends. While the database is
// away it waits and goes on.
func (db *DB) WorkJobs(ctx context.Context, compute JobFunc) {
	for ctx.Err() == nil {
		if err := db.work(ctx, compute); err != nil && ctx.Err() == nil {
			db.config.Logger.Warn("the queue of jobs is not worked", "error", err)
		}
		select {
		case <-ctx.Done():
		case <-time.After(2 * time.Second):
		}
	}
}

func (db *DB) work(ctx context.Context, compute JobFunc) error {
	workers := river.NewWorkers()
	river.AddWorker(workers, &sweeper{db: db, compute: compute})
	settings, err := db.config.pool(db.fence)
	if err != nil {
		return err
	}
	settings.MaxConns = 3 // one listens, one fetches, one is River's own business
	pool, err := pgxpool.NewWithConfig(ctx, settings)
	if err != nil {
		return err
	}
	defer pool.Close()
	client, err := river.NewClient(riverpgxv5.New(pool), &river.Config{
		Schema: queueSchema, Workers: workers, Queues: map[string]river.QueueConfig{river.QueueDefault: {MaxWorkers: 1}},
		// A worker stays with a job for a slice and then queues behind others, so that a
		// long one does not hold up the short; one that died is taken over soon after.
		JobTimeout: 3*db.config.JobSlice + time.Second, RescueStuckJobsAfter: 3*db.config.JobSlice + 2*time.Second, Logger: quiet,
	})
	if err != nil {
		return err
	}
	if err := client.Start(ctx); err != nil {
		return err
	}
	<-ctx.Done()
	stopping, cancel := context.WithTimeout(context.WithoutCancel(ctx), 5*time.Second)
	defer cancel()
	return client.StopAndCancel(stopping)
}

// sweeper works on jobs.
type sweeper struct {
	river.WorkerDefaults[sweepArgs]
	db      *DB
	compute JobFunc
}

// NextRetry is soon: what failed was the database or a worker, not the job.
func (*sweeper) NextRetry(*river.Job[sweepArgs]) time.Time { return time.Now().Add(time.Second) }

// Work goes on where the job stands, for a slice of time.
func (w *sweeper) Work(ctx context.Context, task *river.Job[sweepArgs]) error {
	job, err := w.db.wholeJob(ctx, task.Args.JobID)
	if fault := (*domain.Error)(nil); errors.As(err, &fault) && fault.Kind == domain.NotFound {
		return river.JobCancel(err)
	}
	if err != nil {
		return err
	}
	tries := 0
	for end := time.Now().Add(w.db.config.JobSlice); job.Done < job.Items && job.EndedAt == nil; {
		if time.Now().After(end) {
			return river.JobSnooze(0)
		}
		to := min(job.Done+partItems, job.Items)
		lines, err := w.compute(ctx, &job, job.Done, to)
		if tries++; err != nil && tries < mostTries && ctx.Err() == nil {
			time.Sleep(w.db.config.JobSlice / (2 * mostTries))
			continue
		}
		if err != nil {
			return errors.Join(err, w.db.failJob(context.WithoutCancel(ctx), job.ID, err.Error()))
		}
		tries = 0
		kept, err := w.db.keepPart(ctx, job.ID, job.Done, to, lines)
		if err != nil || !kept { // ended, or another worker is at it
			return err
		}
		job.Done = to
	}
	return nil
}

// migrateQueue brings River's tables up to this program's version. The caller holds the
// lock of whoever changes the schema.
func migrateQueue(ctx context.Context, config Config) error {
	settings, err := config.withDefaults().pool(nil)
	if err != nil {
		return err
	}
	settings.MaxConns = 1
	pool, err := pgxpool.NewWithConfig(ctx, settings)
	if err != nil {
		return err
	}
	defer pool.Close()
	if _, err := pool.Exec(ctx, `CREATE SCHEMA IF NOT EXISTS `+queueSchema); err != nil {
		return err
	}
	steps, err := rivermigrate.New(riverpgxv5.New(pool), &rivermigrate.Config{Schema: queueSchema, Logger: quiet})
	if err != nil {
		return err
	}
	_, err = steps.Migrate(ctx, rivermigrate.DirectionUp, nil)
	return err
}
