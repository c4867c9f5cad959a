package db

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5"

	"swarf/domain"
	"swarf/domain/access"
)

// keyColumns are a key and when it was last used, in the order in which collectKeys reads.
const keyColumns = `k.id, k.name, k.view, k.scopes, k.digest, k.digest_made, k.earlier_digest, k.earlier_made, k.earlier_until,
	k.made, k.made_by, k.expires, k.revoked, k.revoked_by, u.at FROM access_key AS k LEFT JOIN access_use AS u ON u.key_id = k.id`

// Keys reads all keys, in the order of their ids.
//
// Errors: Unavailable.
func (db *DB) Keys(ctx context.Context) ([]access.Key, error) {
	var list []access.Key
	err := db.inTx(ctx, reading, func(tx pgx.Tx) error {
		var err error
		list, err = collectKeys(tx.Query(ctx, `SELECT `+keyColumns+` ORDER BY k.id COLLATE "C"`))
		return err
	})
	return list, err
}

func collectKeys(result pgx.Rows, err error) ([]access.Key, error) {
	if err != nil {
		return nil, err
	}
	var list []access.Key
	var k access.Key
	var scopes []string
	var digest, earlier []byte
	var digestMade, made time.Time
	var earlierMade, until, expires, revoked, used *time.Time
	_, err = pgx.ForEachRow(result, []any{&k.ID, &k.Name, &k.View, &scopes, &digest, &digestMade, &earlier, &earlierMade, &until,
		&made, &k.MadeBy, &expires, &revoked, &k.RevokedBy, &used}, func() error {
		one := k
		var err error
		if one.Scopes, err = access.ParseScopes(scopes); err != nil {
			return err
		}
		one.Secrets = []access.Secret{{Digest: access.Digest(digest), MadeUnix: digestMade.Unix()}}
		if earlier != nil {
			one.Secrets = append(one.Secrets, access.Secret{Digest: access.Digest(earlier), MadeUnix: unix(earlierMade), UntilUnix: unix(until)})
		}
		one.MadeUnix, one.ExpiresUnix, one.RevokedUnix, one.UsedUnix = made.Unix(), unix(expires), unix(revoked), unix(used)
		list = append(list, one)
		return nil
	})
	return list, err
}

// unix is a time as keys hold it; zero for none.
func unix(at *time.Time) int64 {
	if at == nil {
		return 0
	}
	return at.Unix()
}

// stamped is a time as a column holds it; nil for none.
func stamped(unix int64) any {
	if unix == 0 {
		return nil
	}
	return time.Unix(unix, 0)
}

// AddKey keeps a new key, which must have one secret.
//
// Errors: Conflict when another key has, or had, its name; Unavailable.
func (db *DB) AddKey(ctx context.Context, k access.Key, w Write) error {
	return db.inKeys(ctx, w, func(tx pgx.Tx) error {
		var taken bool
		if err := tx.QueryRow(ctx, `SELECT EXISTS (SELECT FROM access_key WHERE lower(name) = lower($1))`, k.Name).Scan(&taken); err != nil {
			return err
		}
		if taken {
			return &domain.Error{Kind: domain.Conflict, Code: "name-taken", Field: "name", Msg: "a key of this name was made before", Fix: "take another name, or rotate that key"}
		}
		s := &k.Secrets[0]
		_, err := tx.Exec(ctx, `INSERT INTO access_key (id, name, view, scopes, digest, digest_made, made_by, expires) VALUES ($1, $2, $3, $4, $5, $6, $7, $8)`,
			k.ID, k.Name, k.View, k.Scopes.Names(), s.Digest[:], time.Unix(s.MadeUnix, 0), w.Who, stamped(k.ExpiresUnix))
		return err
	})
}

// ChangeKey lets a function change the secrets of a key, or revoke it, and returns the key
// as it was before. Nothing else of a key changes.
//
// Errors: NotFound; those of the function; Unavailable.
func (db *DB) ChangeKey(ctx context.Context, id string, w Write, change func(*access.Key) error) (access.Key, error) {
	var k access.Key
	err := db.inKeys(ctx, w, func(tx pgx.Tx) error {
		found, err := collectKeys(tx.Query(ctx, `SELECT `+keyColumns+` WHERE k.id = $1 FOR UPDATE OF k`, id))
		if err != nil {
			return err
		}
		if len(found) == 0 {
			return &domain.Error{Kind: domain.NotFound, Field: "id", Code: notFound, Msg: "there is no key " + id, Fix: "/v1/keys lists all"}
		}
		k = found[0]
		before := k.RevokedUnix
		if err := change(&k); err != nil {
			return err
		}
		if before != 0 {
			return nil // revoked before: it stays as it is
		}
		k.RevokedBy = ""
		if k.RevokedUnix != 0 {
			k.RevokedBy = w.Who
		}
		s, e := k.Secrets[0], [3]any{}
		if len(k.Secrets) > 1 {
			e = [3]any{k.Secrets[1].Digest[:], stamped(k.Secrets[1].MadeUnix), stamped(k.Secrets[1].UntilUnix)}
		}
		_, err = tx.Exec(ctx, `UPDATE access_key SET digest = $2, digest_made = $3, earlier_digest = $4, earlier_made = $5, earlier_until = $6, revoked = $7, revoked_by = $8 WHERE id = $1`,
			id, s.Digest[:], time.Unix(s.MadeUnix, 0), e[0], e[1], e[2], stamped(k.RevokedUnix), k.RevokedBy)
		return err
	})
	return k, err
}

// inKeys is inWrite for keys, which are outside the revisions.
func (db *DB) inKeys(ctx context.Context, by Write, do func(pgx.Tx) error) error {
	return db.InTx(ctx, func(tx pgx.Tx) error {
		if err := db.authored(ctx, tx, by); err != nil {
			return err
		}
		return do(tx)
	})
}

// KeyChange is what became of a key.
type KeyChange struct {
	Action string // made, rotated, revoked
	Who    string
	Person string
	At     time.Time
	Reason string
}

// KeyChanges reads what became of a key, oldest first.
//
// Errors: Unavailable.
func (db *DB) KeyChanges(ctx context.Context, id string) ([]KeyChange, error) {
	var list []KeyChange
	err := db.inTx(ctx, reading, func(tx pgx.Tx) error {
		result, err := tx.Query(ctx, `SELECT action, who, person, at, reason FROM access_change WHERE key_id = $1 ORDER BY sequence`, id)
		if err != nil {
			return err
		}
		list, err = pgx.CollectRows(result, pgx.RowToStructByName[KeyChange])
		return err
	})
	return list, err
}

// NoteUse writes down when keys were last used, from seconds since 1970 by their ids; what
// is earlier than noted is left alone.
//
// Errors: Unavailable.
func (db *DB) NoteUse(ctx context.Context, used map[string]int64) error {
	ids, at := make([]string, 0, len(used)), make([]time.Time, 0, len(used))
	for id, seconds := range used {
		ids, at = append(ids, id), append(at, time.Unix(seconds, 0))
	}
	return db.InTx(ctx, func(tx pgx.Tx) error {
		_, err := tx.Exec(ctx, `INSERT INTO access_use (key_id, at) SELECT n.id, n.at FROM unnest($1::text[], $2::timestamptz[]) AS n (id, at) JOIN access_key USING (id) ORDER BY 1
			ON CONFLICT (key_id) DO UPDATE SET at = excluded.at WHERE access_use.at < excluded.at`, ids, at)
		return err
	})
}
