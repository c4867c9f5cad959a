package api_test

import (
	"context"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"

	"swarf/api"
	"swarf/domain"
)

// answerStore keeps answers in memory; what is undone, and what happens at the same time, is
// the database's and tested with it.
type answerStore struct {
	mu   sync.Mutex
	kept map[string]api.KeptAnswer
	last map[string]api.Claim
	busy bool
}

func newAnswers() *answerStore {
	return &answerStore{kept: map[string]api.KeptAnswer{}, last: map[string]api.Claim{}}
}

func (s *answerStore) Once(ctx context.Context, c api.Claim, do func(context.Context) (api.KeptAnswer, error)) (api.KeptAnswer, bool, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.busy {
		return api.KeptAnswer{}, false, &domain.Error{Kind: domain.Conflict, Code: "idempotency-key-busy", Field: "Idempotency-Key", Msg: "at work", Fix: "wait"}
	}
	at := c.Caller + "\x00" + c.Key
	if a, ok := s.kept[at]; ok {
		if s.last[at].Fingerprint != c.Fingerprint {
			return a, false, &domain.Error{Kind: domain.Invalid, Code: "idempotency-key-reused", Field: "Idempotency-Key", Msg: "used", Fix: "take a new key"}
		}
		return a, true, nil
	}
	a, err := do(ctx)
	if err == nil && a.Status < 500 && !a.Forget {
		s.kept[at], s.last[at] = a, c
	}
	return a, false, err
}

// once asks a write with an Idempotency-Key.
func once(t *testing.T, h http.Handler, key, method, target, body string, headers ...string) reply {
	t.Helper()
	return call(t, h, method, target, body, append([]string{asJSON, "Idempotency-Key: " + key}, headers...)...)
}

// A write that is repeated gives the first answer again, to the byte and with its fields,
// and says so; another request with the key is refused, and so is a key that is none.
func TestAWriteIsRepeated(t *testing.T) {
	shop, answers := newShop(t), newAnswers()
	h := shop.handlerOf(api.Options{Answers: answers})
	first := once(t, h, `"k-1"`, "PUT", "/v1/machines/a", aMachine, "If-None-Match: *")
	again := once(t, h, "k-1", "PUT", "/v1/machines/a", aMachine, "If-None-Match: *")
	if first.status != 201 || again.status != 201 || string(first.body) != string(again.body) || len(first.body) == 0 {
		t.Errorf("%d %s\n%d %s", first.status, first.body, again.status, again.body)
	}
	for _, name := range []string{"ETag", "Location", "Data-Revision", "Content-Type"} {
		if first.header.Get(name) == "" || first.header.Get(name) != again.header.Get(name) {
			t.Errorf("%s: %q, then %q", name, first.header.Get(name), again.header.Get(name))
		}
	}
	if first.header.Get("Idempotency-Replayed") != "" || again.header.Get("Idempotency-Replayed") != "true" || first.header.Get("X-Request-Id") == again.header.Get("X-Request-Id") {
		t.Errorf("%v\n%v", first.header, again.header)
	}
	if n := len(shop.log); n != 1 {
		t.Errorf("%d writes", n)
	}
	for name, got := range map[string]reply{
		"another body":    once(t, h, "k-1", "PUT", "/v1/machines/a", strings.Replace(aMachine, "8000", "8001", 1), "If-None-Match: *"),
		"another path":    once(t, h, "k-1", "PUT", "/v1/machines/b", aMachine, "If-None-Match: *"),
		"another method":  once(t, h, "k-1", "DELETE", "/v1/machines/a", aMachine, "If-Match: *"),
		"another address": once(t, h, "k-1", "PUT", "/v1/machines/a?reason=x", aMachine, "If-None-Match: *"),
	} {
		if got.status != 422 || member2(got.doc, "code") != "idempotency-key-reused" {
			t.Errorf("%s: %d %s", name, got.status, got.body)
		}
	}
	for _, key := range []string{`"`, `"a`, "", strings.Repeat("k", 256), "é", "a\tb"} {
		if got := once(t, h, key, "PUT", "/v1/machines/c", aMachine, "If-None-Match: *"); got.status != 400 || member2(got.doc, "code") != "wrong-type" {
			t.Errorf("the key %q: %d %s", key, got.status, got.body)
		}
	}
	answers.busy = true
	if got := once(t, h, "k-1", "PUT", "/v1/machines/a", aMachine, "If-None-Match: *"); got.status != 409 || member2(got.doc, "code") != "idempotency-key-busy" {
		t.Errorf("%d %s", got.status, got.body)
	}
	if got := once(t, h, "k-1", "POST", "/v1/estimates", benchBody); got.status != 200 {
		t.Errorf("a computation, which writes nothing, looked at the key: %d", got.status)
	}
}

