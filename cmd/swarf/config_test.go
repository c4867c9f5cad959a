package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"log/slog"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func TestConfigDefaults(t *testing.T) {
	got, err := parseConfig([]string{"HOME=/", "PATH=/bin"})
	if err != nil {
		t.Fatal(err)
	}
	want := Config{Listen: "127.0.0.1:8080", LogLevel: slog.LevelInfo, ShutdownWait: time.Second,
		ShutdownLimit: 10 * time.Second, PollInterval: 10 * time.Second, DBMaxConns: 4, DBPatience: 350 * time.Millisecond, JobSlice: 8 * time.Second, TracesShare: 0.01, Keys: "auto", RateLimit: 120_000,
		RateLimitOpen: 12_000, AnswersKeep: 24 * time.Hour, Server: "http://127.0.0.1:8080", WorkMemory: 256, AsOfKeep: 4}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestConfigReadsEverySetting(t *testing.T) {
	got, err := parseConfig([]string{"SWARF_LISTEN=0.0.0.0:9", "DATABASE_URL=postgres:///x", "SWARF_LOG_LEVEL=debug", "SWARF_SHUTDOWN_WAIT=0s",
		"SWARF_SHUTDOWN_LIMIT=2m", "SWARF_POLL_INTERVAL=200ms", "SWARF_DB_MAX_CONNS=9", "SWARF_DB_PATIENCE=2s", "SWARF_UNSAFE_WRITES=true", "SWARF_JOB_SLICE=3s", "SWARF_TLS_CERT=c", "SWARF_TLS_KEY=k", "SWARF_TLS_CLIENTS=o", "SWARF_PRIVATE_LISTEN=:9", "SWARF_TRACES_URL=http://c:4318", "SWARF_TRACES_SHARE=0.5", "SWARF_KEYS=always", "SWARF_RATE_LIMIT=600",
		"SWARF_RATE_LIMIT_OPEN=0", "SWARF_IDEMPOTENCY_KEEP=1h", "SWARF_SNAPSHOT=swarf.snapshot", "SWARF_SNAPSHOT_KEY=" + testKey, "SWARF_SNAPSHOT_TRUST=" + testTrust, "SWARF_SERVER=http://swarf:8080", "SWARF_API_KEY=k", "SWARF_WORK_MEMORY=512", "SWARF_ASOF_KEEP=7"})
	if err != nil {
		t.Fatal(err)
	}
	want := Config{"0.0.0.0:9", "postgres:///x", slog.LevelDebug, 0, 2 * time.Minute, 200 * time.Millisecond, 9, 2 * time.Second, true, 3 * time.Second, "c", "k", "o", ":9", "http://c:4318", 0.5, "always", 600, 0, time.Hour,
		"swarf.snapshot", Secret(testKey), testTrust, "http://swarf:8080", "k", 512, 7}
	if got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
}

func TestConfigNamesEveryFaultAtOnce(t *testing.T) {
	_, err := parseConfig([]string{"SWARF_LISTN=:1", "SWARF_POLL_INTERVAL=15", "SWARF_DB_MAX_CONNS=many", "SWARF_LOG_LEVEL=loud", "SWARF_UNSAFE_WRITES=maybe",
		"SWARF_LISTEN=nowhere", "SWARF_KEYS=some", "SWARF_TLS_CERT=c", "SWARF_TRACES_URL=collector", "SWARF_TRACES_SHARE=2", "SWARF_SNAPSHOT_KEY=abc", "SWARF_RATE_LIMIT=1"})
	if err == nil {
		t.Fatal("no fault found")
	}
	for _, want := range []string{
		`SWARF_LISTN is no setting; did you mean SWARF_LISTEN?`,
		`SWARF_POLL_INTERVAL="15" is not a time such as 500ms, 10s or 2m; the default is 10s`,
		`SWARF_DB_MAX_CONNS="many" is not a whole number; the default is 4`,
		`SWARF_UNSAFE_WRITES="maybe" is not true or false; the default is false`,
		`SWARF_LOG_LEVEL="loud" is not DEBUG, INFO, WARN or ERROR; the default is INFO`,
		`SWARF_LISTEN="nowhere" is not host:port`, `SWARF_KEYS="some" is none of`, `SWARF_TLS_CERT and SWARF_TLS_KEY go together`, `SWARF_TRACES_URL="collector" is not`,
		`SWARF_TRACES_SHARE=2 is outside`, `SWARF_SNAPSHOT_KEY: `, `SWARF_RATE_LIMIT=1 is neither`,
	} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("no %q in\n%v", want, err)
		}
	}
	for _, never := range []string{"SWARF_POLL_INTERVAL=0s", "SWARF_DB_MAX_CONNS=0"} { // values that nobody gave
		if strings.Contains(err.Error(), never) {
			t.Errorf("%s is told of in\n%v", never, err)
		}
	}
}

