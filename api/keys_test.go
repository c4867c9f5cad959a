package api_test

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"swarf/api"
)

// A key is made, used, given a new secret beside the old one, and revoked; its secrets are
// shown once each, and what became of it can be read.
func TestTheLifeOfAKey(t *testing.T) {
	keys, answers := newKeys(), newAnswers()
	h := newShop(t).handlerOf(api.Options{Keys: keys, Answers: answers, Require: api.KeysAlways})
	admin := keys.make(t, "admin", false, "admin")
	end := time.Now().Add(time.Hour).UTC().Format(time.RFC3339)
	made := once(t, h, "make", "POST", "/v1/keys", `{"name":"MES line 3","scopes":["read","write"],"expires":"`+end+`","reason":"new line"}`, admin, "From: ann")
	token, _ := member2(made.doc, "token").(string)
	id, _ := member2(made.doc, "id").(string)
	if made.status != 201 || !strings.HasPrefix(token, "swarf_"+id+"_") || made.header.Get("Location") != "/v1/keys/"+id || made.header.Get("Cache-Control") != "no-store" || member2(made.doc, "expires") != end {
		t.Fatalf("%d %v %s", made.status, made.header, made.body)
	}
	works := func(token string) bool {
		return call(t, h, "GET", "/v1/sources", "", "Authorization: Bearer "+token).status == 200
	}
	if !works(token) {
		t.Error("the new key does not serve")
	}
	// Whoever repeats the request gets the key and not its secret, which nothing keeps.
	again := once(t, h, "make", "POST", "/v1/keys", `{"name":"MES line 3","scopes":["read","write"],"expires":"`+end+`","reason":"new line"}`, admin, "From: ann")
	if again.status != 201 || member2(again.doc, "id") != id || member2(again.doc, "token") != nil {
		t.Errorf("%d %s", again.status, again.body)
	}
	for _, a := range answers.kept {
		if strings.Contains(string(a.Body), token) {
			t.Error("the secret is kept")
		}
	}
	rotated := call(t, h, "POST", "/v1/keys/"+id+"/rotation", `{"overlap_seconds":3600}`, asJSON, admin)
	second, _ := member2(rotated.doc, "token").(string)
	if rotated.status != 200 || second == token || !works(token) || !works(second) {
		t.Fatalf("%d %s", rotated.status, rotated.body)
	}
	if got := call(t, h, "POST", "/v1/keys/"+id+"/rotation", `{}`, asJSON, admin); got.status != 409 {
		t.Errorf("three secrets: %d %s", got.status, got.body)
	}
	if got := call(t, h, "POST", "/v1/keys/"+id+"/rotation", `{"overlap_seconds":0}`, asJSON, admin); got.status != 200 || works(token) || works(second) || !works(member2(got.doc, "token").(string)) {
		t.Errorf("%d %s", got.status, got.body)
	}
	for range 2 {
		if got := call(t, h, "POST", "/v1/keys/"+id+"/revocation", `{"reason":"lost"}`, asJSON, admin); got.status != 200 || member2(got.doc, "state") != "revoked" {
			t.Errorf("%d %s", got.status, got.body)
		}
	}
	if works(second) {
		t.Error("a revoked key serves")
	}
	shown := call(t, h, "GET", "/v1/keys/"+id, "", admin)
	if text := string(shown.body); shown.status != 200 || !strings.Contains(text, `"action":"made","who":"admin","person":"ann"`) || !strings.Contains(text, `"reason":"lost"`) || strings.Contains(text, "token") {
		t.Errorf("%d %s", shown.status, text)
	}
	list := call(t, h, "GET", "/v1/keys?state=live", "", admin)
	if text := string(list.body); list.status != 200 || strings.Contains(text, id) || !strings.Contains(text, `"name":"admin"`) {
		t.Errorf("%d %s", list.status, text)
	}
	if keys.used[id] == 0 {
		t.Error("the use of the key was not noted")
	}
}

// What no key may be is told, all at once.
func TestKeysThatCannotBe(t *testing.T) {
	keys := newKeys()
	h := keyed(t, keys, api.KeysAlways)
	admin := keys.make(t, "admin", false, "admin")
	for body, want := range map[string]string{
		`{}`:                                 "400 field-missing name, field-missing scopes",
		`{"name":"admin","scopes":["read"]}`: "409 name-taken name",
		`{"name":"x","scopes":["root"]}`:     "422 value-out-of-range scopes",
		`{"name":"x","kind":"view","scopes":["write"]}`:                              "422 value-out-of-range scopes",
		`{"name":"x","kind":"door","scopes":["read"]}`:                               "422 value-out-of-range kind",
		`{"name":"local","scopes":["read"],"expires":"2001-01-01T00:00:00Z"}`:        "422 value-out-of-range name, value-out-of-range expires",
		`{"name":"x","scopes":["read"],"expires":"soon"}`:                            "400 wrong-type expires",
		`{"name":"x","scopes":["read"],"secret":"mine"}`:                             "400 unknown-field secret",
		`{"name":"x","scopes":["read"],"reason":"` + strings.Repeat("x", 600) + `"}`: "422 value-out-of-range reason",
	} {
		got := call(t, h, "POST", "/v1/keys", body, asJSON, admin)
		_, faults := problemOf(t, got)
		if text := strings.TrimSpace(strings.Join([]string{statusText(got.status), strings.Join(faults, ", ")}, " ")); text != want {
			t.Errorf("%s: %s, want %s", body, text, want)
		}
	}
	if got := call(t, h, "POST", "/v1/keys", `{"name":"sheet","kind":"view"}`, asJSON, admin); got.status != 201 || !strings.HasPrefix(member2(got.doc, "token").(string), "swarfview_") {
		t.Errorf("%d %s", got.status, got.body)
	}
	for _, overlap := range []string{"-1", "0.5", "1e9"} {
		if got := call(t, h, "POST", "/v1/keys/"+idOf(admin)+"/rotation", `{"overlap_seconds":`+overlap+`}`, asJSON, admin); got.status != 422 {
			t.Errorf("overlap %s: %d %s", overlap, got.status, got.body)
		}
	}
	for _, step := range []string{"rotation", "revocation"} {
		if got := call(t, h, "POST", "/v1/keys/nobody/"+step, `{}`, asJSON, admin); got.status != 404 {
			t.Errorf("%s of nobody: %d %s", step, got.status, got.body)
		}
	}
	// Without a database there are no keys, and nobody to make any.
	if got := call(t, embeddedService(t), "POST", "/v1/keys", `{}`, asJSON); got.status != 503 || member2(got.doc, "code") != "storage-not-configured" {
		t.Errorf("%d %s", got.status, got.body)
	}
}

func statusText(status int) string { return strconv.Itoa(status) }
