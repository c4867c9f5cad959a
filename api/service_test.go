package api_test

import (
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"swarf/api"
	"swarf/db/data"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/evidence"
	"swarf/domain/machine"
)

var embedded = sync.OnceValues(func() (catalog.Data, error) { return data.Embedded() })

func embeddedData(t testing.TB) catalog.Data {
	t.Helper()
	d, err := embedded()
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func snapshotOf(t testing.TB, d catalog.Data) *catalog.Snapshot {
	t.Helper()
	snap, err := catalog.New(d)
	if err != nil {
		t.Fatal(err)
	}
	return snap
}

// embeddedService is the service as it runs without a database.
func embeddedService(t testing.TB) http.Handler {
	t.Helper()
	snap := snapshotOf(t, embeddedData(t))
	return api.New(api.Options{
		Snapshots:    func() *catalog.Snapshot { return snap },
		ModelVersion: "test",
		Build:        api.Build{Version: "0.0.0", Go: "go"},
	}).Handler()
}

// shop is a service whose machines are kept in memory, with every revision: a
// stand-in for the database, which has tests of its own.
type shop struct {
	t        testing.TB
	mu       sync.Mutex
	data     catalog.Data
	snaps    []*catalog.Snapshot // by revision, from 1
	log      []api.Change
	overtake bool // an import finds that somebody was faster
	away     bool // the database does not answer
	seen     []evidence.Kept
	drafts   map[string]int64 // records that were imported, and in which revision
	jobs     []keptJob
	sweep    func(ctx context.Context, j *api.Job, from, to int) ([]byte, error)
}

func newShop(t testing.TB) *shop {
	d := embeddedData(t)
	d.Machines = slices.Clone(d.Machines)
	return &shop{t: t, drafts: map[string]int64{}, data: d, snaps: []*catalog.Snapshot{snapshotOf(t, d)}}
}

func (s *shop) handler() http.Handler { return s.handlerWith(api.Limits{}) }

// handlerWith is the service with other bounds.
func (s *shop) handlerWith(limits api.Limits) http.Handler {
	return s.handlerOf(api.Options{Limits: limits})
}

// handlerOf is the service with other options.
func (s *shop) handlerOf(options api.Options) http.Handler {
	options.Snapshots = s.now
	options.AsOf, options.Store, options.Mode, options.ModelVersion = s.asOf, undoing{s}, api.PostgreSQL, "test"
	options.Degraded = func() *api.Degraded {
		s.mu.Lock()
		defer s.mu.Unlock()
		if !s.away {
			return nil
		}
		return &api.Degraded{Since: time.Now().Add(-time.Minute), Reason: "the database does not answer"}
	}
	server := api.New(options)
	s.sweep = server.Sweep
	if options.Require != api.KeysOnceMade {
		return server.Handler()
	}
	// on loopback the service is called by a name of this machine
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.Host == "example.com" {
			r.Host = "127.0.0.1:8080"
		}
		server.Handler().ServeHTTP(w, r)
	})
}

// now is the newest snapshot.
func (s *shop) now() *catalog.Snapshot {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.snaps[len(s.snaps)-1]
}

func (s *shop) asOf(_ context.Context, text string) (*catalog.Snapshot, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	var revision int
	if _, err := fmt.Sscanf(text, "%d", &revision); err != nil || revision < 1 || revision > len(s.snaps) {
		return nil, &domain.Error{Kind: domain.Invalid, Code: "as-of-unknown", Field: "as_of", Msg: "there is no such revision"}
	}
	return s.snaps[revision-1], nil
}

