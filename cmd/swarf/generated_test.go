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

// Requests made from the document go to the program with PostgreSQL behind it: nothing that
// the edge takes is a fault of the database's, and what was kept in that time can be loaded
// again and has a sound history. GENERATED_SENT says how many.
func TestGeneratedRequestsReachTheDatabase(t *testing.T) {
	binary := filepath.Join(t.TempDir(), "swarf")
	if text, err := exec.Command("go", "build", "-o", binary, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	database := "DATABASE_URL=" + loaded(t, dbtest.URL(t))
	key := makeKeyOf(t, database, "-name", "generated", "-scopes", "read,compute,write,approve,admin")
	var out, log screen
	process := exec.Command(binary, "serve")
	process.Env, process.Stdout, process.Stderr = append(os.Environ(), database, "SWARF_LISTEN=127.0.0.1:0"), &out, &log
	if err := process.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { process.Process.Kill(); process.Wait() })
	var address string
	eventually(t, "the process is ready", func() bool {
		if address = printedAddress.FindString(out.String()); address == "" {
			return false
		}
		status, _ := get(t, address+"/readyz")
		return status == http.StatusOK
	})
	asking := exec.Command("go", "test", "../../api", "-run", "^TestGeneratedRequestsOverHTTP$", "-v", "-count", "1", "-timeout", "2h")
	asking.Env = append(os.Environ(), "GENERATED_URL="+address, "GENERATED_KEY="+key)
	text, err := asking.CombinedOutput()
	if err != nil || !strings.Contains(string(text), "--- PASS: TestGeneratedRequestsOverHTTP") {
		t.Errorf("%v:\n%.20000s\nits log ends %.4000s", err, text, log.String()[max(0, len(log.String())-4000):])
	} else {
		t.Logf("%s", text)
	}
	if at := strings.Index(log.String(), `"level":"ERROR"`); at >= 0 {
		t.Errorf("the log has a fault of ours: %.2000s", log.String()[at:])
	}
	status, _, body := call(t, http.MethodGet, address+"/v1/changes?limit=500", "")
	if kept := strings.Count(body, `"revision":`); status != http.StatusOK || kept < 10 {
		t.Errorf("only %d changes were kept: %d", kept, status)
	}
	if code, out, errs := swarf(t, []string{database}, "audit", "verify"); code != 0 {
		t.Errorf("audit: exit %d %s%s", code, out, errs)
	}
	again := startService(t, database)
	eventually(t, "what was kept can be loaded", func() bool {
		status, _ := get(t, again.address+"/readyz")
		return status == http.StatusOK
	})
}
