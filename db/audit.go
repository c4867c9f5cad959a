package db

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5"
)

// Seal is the hash that closes a revision: over the seal before it and all its changes.
type Seal struct {
	Revision int64
	Hash     [sha256.Size]byte
}

// String is revision:hash, as people write it down.
func (s Seal) String() string {
	return strconv.FormatInt(s.Revision, 10) + ":" + hex.EncodeToString(s.Hash[:])
}

// ParseSeal reads what String wrote.
func ParseSeal(text string) (Seal, error) {
	revision, hash, _ := strings.Cut(strings.TrimSpace(text), ":")
	var s Seal
	n, err := strconv.ParseInt(revision, 10, 64)
	sum, bad := hex.DecodeString(hash)
	if err != nil || n < 1 || bad != nil || len(sum) != len(s.Hash) {
		return s, fmt.Errorf("%q is no seal: a revision, a colon and 64 hexadecimal digits", text)
	}
	s.Revision = n
	copy(s.Hash[:], sum)
	return s, nil
}

// Audit is what going through the history found.
type Audit struct {
	Revisions, Changes int64
	Head               Seal     // of the newest revision; zero where there is none
	Faults             []string // in the order in which they were met
}

// mostFaults is how many faults an audit tells; one broken seal can bring thousands.
const mostFaults = 20

// What one change says, as change_hash in the schema writes it. It stands here again so that
// whoever changes the function does not change the audit.
const changeText = `jsonb_build_array(revision, sequence, table_name, key, kind, id, action, old, new, who, person,
	(extract(epoch FROM at) * 1000000)::bigint, reason)::text`

// Audit goes through the whole history: it computes every seal anew, holds them against those
// that are kept and against one that somebody wrote down (nil: none), and holds every row as
// it is now against the last change of it. The hashes are computed here, not in the database.
//
// Errors: Unavailable. What is wrong with the history is no error but in Faults.
func (db *DB) Audit(ctx context.Context, known *Seal) (Audit, error) {
	var a Audit
	err := db.inTimedTx(ctx, db.config.LoadTimeout, pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly}, func(tx pgx.Tx) error {
		a = Audit{}
		if _, err := tx.Exec(ctx, `SET LOCAL extra_float_digits = 1`); err != nil {
			return err
		}
		if err := a.chain(ctx, tx, known); err != nil {
			return err
		}
		return a.rows(ctx, tx)
	})
	return a, err
}

func (a *Audit) fault(format string, values ...any) {
	if len(a.Faults) < mostFaults {
		a.Faults = append(a.Faults, fmt.Sprintf(format, values...))
	}
}

// chain computes the seals.
func (a *Audit) chain(ctx context.Context, tx pgx.Tx, known *Seal) error {
	kept, err := keptSeals(ctx, tx)
	if err != nil {
		return err
	}
	var newest int64
	if err := tx.QueryRow(ctx, `SELECT revision FROM data_revision`).Scan(&newest); err != nil {
		return err
	}
	var before []byte
	next := int64(1)
	close := func(revision int64, changes []byte) {
		sum := sha256.Sum256(append(append(append([]byte{}, before...), strconv.FormatInt(revision, 10)...), changes...))
		switch hash, ok := kept[revision]; {
		case !ok:
			a.fault("revision %d has no seal", revision)
		case !bytes.Equal(hash, sum[:]):
			a.fault("revision %d is not as it was sealed", revision)
			copy(sum[:], hash) // what follows is held against what was kept, so that one fault is one
		}
		delete(kept, revision)
		before = sum[:]
		a.Head = Seal{revision, sum}
		if known != nil && known.Revision == revision && known.Hash != sum {
			a.fault("revision %d is not the one that was written down: the history up to it was rewritten", revision)
		}
	}
	rows, err := tx.Query(ctx, `SELECT revision, `+changeText+` FROM changes ORDER BY revision, sequence`)
	if err != nil {
		return err
	}
	var revision int64
	var text string
	var changes []byte
	_, err = pgx.ForEachRow(rows, []any{&revision, &text}, func() error {
		for ; next < revision; next++ {
			close(next, changes)
			changes = changes[:0]
		}
		sum := sha256.Sum256([]byte(text))
		changes = append(changes, sum[:]...)
		a.Changes++
		return nil
	})
	if err != nil {
		return err
	}
	for ; next <= newest; next++ {
		close(next, changes)
		changes = changes[:0]
	}
	a.Revisions = newest
	if len(changes) > 0 || revision > newest {
		a.fault("there are changes of revision %d, but the newest is %d", revision, newest)
	}
	for extra := range kept {
		a.fault("revision %d has a seal, but the newest is %d", extra, newest)
	}
	if known != nil && known.Revision > newest {
		a.fault("revision %d was written down, but the newest is %d: the history was cut short", known.Revision, newest)
	}
	return nil
}

func keptSeals(ctx context.Context, tx pgx.Tx) (map[int64][]byte, error) {
	rows, err := tx.Query(ctx, `SELECT revision, hash FROM seal`)
	if err != nil {
		return nil, err
	}
	kept := map[int64][]byte{}
	var revision int64
	var hash []byte
	_, err = pgx.ForEachRow(rows, []any{&revision, &hash}, func() error {
		kept[revision] = bytes.Clone(hash)
		return nil
	})
	return kept, err
}