// change writes under the lock and makes the next revision.
func (s *shop) change(id, action string, w api.Write, do func()) (api.Written, error) {
	if s.away {
		return api.Written{}, &domain.Error{Kind: domain.Unavailable, Code: "data-not-ready", Msg: "the database is out of reach", Fix: "try again shortly"}
	}
	i := slices.IndexFunc(s.data.Machines, func(m machine.Machine) bool { return m.ID == id })
	var present *machine.Machine
	if i >= 0 {
		copied := s.data.Machines[i]
		present = &copied
	}
	if err := w.Check(present); err != nil {
		return api.Written{}, err
	}
	if present == nil && action == "removed" {
		return api.Written{}, &domain.Error{Kind: domain.NotFound, Code: "not-found", Msg: "there is no machine " + id}
	}
	if action == "" {
		action = "changed"
		if present == nil {
			action = "added"
		}
	}
	s.data.Revision = int64(len(s.snaps) + 1)
	s.data.Machines = slices.DeleteFunc(slices.Clone(s.data.Machines), func(m machine.Machine) bool { return m.ID == id })
	do()
	s.snaps = append(s.snaps, snapshotOf(s.t, s.data))
	s.log = append(s.log, api.Change{Revision: s.data.Revision, At: time.Now(), Who: w.Who, Person: w.Person, Kind: "machine", ID: id, Action: action, Reason: w.Reason})
	return api.Written{Revision: s.data.Revision, RecordRevision: s.data.Revision, Created: action == "added"}, nil
}

func (s *shop) PutMachine(_ context.Context, m machine.Machine, w api.Write) (api.Written, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.change(m.ID, "", w, func() {
		m.Revision = s.data.Revision
		s.data.Machines = append(s.data.Machines, m)
		slices.SortFunc(s.data.Machines, func(a, b machine.Machine) int { return strings.Compare(a.ID, b.ID) })
	})
}

func (s *shop) DeleteMachine(_ context.Context, id string, w api.Write) (api.Written, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.change(id, "removed", w, func() {})
}

func (s *shop) Changes(_ context.Context, q api.ChangesQuery) ([]api.Change, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	list := slices.DeleteFunc(slices.Clone(s.log), func(c api.Change) bool { return c.Revision <= q.After })
	list = list[min(q.Skip, len(list)):]
	return list[:min(q.Limit, len(list))], nil
}

// call sends one request with headers given as "Name: value".
func call(t testing.TB, h http.Handler, method, target, body string, headers ...string) reply {
	t.Helper()
	r := httptest.NewRequest(method, target, strings.NewReader(body))
	for _, line := range headers {
		name, value, ok := strings.Cut(line, ": ")
		if !ok {
			t.Fatalf("header %q is not Name: value", line)
		}
		r.Header.Set(name, value)
	}
	return answerTo(h, r)
}

// answerTo lets the service answer a request.
func answerTo(h http.Handler, r *http.Request) reply {
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	answer := reply{status: w.Code, header: w.Result().Header, body: w.Body.Bytes()}
	if json.Unmarshal(answer.body, &answer.doc) != nil {
		answer.doc = nil
	}
	return answer
}

// asJSON is the header of a JSON body.
const asJSON = "Content-Type: application/json"

// problemOf reads the code of a problem document and the faults in it, as "code
// field", and checks what every problem must have.
func problemOf(t testing.TB, got reply) (code string, faults []string) {
	t.Helper()
	var p struct {
		Type, Title, Detail, Instance, Code string
		Status                              int
		RequestID                           string `json:"request_id"`
		Faults                              []struct{ Field, Code, Message, Fix string }
	}
	if err := json.Unmarshal(got.body, &p); err != nil {
		t.Fatalf("%d %q is no problem document: %v", got.status, got.body, err)
	}
	if kind := got.header.Get("Content-Type"); !strings.HasPrefix(kind, "application/problem+json") {
		t.Errorf("content type %q", kind)
	}
	if p.Type != "/problems/"+p.Code || p.Status != got.status || p.Title == "" || p.Detail == "" || p.Instance == "" || p.RequestID == "" || p.RequestID != got.header.Get("X-Request-Id") || len(p.Faults) == 0 {
		t.Errorf("status %d, problem %s", got.status, got.body)
	}
	for _, f := range p.Faults {
		if f.Message == "" {
			t.Errorf("fault %s %s says nothing", f.Code, f.Field)
		}
		faults = append(faults, strings.TrimSpace(f.Code+" "+f.Field))
	}
	return p.Code, faults
}
