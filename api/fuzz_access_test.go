package api_test

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"

	"swarf/api"
)

// FuzzAuthorization: the key that was made lets in, and nothing else does, nor is it shown
// again; in an address, only a view token.
func FuzzAuthorization(f *testing.F) {
	keys := newKeys()
	sent, view := keys.make(f, "fuzz", false, "read"), keys.make(f, "wall", true, "read")
	key, seen := strings.TrimPrefix(sent, "Authorization: Bearer "), strings.TrimPrefix(view, "view_token=")
	h := keyed(f, keys, api.KeysAlways)
	for _, seed := range []string{"Bearer " + key, "bearer  " + key + " ", "Bearer " + seen, "Bearer " + key[1:], "Bearer " + strings.ToUpper(key), key, seen, "", "Basic Og==", "Bearer", "Bearer swarf_", "Bearer " + key + ", Bearer " + key, "\x00"} {
		f.Add(seed)
	}
	f.Add(strings.Repeat("k", 2_100)) // too long an address
	f.Fuzz(func(t *testing.T, field string) {
		check := func(got reply, good bool, how string) {
			if (got.status == 200) != good || !good && got.status != 401 && got.status != 400 && (got.status != 414 || len(field) < 600) {
				t.Fatalf("%s %q: %d %s", how, field, got.status, got.body)
			}
			if strings.Contains(string(got.body), key) || strings.Contains(string(got.body), seen) {
				t.Fatalf("%s %q: the answer shows the key", how, field)
			}
		}
		r := httptest.NewRequest("GET", "/v1/sources?limit=1", nil)
		r.Header["Authorization"] = []string{field}
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		scheme, token, _ := strings.Cut(field, " ")
		token = strings.TrimSpace(token)
		check(reply{status: w.Code, body: w.Body.Bytes()}, strings.EqualFold(scheme, "Bearer") && (token == key || token == seen), "Authorization")
		check(fuzzed(t, h, "GET", "/v1/sources?limit=1&view_token="+url.QueryEscape(field), ""), field == seen, "view_token")
	})
}

// FuzzIdempotencyKey: what is a key has its effect once and the same answer again, what is
// none has no effect.
func FuzzIdempotencyKey(f *testing.F) {
	for _, seed := range []string{"k", `"k"`, `"`, `""`, `"\""`, `"a\\b"`, " k ", "k, l", strings.Repeat("k", 255), strings.Repeat("k", 256), "é", "\x7f", ""} {
		f.Add(seed)
	}
	kept := newShop(f)
	before := kept.data
	f.Fuzz(func(t *testing.T, field string) {
		kept.t, kept.data, kept.snaps, kept.log = t, before, kept.snaps[:1], nil
		h := kept.handlerOf(api.Options{Answers: newAnswers()})
		put := func() reply {
			return fuzzed(t, h, "PUT", "/v1/machines/a", aMachine, asJSON, "If-None-Match: *", "Idempotency-Key: "+field)
		}
		first, again := put(), put()
		switch {
		case first.status == 400 && again.status == 400 && len(kept.log) == 0:
			if bare := strings.Trim(field, ` "`); bare != "" && len(bare) < 200 && strings.Trim(bare, "abcdefghijklmnopqrstuvwxyz0123456789-") == "" && bare == field {
				t.Fatalf("%q is refused: %s", field, first.body)
			}
		case first.status == 201 && again.status == 201 && len(kept.log) == 1 && string(first.body) == string(again.body) && again.header.Get("Idempotency-Replayed") == "true":
		default:
			t.Fatalf("%q: %d, then %d, and %d writes: %s", field, first.status, again.status, len(kept.log), again.body)
		}
	})
}

// FuzzPrefer: a preference is followed and said to be, or passed over; a cut that holds is
// given to nobody who is said to be strict.
func FuzzPrefer(f *testing.F) {
	h := embeddedService(f)
	for _, seed := range []string{"handling=strict", `handling="strict"`, "Handling = strict ; x=1", "handling=lenient, handling=strict", "a;b;c, handling=strict", `a="handling=strict"`, `a="\", handling=strict`, "respond-async", ";;,,", "handling"} {
		f.Add(seed)
	}
	const held = `{"units":"metric","material":{"group":"P"},"operation":"turning","tool":{"class":"turning-external"},"engagement":{"work_diameter":60,"depth_of_cut":2},"parameters":{"cutting_speed":160,"feed_per_revolution":0.25}}`
	if call(f, h, http.MethodPost, "/v1/estimates?handling=strict", held, asJSON).status == 200 {
		f.Fatal("the cut is not held")
	}
	f.Fuzz(func(t *testing.T, field string) {
		got := fuzzed(t, h, http.MethodPost, "/v1/estimates", held, asJSON, "Prefer: "+field)
		strict := slices.Contains(got.header.Values("Preference-Applied"), "handling=strict")
		if (got.status == 200) == strict || got.status != 200 && got.status != 422 {
			t.Fatalf("Prefer: %q: %d, applied %v: %s", field, got.status, strict, got.body)
		}
		if !strings.ContainsAny(field, `",;=`) && strict {
			t.Fatalf("Prefer: %q is strict", field)
		}
	})
}