// Every write of the route table goes through the store of answers, what is wrong with it
// too; a check that writes nothing does not.
func TestEveryWriteIsClaimed(t *testing.T) {
	answers := newAnswers()
	keys := newKeys()
	h := newShop(t).handlerOf(api.Options{Answers: answers, Keys: keys})
	all := keys.make(t, "all", false, "compute", "write", "approve", "admin")
	writes := 0
	for _, r := range api.Routes() {
		if r.Method != http.MethodGet && r.Writes != (needed(r) != "compute" || r.Method == http.MethodDelete) {
			t.Errorf("%s %s writes: %v", r.Method, r.Path, r.Writes)
		}
		if !r.Writes {
			continue
		}
		writes++
		key := r.Method + " " + r.Path
		got := once(t, h, key, r.Method, targetOf(r), "", all)
		again := once(t, h, key, r.Method, targetOf(r), "", all)
		if got.status < 400 || again.status != got.status || again.header.Get("Idempotency-Replayed") != "true" || string(again.body) != string(got.body) {
			t.Errorf("%s: %d %s, then %d %s", key, got.status, got.body, again.status, again.body)
		}
	}
	if writes < 15 {
		t.Errorf("only %d routes write", writes)
	}
	later := func() reply {
		return once(t, h, "later", "POST", "/v1/estimates/batch", `{"units":"metric","items":[`+strings.Replace(benchBody, `"units":"metric",`, "", 1)+`]}`, all, "Prefer: respond-async")
	}
	if first, again := later(), later(); first.status != 202 || first.header.Get("Location") == "" || again.header.Get("Location") != first.header.Get("Location") || again.header.Get("Idempotency-Replayed") != "true" {
		t.Errorf("a batch for later: %d %s, then %v", first.status, first.body, again.header)
	}
	n := len(answers.kept)
	if got := call(t, h, "POST", "/v1/imports?validate_only=true&sheet=sources", "id\nx\n", "Content-Type: text/csv", "Idempotency-Key: only", all); got.status >= 500 || len(answers.kept) != n {
		t.Errorf("a check was kept: %d %s", got.status, got.body)
	}
}

// What writes of every kind answer is the same with the key as without it.
func TestAnswersAreTheSameWithTheKey(t *testing.T) {
	with, without := newShop(t).handlerOf(api.Options{Answers: newAnswers()}), newShop(t).handler()
	doc := published(t)
	record, cut := exampleBody(t, doc.Paths.Value("/v1/records/{id}").Put), exampleBody(t, doc.Paths.Value("/v1/cuts/{id}").Put)
	observation := `{"units":"metric","kind":"load","lot":"A1","cut":` + turned("1.4301", 0.25, 140) + `,"load":{"power":5}}`
	for i, c := range []struct{ method, target, body, header string }{
		{"PUT", "/v1/machines/a", aMachine, "If-None-Match: *"},
		{"PUT", "/v1/records/kc-own", record, "If-None-Match: *"},
		{"PUT", "/v1/records/kc-own", record, "If-Match: *"},
		{"POST", "/v1/records/kc-own/approval", `{"reason":"held against the meter","valid_from":"2026-01-01T00:00:00Z"}`, "From: bob"},
		{"POST", "/v1/records/kc-own/withdrawal", `{"reason":"meter was off"}`, "From: bob"},
		{"PUT", "/v1/cuts/op-10", cut, "If-None-Match: *"},
		{"DELETE", "/v1/cuts/op-10", "", "If-Match: *"},
		{"POST", "/v1/observations", observation, "From: ann"},
		{"POST", "/v1/observations/batch", `{"units":"metric","items":[` + observation + `,{}]}`, "From: ann"},
		{"DELETE", "/v1/machines/a", "", `If-Match: "stale"`},
		{"DELETE", "/v1/machines/a", "", "If-Match: *"},
	} {
		a := call(t, without, c.method, c.target, c.body, asJSON, c.header, "X-Request-Id: same")
		b := once(t, with, c.target+string(rune('a'+i)), c.method, c.target, c.body, c.header, "X-Request-Id: same")
		if a.status != b.status || a.status >= 500 {
			t.Errorf("%s %s: %d without the key, %d with it: %s", c.method, c.target, a.status, b.status, b.body)
		}
		if !strings.Contains(c.target, "/approval") && !strings.Contains(c.target, "/withdrawal") && string(a.body) != string(b.body) {
			t.Errorf("%s %s:\n%s\n%s", c.method, c.target, a.body, b.body)
		}
		for name := range a.header {
			if a.header.Get(name) != b.header.Get(name) && name != "Etag" {
				t.Errorf("%s %s: %s is %q without the key, %q with it", c.method, c.target, name, a.header.Get(name), b.header.Get(name))
			}
		}
	}
}

// A fault that is over another time is not repeated: a quota that was used up, an import that
// somebody overtook.
func TestPassingFaultsAreForgotten(t *testing.T) {
	shop, answers := newShop(t), newAnswers()
	h := shop.handlerOf(api.Options{Answers: answers})
	shop.overtake = true
	bring := func() reply {
		return call(t, h, "POST", "/v1/imports?sheet=sources", "id,title,kind\nown-notes,Own notes,shop record\n", "Content-Type: text/csv", "Idempotency-Key: k")
	}
	if got := bring(); got.status != 409 || len(answers.kept) != 0 {
		t.Errorf("%d %s, %d kept", got.status, got.body, len(answers.kept))
	}
	shop.overtake = false
	if got := bring(); got.status != 201 || got.header.Get("Idempotency-Replayed") != "" {
		t.Errorf("%d %s", got.status, got.body)
	}
	counted := newShop(t).handlerOf(api.Options{Answers: answers, OpenQuota: api.Quota{Units: 15, Window: time.Hour}})
	item := `{"kind":"load","cut":` + turned("1.4301", 0.25, 140) + `,"load":{"power":5}}`
	if got := once(t, counted, "many", "POST", "/v1/observations/batch", `{"units":"metric","items":[`+strings.Repeat(item+",", 9)+item+`]}`); got.status != 429 || answers.kept["\x00many"].Status != 0 {
		t.Errorf("%d %s", got.status, got.body)
	}
}