func TestConfigRefusesValuesOutsideTheirRange(t *testing.T) {
	for setting, want := range map[string]string{
		"SWARF_LISTEN=8080":           "is not host:port",
		"SWARF_LISTEN=:http8":         `port "http8" is not a number from 0 to 65535`,
		"SWARF_LISTEN=127.0.0.1:-1":   "is not a number from 0 to 65535",
		"SWARF_LISTEN=shop.floor:80":  "neither an IP address nor localhost",
		"SWARF_SHUTDOWN_WAIT=-1s":     "is outside 0s to 5m0s",
		"SWARF_SHUTDOWN_LIMIT=1h":     "is outside 0s to 5m0s",
		"SWARF_POLL_INTERVAL=1ms":     "is outside 100ms to 10m0s",
		"SWARF_DB_MAX_CONNS=0":        "is outside 1 to 100",
		"SWARF_WORK_MEMORY=100":       "is outside 160 to 65536",
		"SWARF_DB_PATIENCE=1ms":       "is outside 50ms to 1m0s",
		"SWARF_ASOF_KEEP=0":           "is outside 1 to 64",
		"SWARF_KEYS=maybe":            "is none of auto, always, writes and off",
		"SWARF_RATE_LIMIT=59":         "is neither 0 nor 60 to 1000000000",
		"SWARF_RATE_LIMIT_OPEN=-1":    "is neither 0 nor 60 to 1000000000",
		"SWARF_IDEMPOTENCY_KEEP=1s":   "is outside 1m0s to 720h0m0s",
		"SWARF_ASOF_KEEP=99999999999": "is not a whole number",
		"SWARF_PRIVATE_LISTEN=9090":   "is not host:port",
		"SWARF_TRACES_URL=collector":  "is not an address such as",
		"SWARF_TRACES_SHARE=1.5":      "is outside 0 to 1",
		"SWARF_TRACES_SHARE=some":     "is not a number",
	} {
		if _, err := parseConfig([]string{setting}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: got %v, want %q", setting, err, want)
		}
	}
}

func TestSecretIsHidden(t *testing.T) {
	const secret = "postgres://shop:s3cret@db/swarf"
	c, err := parseConfig([]string{"DATABASE_URL=" + secret})
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	for _, verb := range []string{"%v", "%+v", "%#v", "%s", "%q", "%d", "%x"} {
		fmt.Fprintf(&out, verb+" "+verb+"\n", c.DatabaseURL, c)
	}
	slog.New(slog.NewJSONHandler(&out, nil)).Info("x", "url", c.DatabaseURL, "config", c)
	slog.New(slog.NewTextHandler(&out, nil)).Info("x", "url", c.DatabaseURL, "config", c)
	if err := json.NewEncoder(&out).Encode(c); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(out.String(), "s3cret") || strings.Contains(out.String(), fmt.Sprintf("%x", "s3cret")) {
		t.Errorf("the secret shows:\n%s", out.String())
	}
	if n := strings.Count(out.String(), "hidden"); n != 2*7+2+2+1 {
		t.Errorf("hidden %d times:\n%s", n, out.String())
	}
	if c.DatabaseURL.Reveal() != secret || Secret("").String() != "" {
		t.Error("Reveal or String of the empty secret is wrong")
	}
}

// The settings table for operators lists the fields of Config, no more and no less.
func TestSettingsTable(t *testing.T) {
	page, err := os.ReadFile("../../deploy/settings.md")
	if err != nil {
		t.Fatal(err)
	}
	var got []setting
	for line := range strings.Lines(string(page)) {
		cells := strings.Split(strings.Trim(strings.TrimSpace(line), "|"), "|")
		if len(cells) != 3 || !strings.Contains(cells[0], "`") {
			continue
		}
		for i := range cells {
			cells[i] = strings.Trim(strings.TrimSpace(cells[i]), "`")
		}
		got = append(got, setting{cells[0], cells[1], cells[2]})
	}
	if diff := cmp.Diff(settings(), got); diff != "" {
		t.Errorf("deploy/settings.md differs from Config:\n%s", diff)
	}
}
