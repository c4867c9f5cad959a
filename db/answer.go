package db

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"time"

	"github.com/jackc/pgx/v5"

	"swarf/domain"
)

// Claim is a request that may have its effect once.
type Claim struct {
	Caller      string // whose key it is
	Key         string // 1 to 255 characters
	Fingerprint [sha256.Size]byte
	Keep        time.Duration // how long its answer is repeated
	Within      time.Duration // how long the write may take
}

// Answer is what a request was answered with.
type Answer struct {
	Status int
	Header map[string]string
	Body   []byte
	Forget bool // it is not to be kept
}

// errUndone undoes the writes of a request whose answer is kept nevertheless.
var errUndone = errors.New("undone")

// Once runs a write that makes an answer, at most once for a claim: the claim, whatever the
// function writes with the context it is given, and its answer are one transaction. When
// the answer is there already it is returned, and replayed is true. What the function wrote
// is undone unless its answer says 2xx; an answer of 5xx, one to be forgotten, or an error
// leaves nothing behind.
//
// Errors: Conflict (idempotency-key-busy) while the first request is still at work; Invalid
// (idempotency-key-reused) when the key was used for another request; the function's own;
// Unavailable.
func (db *DB) Once(ctx context.Context, claim Claim, do func(context.Context) (Answer, error)) (answer Answer, replayed bool, err error) {
	var began bool
	ctx, done, err := db.pulse.with(ctx) // what the function writes ends with the server too
	if err != nil {
		return Answer{}, false, err
	}
	defer done()
	err = db.inTimedTx(ctx, max(claim.Within, db.config.TransactionTimeout), pgx.TxOptions{}, func(tx pgx.Tx) error {
		if began { // what the function did is not done again here
			return &domain.Error{Kind: domain.Unavailable, Code: notReady, Msg: "another write was in the way", Fix: tryAgain}
		}
		if err := db.keeps(ctx, tx); err != nil { // what a deposed server says it kept is no answer either
			return err
		}
		kept, err := claimed(ctx, tx, claim)
		if err != nil {
			return err
		}
		if replayed = kept != nil; replayed {
			answer = *kept
			return nil
		}
		// The function may think between its statements, as long as the whole may take.
		if _, err := tx.Exec(ctx, `SELECT set_config('idle_in_transaction_session_timeout', $1, true)`,
			milliseconds(max(claim.Within, db.config.IdleInTransactionTimeout))); err != nil {
			return err
		}
		began = true
		err = pgx.BeginFunc(ctx, tx, func(inner pgx.Tx) error {
			var err error
			if answer, err = do(context.WithValue(ctx, within{}, inner)); err != nil {
				return err
			}
			if answer.Status < 200 || answer.Status >= 300 {
				return errUndone
			}
			return nil
		})
		if err != nil && !errors.Is(err, errUndone) {
			return err
		}
		if answer.Status >= 500 || answer.Forget {
			return errUndone
		}
		return keep(ctx, tx, claim, answer)
	})
	if errors.Is(err, errUndone) {
		return answer, false, nil
	}
	return answer, replayed, err
}

// within is where a context carries the transaction of Once.
type within struct{}

// claimed takes the claim for as long as the transaction lasts, or finds its answer. The
// lock tells a request that is still at work, whose answer nobody can see yet.
func claimed(ctx context.Context, tx pgx.Tx, c Claim) (*Answer, error) {
	sum := sha256.Sum256([]byte("kept_answer\x00" + c.Caller + "\x00" + c.Key))
	var free bool
	if err := tx.QueryRow(ctx, `SELECT pg_try_advisory_xact_lock($1)`, int64(binary.BigEndian.Uint64(sum[:8]))).Scan(&free); err != nil {
		return nil, err
	}
	if !free {
		return nil, &domain.Error{Kind: domain.Conflict, Code: "idempotency-key-busy", Field: "Idempotency-Key", Msg: "the first request with this key is still at work", Fix: "wait a moment and send the same request again"}
	}
	var print []byte
	var a Answer
	err := tx.QueryRow(ctx, `SELECT fingerprint, status, header, body FROM kept_answer WHERE caller = $1 AND key = $2 AND at > clock_timestamp() - $3::interval`,
		c.Caller, c.Key, c.Keep).Scan(&print, &a.Status, &a.Header, &a.Body)
	switch {
	case errors.Is(err, pgx.ErrNoRows):
		return nil, nil
	case err != nil:
		return nil, err
	case [sha256.Size]byte(print) != c.Fingerprint:
		return nil, &domain.Error{Kind: domain.Invalid, Code: "idempotency-key-reused", Field: "Idempotency-Key", Msg: "the key was used for another request", Fix: "take a new key for a new request"}
	}
	return &a, nil
}

// keep stores the answer; one whose time is over gives way.
func keep(ctx context.Context, tx pgx.Tx, c Claim, a Answer) error {
	if a.Body == nil {
		a.Body = []byte{}
	}
	_, err := tx.Exec(ctx, `INSERT INTO kept_answer (caller, key, fingerprint, status, header, body) VALUES ($1, $2, $3, $4, $5, $6)
		ON CONFLICT (caller, key) DO UPDATE SET fingerprint = excluded.fingerprint, at = excluded.at, status = excluded.status, header = excluded.header, body = excluded.body`,
		c.Caller, c.Key, c.Fingerprint[:], a.Status, a.Header, a.Body)
	return err
}

// ForgetAnswers removes answers that were kept for so long.
//
// Errors: Unavailable.
func (db *DB) ForgetAnswers(ctx context.Context, after time.Duration) error {
	return db.InTx(ctx, func(tx pgx.Tx) error {
		_, err := tx.Exec(ctx, `DELETE FROM kept_answer WHERE at <= clock_timestamp() - $1::interval`, after)
		return err
	})
}
