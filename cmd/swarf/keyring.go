package main

import (
	"context"
	"fmt"
	"net"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"swarf/api"
	"swarf/db"
	"swarf/domain/access"
)

// keyring holds the keys in memory as they were last read, so that requests are let in, or
// not, while the database is away. When a key was used is written by the minute.
type keyring struct {
	db   *db.DB
	ring atomic.Pointer[access.Ring]

	mu    sync.Mutex
	asked time.Time // when the keys held were asked for

	used sync.Map // *atomic.Int64 by id: when a key was last used
}

// Ring is the keys; nil before they were first read.
func (k *keyring) Ring() *access.Ring { return k.ring.Load() }

// take holds keys, unless others that were asked for later are held.
func (k *keyring) take(asked time.Time, list []access.Key) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if asked.Before(k.asked) {
		return
	}
	k.asked = asked
	k.ring.Store(access.NewRing(list))
}

// seed holds keys from a file, as long as there are none from the database.
func (k *keyring) seed(r *access.Ring) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if r != nil && k.ring.Load() == nil {
		k.ring.Store(r)
	}
}

// Refresh reads the keys again.
func (k *keyring) Refresh(ctx context.Context) error {
	asked := time.Now()
	list, err := k.db.Keys(ctx)
	if err == nil {
		k.take(asked, list)
	}
	return err
}

// Used notes that a key was used.
func (k *keyring) Used(id string, at int64) {
	last, ok := k.used.Load(id)
	if !ok {
		last, _ = k.used.LoadOrStore(id, new(atomic.Int64))
	}
	if l := last.(*atomic.Int64); l.Load() < at {
		l.Store(at)
	}
}

// usesEvery is how often uses are written down.
const usesEvery = time.Minute

// noteUses writes uses down until the context ends, and once more then.
func (k *keyring) noteUses(ctx context.Context, failed func(error)) {
	noted := map[string]int64{}
	for ended := false; !ended; {
		select {
		case <-ctx.Done():
			ended = true
		case <-time.After(usesEvery):
		}
		writing, cancel := context.WithTimeout(context.WithoutCancel(ctx), 2*time.Second)
		if err := k.noteOnce(writing, noted); err != nil {
			failed(err)
		}
		cancel()
	}
}

// noteOnce writes down the uses that are not noted yet.
func (k *keyring) noteOnce(ctx context.Context, noted map[string]int64) error {
	fresh := map[string]int64{}
	k.used.Range(func(id, last any) bool {
		if at := last.(*atomic.Int64).Load(); noted[id.(string)] < at {
			fresh[id.(string)] = at
		}
		return true
	})
	if len(fresh) == 0 {
		return nil
	}
	if err := k.db.NoteUse(ctx, fresh); err != nil {
		return err
	}
	for id, at := range fresh {
		noted[id] = at
	}
	return nil
}

// AddKey keeps a new key.
func (k *keyring) AddKey(ctx context.Context, key access.Key, by api.Author) error {
	return k.db.AddKey(ctx, key, dbWrite(by))
}

// ChangeKey changes the secrets of a key, or revokes it.
func (k *keyring) ChangeKey(ctx context.Context, id string, by api.Author, change func(*access.Key) error) (access.Key, error) {
	return k.db.ChangeKey(ctx, id, dbWrite(by), change)
}

// KeyChanges reads what became of a key.
func (k *keyring) KeyChanges(ctx context.Context, id string) ([]api.KeyChange, error) {
	found, err := k.db.KeyChanges(ctx, id)
	list := make([]api.KeyChange, len(found))
	for i, c := range found {
		list[i] = api.KeyChange(c)
	}
	return list, err
}

// dbWrite is who writes, as the database wants it.
func dbWrite(by api.Author) db.Write {
	return db.Write{Who: by.Who, Person: by.Person, Reason: by.Reason}
}

// answersKept keeps answers for Idempotency-Key.
type answersKept struct {
	db   *db.DB
	keep time.Duration
}

// Once runs a write at most once.
func (a answersKept) Once(ctx context.Context, c api.Claim, do func(context.Context) (api.KeptAnswer, error)) (api.KeptAnswer, bool, error) {
	answer, replayed, err := a.db.Once(ctx, db.Claim{Caller: c.Caller, Key: c.Key, Fingerprint: c.Fingerprint, Keep: a.keep, Within: c.Within}, func(ctx context.Context) (db.Answer, error) {
		made, err := do(ctx)
		return db.Answer(made), err
	})
	return api.KeptAnswer(answer), replayed, err
}

// keySettings are the words of SWARF_KEYS; auto is decided by where the service listens.
var keySettings = map[string]api.Requirement{"auto": api.KeysOnceMade, "always": api.KeysAlways, "writes": api.KeysForWrites, "off": api.KeysOff}

// requirement is which requests need a key.
func (c *Config) requirement() (api.Requirement, error) {
	need := keySettings[c.Keys]
	beyond := !loopback(c.Listen)
	if c.Keys == "auto" && beyond {
		need = api.KeysAlways
	}
	if need == api.KeysAlways && c.DatabaseURL == "" {
		reached := "SWARF_KEYS=always asks every request for a key"
		if beyond {
			reached = fmt.Sprintf("SWARF_LISTEN=%s is reached from other machines, which need keys", c.Listen)
		}
		return need, fmt.Errorf("%s, and without a database there are none; set DATABASE_URL, or SWARF_KEYS=off to answer everybody", reached)
	}
	return need, nil
}

// loopback reports an address that only this machine reaches.
func loopback(listen string) bool {
	host, _, err := net.SplitHostPort(listen)
	if err != nil {
		return false
	}
	ip := net.ParseIP(host)
	return strings.EqualFold(host, "localhost") || ip != nil && ip.IsLoopback()
}
