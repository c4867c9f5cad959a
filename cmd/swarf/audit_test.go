package main

import (
	"regexp"
	"strings"
	"testing"

	"swarf/db/dbtest"
)

// The history of a loaded database is sound, its seal can be written down, and a forgery
// ends the command with 1.
func TestAuditCommand(t *testing.T) {
	server := dbtest.NewServer(t)
	address := loaded(t, server.URL())
	environ := []string{"DATABASE_URL=" + address}
	code, out, errs := swarf(t, environ, "audit", "verify")
	seal := regexp.MustCompile(`seal: (1:[0-9a-f]{64})`).FindStringSubmatch(out)
	if code != 0 || seal == nil {
		t.Fatalf("%d: %s%s", code, out, errs)
	}
	if code, out, errs := swarf(t, environ, "audit", "verify", "-seal", seal[1]); code != 0 {
		t.Errorf("%d: %s%s", code, out, errs)
	}
	other := "1:" + strings.Repeat("0", 64)
	if code, _, errs := swarf(t, environ, "audit", "verify", "-seal", other); code != 1 || !strings.Contains(errs, "rewritten") {
		t.Errorf("%d: %s", code, errs)
	}
	if err := execute(t, address, `SET session_replication_role = replica; UPDATE force_record SET specific_cutting_force_1_1_n_per_mm2 = specific_cutting_force_1_1_n_per_mm2 + 1 WHERE id = 'kc-x5crni18-10-tbm-script'`); err != nil {
		t.Fatal(err)
	}
	if code, _, errs := swarf(t, environ, "audit", "verify"); code != 1 || !strings.Contains(errs, "force_record kc-x5crni18-10-tbm-script is not as it was last written") {
		t.Errorf("%d: %s", code, errs)
	}
	for _, args := range [][]string{{"audit"}, {"audit", "please"}, {"audit", "verify", "-seal", "1:2"}, {"audit", "verify", "more"}} {
		if code, _, errs := swarf(t, environ, args...); code != 2 || errs == "" {
			t.Errorf("%q: %d %s", args, code, errs)
		}
	}
	if code, _, errs := swarf(t, nil, "audit", "verify"); code != 1 || !strings.Contains(errs, "DATABASE_URL") {
		t.Errorf("without a database: %d %s", code, errs)
	}
}
