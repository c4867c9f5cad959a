package main

import (
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"swarf/api"
	"swarf/db/dbtest"
)

// makeKeyOf makes a key with the command and returns it.
func makeKeyOf(t testing.TB, database string, args ...string) string {
	t.Helper()
	code, out, errs := swarf(t, []string{database}, append([]string{"key", "make"}, args...)...)
	if code != 0 || !strings.HasPrefix(out, "swarf") || strings.Count(out, "\n") != 1 {
		t.Fatalf("key make: exit %d\n%s%s", code, out, errs)
	}
	if strings.Contains(errs, strings.TrimSpace(out)) {
		t.Error("the log shows the key")
	}
	return strings.TrimSpace(out)
}

// timedUntil waits until something holds and says how long it took.
func timedUntil(t testing.TB, what string, holds func() bool) time.Duration {
	t.Helper()
	began := time.Now()
	eventually(t, what, holds)
	return time.Since(began)
}

// readWith is the status of a read with a key.
func readWith(t testing.TB, s *service, key string) int {
	t.Helper()
	status, _, _ := call(t, http.MethodGet, s.address+"/v1/sources", "", "Authorization", "Bearer "+key)
	return status
}

// A key made by the command serves on every replica, and a second after it is revoked on
// none, with a poll too slow to matter; while the database is away both hold.
func TestKeysOnEveryReplica(t *testing.T) {
	server := dbtest.NewServer(t)
	database := "DATABASE_URL=" + loaded(t, server.URL())
	var replicas []*service
	for range 2 {
		replicas = append(replicas, startService(t, database, "SWARF_KEYS=always", "SWARF_POLL_INTERVAL=10m"))
	}
	stays := makeKeyOf(t, database, "-name", "stays", "-scopes", "read,compute")
	goes := makeKeyOf(t, database, "-name", "goes", "-scopes", "read")
	for i, s := range replicas {
		timedUntil(t, "the keys serve", func() bool { return readWith(t, s, stays) == 200 && readWith(t, s, goes) == 200 })
		if status, _, body := call(t, http.MethodGet, s.address+"/v1/sources", ""); status != http.StatusUnauthorized {
			t.Errorf("replica %d without a key: %d %s", i, status, body)
		}
	}
	if code, out, errs := swarf(t, []string{database}, "key", "revoke", strings.Split(goes, "_")[1], "-reason", "lost"); code != 0 || !strings.Contains(out, "(goes) is revoked") {
		t.Fatalf("exit %d %s%s", code, out, errs)
	}
	for i, s := range replicas {
		took := timedUntil(t, "the revoked key ends", func() bool { return readWith(t, s, goes) == 401 })
		t.Logf("replica %d knew of the revocation %v after the command ended", i, took)
		if took > 3*time.Second { // a second is the aim; a shared machine may stutter
			t.Errorf("replica %d: %v", i, took)
		}
	}
	server.Stop()
	for i, s := range replicas {
		for range 50 {
			if a, b := readWith(t, s, stays), readWith(t, s, goes); a != 200 || b != 401 {
				t.Fatalf("replica %d without the database: %d for the live key, %d for the revoked one", i, a, b)
			}
		}
	}
	server.Start()
}

// Keys are rotated and listed by the command, which tells when they were last used.
func TestKeyCommand(t *testing.T) {
	database := "DATABASE_URL=" + loaded(t, dbtest.URL(t))
	first := makeKeyOf(t, database, "-name", "MES", "-scopes", "read,write", "-expires", "2160h")
	id := strings.Split(first, "_")[1]
	s := startService(t, database, "SWARF_KEYS=always")
	timedUntil(t, "the key serves", func() bool { return readWith(t, s, first) == 200 })
	code, out, errs := swarf(t, []string{database}, "key", "rotate", id, "-overlap", "1h")
	second := strings.TrimSpace(out)
	if code != 0 {
		t.Fatalf("exit %d %s%s", code, out, errs)
	}
	timedUntil(t, "both secrets serve", func() bool { return readWith(t, s, first) == 200 && readWith(t, s, second) == 200 })
	s.stop()
	code, out, errs = swarf(t, []string{database}, "key", "list")
	if code != 0 || !strings.Contains(out, id+"  MES   key   read,write  live") || strings.Contains(out, " -\n") {
		t.Errorf("exit %d %s%s", code, out, errs)
	}
	if view := makeKeyOf(t, database, "-name", "wall", "-view"); !strings.HasPrefix(view, "swarfview_") {
		t.Error(view)
	}
	for _, c := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"key", "make", "-name", "MES", "-scopes", "read"}, 1, "a key of this name was made before"},
		{[]string{"key", "make", "-name", "x"}, 1, "scopes"},
		{[]string{"key", "make", "-name", "x", "-scopes", "root"}, 1, "there is no scope"},
		{[]string{"key", "melt"}, 2, "make, list, rotate or revoke"},
		{[]string{"key", "rotate"}, 2, "say which key"},
		{[]string{"key", "revoke", "zzzzzzzz"}, 1, "there is no key zzzzzzzz"},
	} {
		if code, _, errs := swarf(t, []string{database}, c.args...); code != c.code || !strings.Contains(errs, c.says) {
			t.Errorf("%v: exit %d %s", c.args, code, errs)
		}
	}
	if code, _, errs := swarf(t, nil, "key", "list"); code != 1 || !strings.Contains(errs, "DATABASE_URL") {
		t.Errorf("exit %d %s", code, errs)
	}
	if code, out, _ := swarf(t, nil, "key"); code != 0 || !strings.Contains(out, "swarf key make") {
		t.Errorf("exit %d %s", code, out)
	}
}

