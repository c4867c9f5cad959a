package db_test

import (
	"context"
	"errors"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"swarf/db"
	"swarf/db/dbtest"
	"swarf/domain"
	"swarf/domain/access"
)

// keyOf is a new key with a name and a secret.
func keyOf(id, name string, secret byte) access.Key {
	return access.Key{ID: id, Name: name, Scopes: access.Read | access.Write, Secrets: []access.Secret{{Digest: access.Digest{secret}, MadeUnix: 1000}}, ExpiresUnix: 4_000_000_000}
}

func addKey(t *testing.T, store *db.DB, k access.Key) {
	t.Helper()
	if err := store.AddKey(t.Context(), k, db.Write{Who: "admin", Person: "ann", Reason: "for the MES"}); err != nil {
		t.Fatal(err)
	}
}

func keys(t *testing.T, store *db.DB) []access.Key {
	t.Helper()
	list, err := store.Keys(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// What is kept of a key is what was given, and what became of it is written down with who,
// whom they named, when and why.
func TestKeysAreKept(t *testing.T) {
	store := dbtest.New(t)
	addKey(t, store, keyOf("bbbbbbbb", "MES", 1))
	view := access.Key{ID: "aaaaaaaa", Name: "sheet", View: true, Scopes: access.Viewing, Secrets: []access.Secret{{Digest: access.Digest{2}, MadeUnix: 1000}}}
	addKey(t, store, view)
	want := []access.Key{view, keyOf("bbbbbbbb", "MES", 1)}
	got := keys(t, store)
	for i := range got {
		if age := time.Now().Unix() - got[i].MadeUnix; age < 0 || age > 60 || got[i].MadeBy != "admin" {
			t.Errorf("made %d s ago by %q", age, got[i].MadeBy)
		}
		got[i].MadeUnix, got[i].MadeBy = 0, ""
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	fault(t, store.AddKey(t.Context(), keyOf("cccccccc", "mes", 3), db.Write{Who: "admin"}), domain.Conflict, "name-taken")

	if _, err := store.ChangeKey(t.Context(), "bbbbbbbb", db.Write{Who: "admin"}, func(k *access.Key) (err error) {
		k.Secrets, err = k.Rotate(access.Digest{9}, 2000, 500)
		return err
	}); err != nil {
		t.Fatal(err)
	}
	if got := keys(t, store)[1].Secrets; !slices.Equal(got, []access.Secret{{Digest: access.Digest{9}, MadeUnix: 2000}, {Digest: access.Digest{1}, MadeUnix: 1000, UntilUnix: 2500}}) {
		t.Errorf("after a rotation: %+v", got)
	}
	for range 2 { // the second time changes nothing
		if _, err := store.ChangeKey(t.Context(), "bbbbbbbb", db.Write{Who: "bob", Reason: "lost"}, func(k *access.Key) error { k.RevokedUnix = 3000; return nil }); err != nil {
			t.Fatal(err)
		}
	}
	if got := keys(t, store)[1]; got.RevokedUnix != 3000 || got.RevokedBy != "bob" {
		t.Errorf("after revocation: %+v", got)
	}
	if err := store.Exec(t.Context(), `UPDATE access_key SET revoked = NULL, revoked_by = '' WHERE id = 'bbbbbbbb'`); err == nil {
		t.Error("a revoked key came back")
	}
	if err := store.Exec(t.Context(), `DELETE FROM access_change`); err == nil {
		t.Error("what became of keys can be rewritten")
	}
	history, err := store.KeyChanges(t.Context(), "bbbbbbbb")
	if err != nil {
		t.Fatal(err)
	}
	var short []string
	for _, h := range history {
		short = append(short, h.Action+" "+h.Who+" "+h.Person+" "+h.Reason)
	}
	if want := []string{"made admin ann for the MES", "rotated admin  ", "revoked bob  lost"}; !slices.Equal(short, want) {
		t.Errorf("%q, want %q", short, want)
	}
	_, err = store.ChangeKey(t.Context(), "zzzzzzzz", db.Write{Who: "x"}, func(*access.Key) error { return nil })
	fault(t, err, domain.NotFound, "not-found")
	if now, err := store.Revision(t.Context()); err != nil || now != 0 {
		t.Errorf("keys moved the data on to %d, %v", now, err)
	}
}

// Uses go forward only; those of keys that are not there are passed over.
func TestUseIsNoted(t *testing.T) {
	store := dbtest.New(t)
	addKey(t, store, keyOf("bbbbbbbb", "MES", 1))
	for _, at := range []int64{500, 700, 600} {
		if err := store.NoteUse(t.Context(), map[string]int64{"bbbbbbbb": at, "zzzzzzzz": at}); err != nil {
			t.Fatal(err)
		}
	}
	if got := keys(t, store)[0].UsedUnix; got != 700 {
		t.Errorf("used at %d", got)
	}
	if history, err := store.KeyChanges(t.Context(), "bbbbbbbb"); err != nil || len(history) != 1 {
		t.Errorf("uses are noted as changes: %v %v", history, err)
	}
}

// A revocation is heard within a second, by the connection that hears of data.
func TestRevocationIsHeardAtOnce(t *testing.T) {
	address := dbtest.URL(t)
	writer := dbtest.Open(t, address)
	addKey(t, writer, keyOf("bbbbbbbb", "MES", 1))
	heard := make(chan []access.Key, 100)
	listener := opened(t, db.Config{URL: address, PollInterval: time.Hour, Keys: func(_ time.Time, list []access.Key) { heard <- list }})
	ctx, stop := context.WithCancel(t.Context())
	var ended sync.WaitGroup
	ended.Go(func() {
		if err := listener.Listen(ctx, func(int64) {}); !errors.Is(err, context.Canceled) {
			t.Errorf("listening ended with %v", err)
		}
	})
	defer ended.Wait()
	defer stop()
	if first := <-heard; len(first) != 1 || first[0].RevokedUnix != 0 {
		t.Fatalf("%+v", first)
	}
	if _, err := writer.ChangeKey(t.Context(), "bbbbbbbb", db.Write{Who: "admin"}, func(k *access.Key) error { k.RevokedUnix = 1; return nil }); err != nil {
		t.Fatal(err)
	}
	began := time.Now()
	select {
	case list := <-heard:
		if list[0].RevokedUnix != 1 || time.Since(began) > time.Second {
			t.Errorf("after %v: %+v", time.Since(began), list)
		}
	case <-time.After(5 * time.Second):
		t.Error("not heard in 5 s")
	}
}
