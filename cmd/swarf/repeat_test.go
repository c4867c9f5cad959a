package main

import (
	"net/http"
	"strings"
	"testing"

	"swarf/db/dbtest"
)

// Writes of every kind go through the one transaction with PostgreSQL and are repeated to
// the byte: what they wrote is there once, and what they answered is what a read gives.
func TestEveryKindOfWriteIsRepeated(t *testing.T) {
	database := "DATABASE_URL=" + loaded(t, dbtest.URL(t))
	ann := makeKeyOf(t, database, "-name", "ann", "-scopes", "read,compute,write,admin")
	bob := makeKeyOf(t, database, "-name", "bob", "-scopes", "read,approve")
	s := startService(t, database, "SWARF_KEYS=always")
	timedUntil(t, "the keys serve", func() bool { return readWith(t, s, ann) == 200 && readWith(t, s, bob) == 200 })
	const turning = `"cut":{"material":{"grade":"1.4301","condition":"annealed"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.8,"tool_material":"HC"},
		"engagement":{"work_diameter":80,"depth_of_cut":2.5},"parameters":{"cutting_speed":140,"feed_per_revolution":0.25},"machine":"lathe-315"}`
	const record = `{"units":"metric","kind":"force","force":{"scope":{"level":"material","key":"x5crni18-10"},"condition":"annealed","process":"turning","method":"kienzle",
		"basis":"shop","source":"shop","specific_cutting_force_1_1":2100,"chip_thickness_exponent":0.2}}`
	const source = "id,title,kind\nown-notes,Own notes,shop record\n"
	for i, c := range []struct {
		who, method, target, body, header, value string
		status                                   int
	}{
		{ann, "PUT", "/v1/machines/m1", ourMachine, "If-None-Match", "*", 201},
		{ann, "PUT", "/v1/records/kc-own", record, "If-None-Match", "*", 201},
		{bob, "POST", "/v1/records/kc-own/approval", `{"reason":"agrees with the meter"}`, "From", "bob@example.org", 200},
		{bob, "POST", "/v1/records/kc-own/approval", `{"reason":"twice"}`, "From", "bob@example.org", 409},
		{bob, "POST", "/v1/records/kc-own/withdrawal", `{"reason":"the meter was off"}`, "From", "bob@example.org", 200},
		{ann, "PUT", "/v1/cuts/op-10", `{"units":"metric",` + turning + `}`, "If-None-Match", "*", 201},
		{ann, "POST", "/v1/observations", `{"units":"metric","kind":"load",` + turning + `,"load":{"power":5}}`, "From", "x", 201},
		{ann, "POST", "/v1/observations/batch", `{"units":"metric","items":[{"kind":"load",` + turning + `,"load":{"power":5.1}},{}]}`, "From", "x", 200},
		{ann, "POST", "/v1/calibrations", `{"kind":"force","record":"kc-fit","process":"turning","material":{"grade":"1.4301","condition":"annealed"}}`, "From", "x", 201},
		{ann, "POST", "/v1/imports?sheet=sources", source, "Content-Type", "text/csv", 201},
		{ann, "POST", "/v1/imports?sheet=sources&format=ndjson", "id,title,kind\nother-notes,Other notes,shop record\n", "Content-Type", "text/csv", 201},
		{ann, "POST", "/v1/imports?sheet=sources", "id,title,kind\n?,,\n", "Content-Type", "text/csv", 422},
		{ann, "POST", "/v1/estimates/batch", `{"units":"metric","items":[{"ref":"a",` + strings.TrimSuffix(strings.TrimPrefix(turning, `"cut":{`), "}") + `}]}`, "Prefer", "respond-async", 202},
		{ann, "DELETE", "/v1/jobs/1", "", "From", "x", 200},
		{ann, "POST", "/v1/keys", `{"name":"new","scopes":["read"]}`, "From", "x", 201},
		{ann, "DELETE", "/v1/cuts/op-10", "", "If-Match", "*", 204},
		{ann, "DELETE", "/v1/machines/m1", "", "If-Match", `"stale"`, 412},
		{ann, "DELETE", "/v1/machines/m1", "", "If-Match", "*", 204},
	} {
		once := "once-" + string(rune('a'+i))
		ask := func() (int, http.Header, string) {
			return call(t, c.method, s.address+c.target, c.body, "Authorization", "Bearer "+c.who, "Idempotency-Key", once, c.header, c.value)
		}
		status, header, body := ask()
		if status != c.status {
			t.Errorf("%s %s: %d, want %d: %s", c.method, c.target, status, c.status, body)
			continue
		}
		if at := header.Get("Location"); at != "" && c.method == "PUT" {
			if got, read, text := call(t, http.MethodGet, s.address+at, "", "Authorization", "Bearer "+ann); got != 200 || text != body || read.Get("ETag") != header.Get("ETag") {
				t.Errorf("%s was answered\n%s %s\nand is read as\n%s %s", at, header.Get("ETag"), body, read.Get("ETag"), text)
			}
		}
		again, repeated, text := ask()
		if c.target == "/v1/keys" {
			_, rest, _ := strings.Cut(body, `"token":"`)
			_, rest, _ = strings.Cut(rest, `",`)
			before, _, _ := strings.Cut(body, `"token":"`)
			body = before + rest
		}
		if again != status || text != body || repeated.Get("Idempotency-Replayed") != "true" || repeated.Get("Location") != header.Get("Location") {
			t.Errorf("%s %s was answered\n%d %s\nand then\n%d %s", c.method, c.target, status, body, again, text)
		}
	}
	_, _, feed := call(t, http.MethodGet, s.address+"/v1/changes?after=1&limit=500", "", "Authorization", "Bearer "+ann)
	for want, n := range map[string]int{`"id":"m1"`: 2, `"id":"kc-own"`: 3, `"id":"own-notes"`: 1, `"id":"other-notes"`: 1, `"who":"bob","person":"bob@example.org"`: 2, `"id":"kc-fit"`: 1} {
		if got := strings.Count(feed, want); got != n {
			t.Errorf("%d changes have %s, want %d:\n%s", got, want, n, feed)
		}
	}
}
