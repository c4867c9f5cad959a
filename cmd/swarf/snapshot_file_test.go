package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"swarf/db/dbtest"
)

// A key is made, a snapshot exported, checked and asked, step by step as the page says.
func TestSnapshotFile(t *testing.T) {
	code, out, errs := swarf(t, nil, "snapshot", "key")
	halves := regexp.MustCompile(`^(SWARF_SNAPSHOT_KEY=\S{44})\n(SWARF_SNAPSHOT_TRUST=\S{44})\n$`).FindStringSubmatch(out)
	if code != 0 || halves == nil {
		t.Fatalf("exit %d: %q %s", code, out, errs)
	}
	key, trust := halves[1], halves[2]
	file := "SWARF_SNAPSHOT=" + filepath.Join(t.TempDir(), "swarf.snapshot")
	code, out, errs = swarf(t, []string{key, file}, "snapshot", "export")
	if code != 0 || !strings.Contains(out, "revision 1, ") || !strings.Contains(out, trust) || strings.Contains(out+errs, key) {
		t.Fatalf("exit %d: %s%s", code, out, errs)
	}
	code, out, errs = swarf(t, []string{trust, file}, "snapshot", "verify")
	if code != 0 || !strings.Contains(out, "signed with the trusted key") || !strings.Contains(out, "revision 1, ") {
		t.Errorf("exit %d: %s%s", code, out, errs)
	}
	if code, out, errs := swarf(t, []string{trust, file}, "check"); code != 0 || !strings.Contains(out, "snapshot: revision 1, ") {
		t.Errorf("check: exit %d: %s%s", code, out, errs)
	}
	if code, _, errs := swarf(t, []string{file}, "check"); code != 1 || !strings.Contains(errs, "snapshot: ") {
		t.Errorf("check without the key: exit %d: %s", code, errs)
	}
	if code, out, _ := swarf(t, []string{"SWARF_SNAPSHOT=none"}, "check"); code != 0 || !strings.Contains(out, "snapshot: none yet at none") {
		t.Errorf("check of none: exit %d: %s", code, out)
	}
	for _, c := range []struct {
		name    string
		environ []string
		args    []string
		code    int
		want    string
	}{
		{"another key", []string{"SWARF_SNAPSHOT_TRUST=" + testTrust, file}, []string{"verify"}, 5, "signature does not fit"},
		{"no key to check with", []string{file}, []string{"verify"}, 1, "SWARF_SNAPSHOT_TRUST"},
		{"no key to sign with", []string{file}, []string{"export"}, 1, "swarf snapshot key makes one"},
		{"no file", []string{key}, []string{"export"}, 1, "SWARF_SNAPSHOT"},
		{"no file to check", []string{key}, []string{"verify"}, 1, "SWARF_SNAPSHOT"},
		{"a file that is not there", []string{key}, []string{"verify", "none"}, 5, "none"},
		{"a key that is none", []string{"SWARF_SNAPSHOT_KEY=s3cret"}, []string{"export"}, 1, "SWARF_SNAPSHOT_KEY: the key is not 32 bytes in base64"},
		{"halves that do not fit", []string{key, "SWARF_SNAPSHOT_TRUST=" + testTrust}, []string{"verify"}, 1, "not the public half"},
		{"nothing to do", []string{key, file}, nil, 2, "say export, verify or key"},
		{"something else to do", []string{key, file}, []string{"import"}, 2, "say export, verify or key"},
		{"too many words", []string{key, file}, []string{"export", "now"}, 2, "not expected"},
	} {
		code, out, errs := swarf(t, c.environ, append([]string{"snapshot"}, c.args...)...)
		if code != c.code || !strings.Contains(errs, c.want) || strings.Contains(out+errs, "s3cret") {
			t.Errorf("%s: exit %d, want %d and %q: %s%s", c.name, code, c.code, c.want, out, errs)
		}
	}
}

// A snapshot with a flipped bit, wherever that is, answers nothing.
func TestAskRefusesADamagedSnapshot(t *testing.T) {
	file := filepath.Join(t.TempDir(), "swarf.snapshot")
	environ := []string{"SWARF_SNAPSHOT=" + file, "SWARF_SNAPSHOT_KEY=" + testKey}
	if code, _, errs := swarf(t, environ, "snapshot", "export"); code != 0 {
		t.Fatal(errs)
	}
	whole, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, at := range []int{0, 20, 60, 200, len(whole) / 2, len(whole) - 97, len(whole) - 96, len(whole) - 65, len(whole) - 64, len(whole) - 1} {
		whole[at] ^= 0x10
		if err := os.WriteFile(file, whole, 0o600); err != nil {
			t.Fatal(err)
		}
		whole[at] ^= 0x10
		code, out, errs := swarf(t, environ, append([]string{"ask", "estimate", "-offline", "-field", "spindle_speed"}, drillWords...)...)
		if code != exitUnreachable || !strings.HasPrefix(out, "#ERR unreachable") || errs == "" {
			t.Errorf("byte %d: exit %d: %q %s", at, code, out, errs)
		}
	}
}

// What is in the database goes out with its own revision and machines.
func TestSnapshotOfADatabase(t *testing.T) {
	url := dbtest.URL(t)
	file := filepath.Join(t.TempDir(), "swarf.snapshot")
	environ := []string{"DATABASE_URL=" + url, "SWARF_SNAPSHOT=" + file, "SWARF_SNAPSHOT_KEY=" + testKey}
	if code, _, errs := swarf(t, environ, "snapshot", "export"); code != 1 || !strings.Contains(errs, "run swarf load") {
		t.Errorf("an empty database: exit %d: %s", code, errs)
	}
	if code, _, errs := swarf(t, environ, "load", "--demo"); code != 0 {
		t.Fatal(errs)
	}
	if code, out, errs := swarf(t, environ, "snapshot", "export"); code != 0 {
		t.Fatalf("%s%s", out, errs)
	}
	s := startService(t, environ[:1]...)
	eventually(t, "the service is ready", func() bool { status, _ := get(t, s.address+"/readyz"); return status == 200 })
	offline := []string{environ[1], environ[2]}
	for _, args := range [][]string{with([]string{"ask", "estimate", "-machine", "vmc-50"}, drillWords...), with([]string{"ask", "recommend", "-machine", "vmc-40", "-output", "json"}, slotWords...)} {
		_, online, _ := swarf(t, []string{"SWARF_SERVER=" + s.address}, args...)
		_, alone, errs := swarf(t, offline, append(args, "-offline")...)
		if online != alone || !strings.Contains(alone, "vmc-") {
			t.Errorf("%v answers otherwise without a network: %s\n%s\n%s", args, errs, online, alone)
		}
	}
}
