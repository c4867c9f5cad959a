package main

import (
	"encoding/base64"
	"encoding/pem"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"regexp"
	"strings"
	"testing"

	"swarf/db/dbtest"
)

// withPassword is an address with a password, which a local cluster does not look at.
func withPassword(t *testing.T, address, password string) string {
	t.Helper()
	u, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	if u.User != nil {
		u.User = url.UserPassword(u.User.Username(), password)
	} else {
		q := u.Query()
		q.Set("password", password)
		u.RawQuery = q.Encode()
	}
	return u.String()
}

// aLine is a record of the log: names and values, a value with anything odd in quotes.
var aLine = regexp.MustCompile(`^time=\S+ level=(DEBUG|INFO|WARN|ERROR) msg=("([^"\\[:cntrl:]]|\\.)*"|[^\s"]+)( [^\s="]+=("([^"\\[:cntrl:]]|\\.)*"|[^\s"]*))*$`)

// Nothing that callers send makes a line of the log that is not ours, ends one or colours a
// terminal.
func TestCallersCannotWriteTheLog(t *testing.T) {
	s := startService(t, "SWARF_LOG_LEVEL=DEBUG")
	forged := "\ntime=2026-01-01T00:00:00Z level=INFO msg=request id=forged status=200"
	sent := 0
	for _, text := range []string{forged, "\r\n" + forged, "\x1b[2J\x1b[31m", `" id=forged msg="`, "\u2028id=forged", "\\n id=forged", "%0a id=forged", strings.Repeat("x", 1000), "\x00", "\xff\xfe"} {
		clean := strings.Map(func(r rune) rune {
			if r < ' ' || r == 0x7f {
				return -1
			}
			return r
		}, text)
		for _, target := range []string{"/v1/machines/" + url.PathEscape(text), "/" + url.PathEscape(text), "/v1/materials?" + url.QueryEscape(text) + "=1", "/v1/materials?q=" + url.QueryEscape(text), "/v1/estimates?ref=" + url.QueryEscape(text)} {
			call(t, http.MethodGet, s.address+target, "", "X-Request-Id", clean, "From", clean, "User-Agent", clean, "Referer", clean, "X-Forwarded-For", clean, "Authorization", "Bearer "+clean, "Traceparent", clean, "Idempotency-Key", clean)
			sent++
		}
		raw(t, s, "GET /"+text+" HTTP/1.1\r\nHost: swarf\r\nX-Request-Id: "+text+"\r\n\r\n")
		raw(t, s, "GE"+text+"T / HTTP/1.1\r\nHost: swarf\r\n\r\n")
	}
	s.stop()
	log := strings.Split(strings.TrimSuffix(s.errs.String(), "\n"), "\n")
	requests := 0
	for _, line := range log {
		if !aLine.MatchString(line) {
			t.Errorf("no record: %q", line)
		}
		if strings.Contains(line, " id=forged") && strings.HasPrefix(line, "time=2026-01-01T00:00:00Z") {
			t.Errorf("a forged line: %q", line)
		}
		if strings.Contains(line, " msg=request ") {
			requests++
		}
	}
	if requests < sent {
		t.Errorf("%d requests were sent, %d logged", sent, requests)
	}
	for _, bad := range []string{"two words\nhere", "a=1", "time=x level=INFO msg=\"a\x1b[0m\"", "time=x level=INFO msg=a b"} {
		if aLine.MatchString(bad) {
			t.Errorf("%q passes for a record", bad)
		}
	}
}

// No secret of the settings is in a log, an answer, a metric, a profile, a trace, or in what
// the commands print, with the database there and away.
func TestSettingsSecretsAreNowhere(t *testing.T) {
	const password, apiKey = "pa55w0rd-of-the-database", "swarf_aaaaaaaa_notashopskey"
	server := dbtest.NewServer(t)
	database := withPassword(t, server.URL(), password)
	dir := t.TempDir()
	cert, keyFile := newAuthority(t).issue(t, dir, "swarf", 7)
	keyText, err := os.ReadFile(keyFile)
	if err != nil {
		t.Fatal(err)
	}
	block, _ := pem.Decode(keyText)
	secrets := []string{password, testKey, apiKey, base64.StdEncoding.EncodeToString(block.Bytes)[:40], string(block.Bytes[len(block.Bytes)-24:])}
	var traces screen
	collector := httptest.NewServer(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) { io.Copy(&traces, r.Body) }))
	defer collector.Close()
	settings := []string{"DATABASE_URL=" + database, "SWARF_SNAPSHOT=" + dir + "/swarf.snapshot", "SWARF_SNAPSHOT_KEY=" + testKey, "SWARF_API_KEY=" + apiKey, "SWARF_LOG_LEVEL=DEBUG",
		"SWARF_TRACES_URL=" + collector.URL, "SWARF_TRACES_SHARE=1", "SWARF_PRIVATE_LISTEN=127.0.0.1:0"}
	var shown strings.Builder
	for _, args := range [][]string{{"load", "--demo"}, {"check"}, {"migrate"}, {"version"}, {"version", "-sbom"}, {"help"}, {"key", "list"}, {"audit", "verify"}, {"migrate", "-nonsense"}, {"serve", "now"}} {
		_, out, errs := swarf(t, settings, args...)
		shown.WriteString(out + errs)
	}
	_, out, errs := swarf(t, append(settings, "SWARF_TLS_CERT="+cert, "SWARF_TLS_KEY="+cert), "serve") // no key is in that file
	shown.WriteString(out + errs)
	s := startService(t, settings...)
	eventually(t, "the service is ready", func() bool { status, _ := get(t, s.address+"/readyz"); return status == http.StatusOK })
	hidden := "http://" + regexp.MustCompile(`who run it, on (\S+)`).FindStringSubmatch(s.out.String())[1]
	look := func() {
		for _, target := range []string{"/v1/sources", "/v1/changes", "/v1/nothing", "/readyz", "/version", "/v1/materials?as_of=1", "/v1/observations", "/v1/estimates?ref=x"} {
			_, header, body := call(t, http.MethodGet, s.address+target, "")
			shown.WriteString(body)
			header.Write(&shown)
		}
		_, _, body := call(t, http.MethodPut, s.address+"/v1/machines/own", ourMachine, "If-None-Match", "*")
		shown.WriteString(body)
		for _, target := range []string{"/metrics", "/readyz", "/debug/pprof/", "/debug/pprof/cmdline", "/debug/pprof/goroutine?debug=2", "/debug/pprof/symbol"} {
			_, body := get(t, hidden+target)
			shown.WriteString(body)
		}
	}
	look()
	server.Stop()
	look()
	_, out, errs = swarf(t, settings, "check")
	shown.WriteString(out + errs)
	server.Start()
	s.stop()
	if !strings.Contains(traces.String(), "/v1/sources") {
		t.Errorf("%d bytes of traces say nothing of the requests", len(traces.String()))
	}
	all := shown.String() + s.out.String() + s.errs.String() + traces.String()
	for _, must := range []string{"swarf_data_revision", "goroutine ", "data-not-ready", "level=WARN", `"items"`, "/v1/sources"} {
		if !strings.Contains(all, must) {
			t.Errorf("without %q this proves little", must)
		}
	}
	for i, secret := range secrets {
		if strings.Contains(all, secret) {
			at := strings.Index(all, secret)
			t.Errorf("secret %d shows: …%q", i, all[max(0, at-200):at+8])
		}
	}
}
