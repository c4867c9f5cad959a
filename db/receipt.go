package db

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

// receipt is one thing that was written and acknowledged.
type receipt struct {
	kind, id string    // id: that of a noun of the changes
	number   int64     // revision of the changes, or number of the row
	more     int       // rows that follow it in the same transaction
	at       time.Time // as the row says
}

// String is a name as in machine/vmc-40, or observation/7-11 for rows with numbers.
func (r receipt) String() string {
	switch {
	case r.id != "":
		return r.kind + "/" + r.id
	case r.more > 0:
		return fmt.Sprintf("%s/%d-%d", r.kind, r.number, r.number+int64(r.more))
	}
	return fmt.Sprintf("%s/%d", r.kind, r.number)
}

// receipts are the last writes of this program. When another server takes the place of the
// one before, they show what it has not got: with a standby that lags, a failover loses what
// was acknowledged last, and a primary may take writes before it knows that it is deposed.
type receipts struct {
	mu   sync.Mutex
	list []receipt // in turn; next is the place of the next
	next int
	of   int64 // the count of switches that they were held against
}

// mostReceipts is how many are kept, and mostNamed how many a line of the log names, or a
// single write leaves.
const (
	mostReceipts = 5_000
	mostNamed    = 50
)

func (r *receipts) add(some []receipt) {
	r.mu.Lock()
	defer r.mu.Unlock()
	for _, one := range some {
		if len(r.list) < mostReceipts {
			r.list = append(r.list, one)
			continue
		}
		r.list[r.next] = one
		r.next = (r.next + 1) % mostReceipts
	}
}

// present is all of them, the oldest first.
func (r *receipts) present() []receipt {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.inTurn()
}

func (r *receipts) inTurn() []receipt {
	return append(slices.Clone(r.list[r.next:]), r.list[:r.next]...)
}

// heldAgainst is the count of switches that they were last held against.
func (r *receipts) heldAgainst() int64 {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.of
}

// reckoned forgets those that were looked for on another server.
func (r *receipts) reckoned(looked []receipt, now int64) {
	done := make(map[receipt]bool, len(looked))
	for _, one := range looked {
		done[one] = true
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.list = slices.DeleteFunc(r.inTurn(), func(one receipt) bool { return done[one] })
	r.next, r.of = 0, now
}

// note leaves a receipt, which counts when the transaction is committed.
func note(tx pgx.Tx, r ...receipt) {
	talk := talkOf(tx.Conn().PgConn())
	talk.receipts = append(talk.receipts, r...)
}

// noteChanges leaves receipts of what was changed after a revision.
func noteChanges(ctx context.Context, tx pgx.Tx, after int64) error {
	result, err := tx.Query(ctx, `SELECT DISTINCT kind, id, revision, at FROM changes WHERE revision > $1 LIMIT $2`, after, mostNamed)
	if err != nil {
		return err
	}
	var r receipt
	_, err = pgx.ForEachRow(result, []any{&r.kind, &r.id, &r.number, &r.at}, func() error { note(tx, r); return nil })
	return err
}

// reckon looks for what was lost whenever another server has taken over, until the context
// ends.
func (db *DB) reckon(ctx context.Context) {
	for ctx.Err() == nil {
		if err := db.findLost(ctx); err != nil && ctx.Err() == nil {
			db.config.Logger.WarnContext(ctx, "another database server took over; what it has not got is not known yet", "error", err)
		}
		select {
		case <-ctx.Done():
		case <-time.After(idleBeat):
		}
	}
}

// findLost looks for the receipts on another server that has taken over and says in the log
// which it has not got. It looks once for each that does.
func (db *DB) findLost(ctx context.Context) error {
	now := db.Switches()
	if now == db.receipts.heldAgainst() {
		return nil
	}
	list := db.receipts.present()
	kinds, numbers, times := make([]string, len(list)), make([]int64, len(list)), make([]time.Time, len(list))
	for i, r := range list {
		kinds[i], numbers[i], times[i] = r.kind, r.number, r.at
	}
	var lost []string
	if err := db.inTx(ctx, reading, func(tx pgx.Tx) error {
		result, err := tx.Query(ctx, `SELECT i FROM unnest($1::text[], $2::bigint[], $3::timestamptz[]) WITH ORDINALITY AS r(kind, number, made, i)
			WHERE NOT CASE kind WHEN 'observation' THEN EXISTS (SELECT FROM observation AS o WHERE o.id = number AND o.received = made)
				WHEN 'job' THEN EXISTS (SELECT FROM job AS j WHERE j.id = number AND j.created_at = made)
				ELSE EXISTS (SELECT FROM changes AS c WHERE c.revision = number AND c.at = made) END ORDER BY i`, kinds, numbers, times)
		if err != nil {
			return err
		}
		lost = nil
		var i int
		_, err = pgx.ForEachRow(result, []any{&i}, func() error { lost = append(lost, list[i-1].String()); return nil })
		return err
	}); err != nil {
		return err
	}
	if len(lost) == 0 {
		db.config.Logger.WarnContext(ctx, "another database server took over; it has all that was acknowledged here", "writes", len(list))
	}
	for some := range slices.Chunk(lost, mostNamed) {
		db.config.Logger.ErrorContext(ctx, "another database server took over without what was acknowledged here; write it again", "lost", len(lost), "writes", some)
	}
	db.receipts.reckoned(list, now)
	return nil
}

// talk is what a transaction leaves with its connection, which one uses at a time.
type talk struct {
	warning  string // the server's last
	receipts []receipt
}

// talkKey is where a connection keeps its talk.
const talkKey = "swarf.talk"

// talkOf is the talk of a connection, kept from now on.
func talkOf(conn *pgconn.PgConn) *talk {
	kept, ok := conn.CustomData()[talkKey].(*talk)
	if !ok {
		kept = new(talk)
		conn.CustomData()[talkKey] = kept
	}
	return kept
}

// noteWarning keeps a warning of the server with its connection.
func noteWarning(conn *pgconn.PgConn, n *pgconn.Notice) {
	if kept, ok := conn.CustomData()[talkKey].(*talk); ok && n.SeverityUnlocalized == "WARNING" {
		kept.warning = n.Message
	}
}
