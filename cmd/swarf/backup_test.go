package main

import (
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"swarf/db/dbtest"
)

// script runs a program of deploy/database.
func script(t *testing.T, address, name string, arguments ...string) (string, error) {
	t.Helper()
	program := exec.CommandContext(t.Context(), filepath.Join(root, "deploy/database", name), arguments...)
	program.Env = append(os.Environ(), "DATABASE_URL="+address)
	out, err := program.CombinedOutput()
	return string(out), err
}

// asked are answers of every kind, which a restored database gives again byte for byte.
var asked = []string{
	"/v1/materials?limit=500", "/v1/materials/x5crni18-10", "/v1/tool-classes?limit=500", "/v1/machines?limit=500", "/v1/sources?limit=500", "/v1/changes?limit=500", "/v1/exports/force",
	"/v1/recommendations?units=metric&grade=1.4301&operation=drilling&class=drill-solid-carbide&cutting_diameter=8&hole_depth=20&through=true&machine=own",
	"/v1/estimates?units=metric&grade=1.4301&operation=drilling&class=drill-solid-carbide&cutting_diameter=8&hole_depth=20&through=true&cutting_speed=60&feed_per_revolution=0.1&as_of=1",
}

func answersOf(t *testing.T, address string) (list []string) {
	t.Helper()
	for _, path := range asked {
		list = append(list, mustGet(t, address+path))
	}
	return list
}

// A backup that is put into a fresh cluster answers as before, history included, and goes
// on from there; a spoilt one is refused.
func TestBackupIsRestored(t *testing.T) {
	const machine = `{"units":"metric","process":"milling","spindle":{"max_speed":6000,"efficiency":0.8,"gears":[{"ratings":[{"rating":"S1","power":9,"torque":60}]}]},"axes":{"max_feed_rate":10000},"coolant":{"deliveries":["external"]},"basis":"demo"}`
	from := loaded(t, dbtest.URL(t))
	s := startService(t, "DATABASE_URL="+from)
	eventually(t, "the service is ready", func() bool { status, _ := get(t, s.address+"/readyz"); return status == http.StatusOK })
	if status, _, body := call(t, http.MethodPut, s.address+"/v1/machines/own", machine, "If-None-Match", "*", "From", "ann"); status != http.StatusCreated {
		t.Fatalf("%d %s", status, body)
	}
	before := answersOf(t, s.address)
	file := filepath.Join(t.TempDir(), "swarf.dump")
	if out, err := script(t, from, "backup", file); err != nil {
		t.Fatal(out)
	}
	if out, err := script(t, from, "backup", file); err == nil || !strings.Contains(out, "there already") {
		t.Errorf("a second backup took the first's place: %s", out)
	}
	if out, err := script(t, from, "restore", file); err == nil || !strings.Contains(out, "empty") {
		t.Errorf("a database with tables was filled: %s", out)
	}

	fresh := dbtest.NewEmptyServer(t)
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	text[len(text)/2] ^= 1
	spoilt := filepath.Join(t.TempDir(), "swarf.dump")
	sum, err := os.ReadFile(file + ".sha256")
	if err != nil {
		t.Fatal(err)
	}
	write(t, spoilt, text)
	write(t, spoilt+".sha256", sum)
	if out, err := script(t, fresh.URL(), "restore", spoilt); err == nil || !strings.Contains(out, "not what was saved") {
		t.Errorf("a spoilt file was restored: %s", out)
	}
	if out, err := script(t, fresh.URL(), "restore", file); err != nil || !strings.Contains(out, "the newest revision is 2") {
		t.Fatal(out)
	}
	if code, out, errs := swarf(t, []string{"DATABASE_URL=" + fresh.URL()}, "migrate"); code != 0 {
		t.Fatalf("%s%s", out, errs)
	}
	again := startService(t, "DATABASE_URL="+fresh.URL())
	eventually(t, "the restored service is ready", func() bool { status, _ := get(t, again.address+"/readyz"); return status == http.StatusOK })
	for i, got := range answersOf(t, again.address) {
		if got != before[i] {
			t.Errorf("%s:\nwas %.300s\nis  %.300s", asked[i], before[i], got)
		}
	}
	if status, header, body := call(t, http.MethodPut, again.address+"/v1/machines/next", machine, "If-None-Match", "*", "From", "ann"); status != http.StatusCreated || header.Get("Data-Revision") != "3" {
		t.Errorf("a write after the restore: %d, revision %s: %s", status, header.Get("Data-Revision"), body)
	}
}
