package main

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"swarf/db/dbtest"
)

// sweepItems are recommendations for a row of drills, some of which cannot be answered.
func sweepItems(n int) []string {
	list := make([]string, n)
	for i := range list {
		list[i] = fmt.Sprintf(`{"ref":"%d","material":{"grade":"1.4301"},"operation":"drilling","tool":{"class":"drill-solid-carbide","cutting_diameter":%d.%03d},"engagement":{"hole_depth":20,"through":true},"machine":"vmc-40"}`, i, 4+i%9, i%1000)
		if i%100 == 7 {
			list[i] = fmt.Sprintf(`{"ref":"%d","operation":"whittling"}`, i)
		}
	}
	return list
}

type jobState struct {
	ID          int64
	State, Why  string
	Items, Done int
	Result      string
}

func startJob(t *testing.T, address string, items []string) jobState {
	t.Helper()
	status, header, body := call(t, http.MethodPost, address+"/v1/recommendations/batch?fields=parameters", `{"units":"metric","items":[`+strings.Join(items, ",\n")+`]}`, "Prefer", "respond-async", "From", "planner")
	var j jobState
	if err := json.Unmarshal([]byte(body), &j); err != nil || status != http.StatusAccepted || header.Get("Location") != fmt.Sprintf("/v1/jobs/%d", j.ID) || j.Items != len(items) {
		t.Fatalf("%d %v %.500s", status, header, body)
	}
	return j
}

func jobNow(t *testing.T, address string, id int64) (j jobState) {
	t.Helper()
	if err := json.Unmarshal([]byte(mustGet(t, fmt.Sprintf("%s/v1/jobs/%d", address, id))), &j); err != nil {
		t.Fatal(err)
	}
	return j
}

// whole requires a result with a line for each item, in order, as the batch gives them.
func whole(t *testing.T, address string, id int64, items []string) {
	t.Helper()
	text := mustGet(t, fmt.Sprintf("%s/v1/jobs/%d/result", address, id))
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if len(lines) != len(items) {
		t.Fatalf("%d lines for %d items", len(lines), len(items))
	}
	for i, line := range lines {
		if want := fmt.Sprintf(`"ref":"%d"`, i); !strings.Contains(line, want) || strings.Contains(line, "/problems/") != (i%100 == 7) {
			t.Fatalf("line %d: %s", i, line)
		}
	}
	status, _, now := call(t, http.MethodPost, address+"/v1/recommendations/batch?fields=parameters&units=metric", strings.Join(items[:50], "\n"), "Content-Type", "application/x-ndjson")
	for i, line := range strings.Split(strings.TrimSuffix(now, "\n"), "\n") {
		if status != http.StatusOK || i%100 != 7 && line != lines[i] {
			t.Fatalf("line %d later and now:\n%s\n%s", i, lines[i], line)
		}
	}
}

// A batch is computed later by either replica, tells how far it has come, can be ended, and
// its answers are those of the batch computed now.
func TestJobs(t *testing.T) {
	database := "DATABASE_URL=" + loaded(t, dbtest.URL(t))
	one, two := startService(t, database, "SWARF_JOB_SLICE=100ms"), startService(t, database, "SWARF_JOB_SLICE=100ms")
	for _, s := range []*service{one, two} {
		eventually(t, "a replica is ready", func() bool { status, _ := get(t, s.address+"/readyz"); return status == http.StatusOK })
	}
	items := sweepItems(3_000)
	first, long := startJob(t, one.address, items), startJob(t, two.address, sweepItems(60_000))
	if status, body := get(t, fmt.Sprintf("%s/v1/jobs/%d/result", one.address, long.ID)); status != http.StatusConflict || !strings.Contains(body, "job-unfinished") {
		t.Errorf("the result before the end: %d %.200s", status, body)
	}
	eventually(t, "the job is finished", func() bool { return jobNow(t, two.address, first.ID).State == "finished" })
	whole(t, two.address, first.ID, items)
	eventually(t, "the long job is under way", func() bool { j := jobNow(t, one.address, long.ID); return j.Done > 0 && j.Done < j.Items })
	status, _, body := call(t, http.MethodDelete, fmt.Sprintf("%s/v1/jobs/%d", one.address, long.ID), "")
	if status != http.StatusOK || !strings.Contains(body, `"state":"cancelled"`) {
		t.Fatalf("%d %s", status, body)
	}
	ended := jobNow(t, two.address, long.ID).Done
	time.Sleep(500 * time.Millisecond)
	if j := jobNow(t, two.address, long.ID); j.Done != ended || j.State != "cancelled" {
		t.Errorf("it went on after its end: %+v, was at %d", j, ended)
	}
	if list := mustGet(t, one.address+"/v1/jobs?limit=1"); !strings.Contains(list, fmt.Sprintf(`"id":%d`, long.ID)) || !strings.Contains(list, `"next_cursor":"`) {
		t.Errorf("%s", list)
	}
}

// TestServeAsChild is the service of a test that kills it; by itself it does nothing.
func TestServeAsChild(*testing.T) {
	if os.Getenv("SWARF_TEST_CHILD") != "" {
		var environ []string
		for _, v := range os.Environ() {
			if !strings.HasPrefix(v, "SWARF_TEST_CHILD") {
				environ = append(environ, v)
			}
		}
		os.Exit(run(context.Background(), []string{"serve"}, environ, os.Stdout, os.Stderr))
	}
}

// child starts the service as a process of its own.
func child(t *testing.T, database string) (address string, kill func()) {
	t.Helper()
	program := exec.Command(os.Args[0], "-test.run=^TestServeAsChild$")
	program.Env = append(os.Environ(), "SWARF_TEST_CHILD=1", "SWARF_LISTEN=127.0.0.1:0", "SWARF_DB_PATIENCE=10s", "SWARF_JOB_SLICE=200ms", "DATABASE_URL="+database)
	out, err := program.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := program.Start(); err != nil {
		t.Fatal(err)
	}
	kill = func() { program.Process.Kill(); program.Wait() }
	t.Cleanup(kill)
	lines := bufio.NewScanner(out)
	for address == "" && lines.Scan() {
		address = printedAddress.FindString(lines.Text())
	}
	go func() {
		for lines.Scan() {
		}
	}()
	eventually(t, "the process is ready", func() bool {
		answer, err := http.Get(address + "/readyz")
		if err == nil {
			answer.Body.Close()
		}
		return err == nil && answer.StatusCode == http.StatusOK
	})
	return address, kill
}

// A service that is killed in the middle of a job leaves nothing half done: another goes on
// from there, and no answer is missing or doubled. The queue tells a dead worker from a slow
// one after half a minute.
func TestJobsSurviveKill(t *testing.T) {
	database := loaded(t, dbtest.URL(t))
	items := sweepItems(12_000)
	address, kill := child(t, database)
	j := startJob(t, address, items)
	eventually(t, "the job is under way", func() bool { return jobNow(t, address, j.ID).Done > 500 })
	kill()
	address, _ = child(t, database)
	if now := jobNow(t, address, j.ID); now.State != "running" || now.Done == now.Items {
		t.Fatalf("killed too late: %+v", now)
	}
	for end := time.Now().Add(90 * time.Second); jobNow(t, address, j.ID).State != "finished"; time.Sleep(100 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("%+v", jobNow(t, address, j.ID))
		}
	}
	whole(t, address, j.ID, items)
}