// What needs a key follows from where the service listens, unless it is said; without a
// database a service that others reach says so before it starts.
func TestWhatNeedsAKey(t *testing.T) {
	for _, c := range []struct {
		listen, keys, database string
		want                   api.Requirement
		fails                  bool
	}{
		{"127.0.0.1:8080", "auto", "", api.KeysOnceMade, false},
		{"localhost:8080", "auto", "x", api.KeysOnceMade, false},
		{"[::1]:8080", "auto", "x", api.KeysOnceMade, false},
		{"0.0.0.0:8080", "auto", "x", api.KeysAlways, false},
		{":8080", "auto", "x", api.KeysAlways, false},
		{"10.1.2.3:8080", "auto", "x", api.KeysAlways, false},
		{"0.0.0.0:8080", "auto", "", api.KeysAlways, true},
		{"127.0.0.1:8080", "always", "", api.KeysAlways, true},
		{"127.0.0.1:8080", "always", "x", api.KeysAlways, false},
		{"0.0.0.0:8080", "writes", "", api.KeysForWrites, false},
		{"0.0.0.0:8080", "off", "", api.KeysOff, false},
	} {
		got, err := (&Config{Listen: c.listen, Keys: c.keys, DatabaseURL: Secret(c.database)}).requirement()
		if got != c.want || (err != nil) != c.fails {
			t.Errorf("%+v: %v %v", c, got, err)
		}
	}
	if code, _, errs := swarf(t, []string{"SWARF_LISTEN=0.0.0.0:0"}, "serve"); code != 1 || !strings.Contains(errs, "SWARF_KEYS=off") {
		t.Errorf("exit %d %s", code, errs)
	}
}

// No secret reaches the log or a trace, wherever in a request it stands and whatever comes of it.
func TestSecretsAreNotLogged(t *testing.T) {
	database := "DATABASE_URL=" + loaded(t, dbtest.URL(t))
	admin := makeKeyOf(t, database, "-name", "admin", "-scopes", "read,compute,write,approve,admin")
	view := makeKeyOf(t, database, "-name", "wall", "-view")
	var traces screen
	collector := httptest.NewServer(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) { io.Copy(&traces, r.Body) }))
	defer collector.Close()
	s := startService(t, database, "SWARF_KEYS=always", "SWARF_LOG_LEVEL=DEBUG", "SWARF_TRACES_URL="+collector.URL, "SWARF_TRACES_SHARE=1")
	timedUntil(t, "the key serves", func() bool { return readWith(t, s, admin) == 200 })
	secrets := []string{admin, view}
	bearer := []string{"Authorization", "Bearer " + admin}
	ask := func(method, target, body string, headers ...string) string {
		_, _, text := call(t, method, s.address+target, body, headers...)
		return text
	}
	made := ask(http.MethodPost, "/v1/keys", `{"name":"MES","scopes":["read"]}`, append(bearer, "Idempotency-Key", "make-1")...)
	_, token, _ := strings.Cut(made, `"token":"`)
	token, _, _ = strings.Cut(token, `"`)
	secrets = append(secrets, token)
	shown := []string{
		ask(http.MethodGet, "/v1/sources?view_token="+view, ""),
		ask(http.MethodGet, "/v1/sources?limit=1&view_token="+view, ""),
		ask(http.MethodGet, "/v1/sources?nonsense=1&view_token="+view, ""),
		ask(http.MethodGet, "/v1/sources?view_token="+admin, ""),
		ask(http.MethodGet, "/v1/sources?view%5Ftoken="+view, "", bearer...),
		ask(http.MethodGet, "/v1/sources?token="+admin, "", bearer...),
		ask(http.MethodGet, "/healthz?view_token="+view, ""),
		ask(http.MethodGet, "/v1/sources", "", "Authorization", "Bearer "+admin[:len(admin)-2]),
		ask(http.MethodGet, "/v1/sources", "", "Authorization", "Basic "+admin),
		ask(http.MethodPost, "/v1/keys", `{"name":"MES","scopes":["read"]}`, append(bearer, "Idempotency-Key", "make-1")...),
		ask(http.MethodPost, "/v1/keys", `{"name":"`+admin+`","scopes":["read"]}`, bearer...),
		ask(http.MethodPut, "/v1/machines/a", ourMachine, append(bearer, "If-None-Match", "*", "Idempotency-Key", admin)...),
		ask(http.MethodGet, "/v1/keys/"+strings.Split(token, "_")[1], "", bearer...),
		ask(http.MethodGet, "/v1/keys", "", bearer...),
	}
	if len(token) < 60 || !strings.Contains(shown[0], `"items"`) || !strings.Contains(shown[9], `"name":"MES"`) {
		t.Fatalf("%s\n%s\n%s", made, shown[0], shown[9])
	}
	s.stop()
	log := s.out.String() + s.errs.String()
	if strings.Count(log, "msg=request") < len(shown) || !strings.Contains(log, "key="+strings.Split(admin, "_")[1]) {
		t.Errorf("the log has too little to prove anything:\n%s", log)
	}
	if !strings.Contains(traces.String(), "/v1/sources") {
		t.Errorf("%d bytes of traces say nothing of the requests", len(traces.String()))
	}
	log += traces.String()
	for _, secret := range secrets {
		if part := strings.Split(secret, "_")[2]; strings.Contains(log, part) {
			t.Errorf("the log shows %s", part)
		} else if strings.Contains(strings.Join(shown, ""), part) {
			t.Errorf("an answer shows %s again", part)
		}
	}
}
