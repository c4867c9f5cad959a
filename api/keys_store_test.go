package api_test

import (
	"context"
	"net/http"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"swarf/api"
	"swarf/domain"
	"swarf/domain/access"
)

// keyStore keeps keys in memory, as the database keeps them.
type keyStore struct {
	mu      sync.Mutex
	list    []access.Key
	ring    *access.Ring
	history map[string][]api.KeyChange
	used    map[string]int64
}

func newKeys() *keyStore {
	return &keyStore{ring: access.NewRing(nil), history: map[string][]api.KeyChange{}, used: map[string]int64{}}
}

// make makes a key and returns the header that sends it, or the parameter of a view token.
func (s *keyStore) make(t testing.TB, name string, view bool, scopes ...string) string {
	t.Helper()
	set, err := access.ParseScopes(scopes)
	if err != nil {
		t.Fatal(err)
	}
	k := access.Key{Name: name, View: view, Scopes: set}
	token := api.NewKey(&k, time.Now())
	if err := s.AddKey(t.Context(), k, api.Author{Who: "the tests"}); err != nil {
		t.Fatal(err)
	}
	if err := s.Refresh(t.Context()); err != nil {
		t.Fatal(err)
	}
	if view {
		return "view_token=" + token
	}
	return "Authorization: Bearer " + token
}

func (s *keyStore) Ring() *access.Ring {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.ring
}

func (s *keyStore) Used(id string, at int64) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.used[id] = at
}

func (s *keyStore) Refresh(context.Context) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.ring = access.NewRing(slices.Clone(s.list))
	return nil
}

func (s *keyStore) note(id, action string, by api.Author) {
	s.history[id] = append(s.history[id], api.KeyChange{Action: action, Who: by.Who, Person: by.Person, At: time.Now(), Reason: by.Reason})
}

func (s *keyStore) AddKey(ctx context.Context, k access.Key, by api.Author) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if slices.ContainsFunc(s.list, func(o access.Key) bool { return strings.EqualFold(o.Name, k.Name) }) {
		return &domain.Error{Kind: domain.Conflict, Code: "name-taken", Field: "name", Msg: "taken"}
	}
	if api.ValidatesOnly(ctx) {
		return nil
	}
	k.MadeBy = by.Who
	s.list = append(s.list, k)
	slices.SortFunc(s.list, func(a, b access.Key) int { return strings.Compare(a.ID, b.ID) })
	s.note(k.ID, "made", by)
	return nil
}

func (s *keyStore) ChangeKey(ctx context.Context, id string, by api.Author, change func(*access.Key) error) (access.Key, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	i := slices.IndexFunc(s.list, func(k access.Key) bool { return k.ID == id })
	if i < 0 {
		return access.Key{}, &domain.Error{Kind: domain.NotFound, Code: "not-found", Field: "id", Msg: "there is no key " + id}
	}
	k := s.list[i]
	if err := change(&k); err != nil {
		return k, err
	}
	if api.ValidatesOnly(ctx) {
		return k, nil
	}
	action := "rotated"
	if k.RevokedUnix != s.list[i].RevokedUnix {
		action = "revoked"
	}
	s.list[i] = k
	s.note(id, action, by)
	return k, nil
}

func (s *keyStore) KeyChanges(_ context.Context, id string) ([]api.KeyChange, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.history[id], nil
}

// keyed is a shop that asks for keys.
func keyed(t testing.TB, keys *keyStore, need api.Requirement) http.Handler {
	return newShop(t).handlerOf(api.Options{Keys: keys, Require: need})
}

// idOf is the id in a header or parameter with a key.
func idOf(sent string) string { return strings.Split(sent[strings.Index(sent, "swarf"):], "_")[1] }
