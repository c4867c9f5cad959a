package main

import (
	"io"
	"net"
	"strings"
	"testing"
	"time"
)

// raw sends bytes on a connection of their own and returns all that comes back within a
// moment.
func raw(t *testing.T, s *service, bytes string) string {
	t.Helper()
	conn, err := net.Dial("tcp", strings.TrimPrefix(s.address, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	io.WriteString(conn, bytes)
	conn.SetReadDeadline(time.Now().Add(700 * time.Millisecond))
	text, _ := io.ReadAll(conn)
	return string(text)
}

// What an HTTP library would never send: each is refused by the status given, and never taken
// for two requests where a proxy in front may have seen one.
func TestOddRequestsOnTheWire(t *testing.T) {
	s := startService(t)
	const sound = "GET /healthz HTTP/1.1\r\nHost: swarf\r\nConnection: close\r\n\r\n"
	if got := raw(t, s, sound); !strings.HasPrefix(got, "HTTP/1.1 200 ") {
		t.Fatalf("a sound request: %q", got)
	}
	const hidden = "GET /v1/sources HTTP/1.1\r\nHost: swarf\r\n\r\n"
	post := func(headers string) string {
		return "POST /v1/estimates HTTP/1.1\r\nHost: swarf\r\nContent-Type: application/json\r\n" + headers + "\r\n"
	}
	for name, c := range map[string]struct{ sent, status string }{
		"a length and a coding":      {post("Content-Length: 4\r\nTransfer-Encoding: chunked\r\n") + "0\r\n\r\n" + hidden, "400"},
		"two lengths":                {post("Content-Length: 2\r\nContent-Length: 50\r\n") + "{}" + hidden, "400"},
		"a signed length":            {post("Content-Length: +2\r\n") + "{}" + hidden, "400"},
		"a negative length":          {post("Content-Length: -1\r\n") + hidden, "400"},
		"an unknown coding":          {post("Transfer-Encoding: xchunked\r\n") + "0\r\n\r\n" + hidden, "501"},
		"a coding twice":             {post("Transfer-Encoding: chunked\r\nTransfer-Encoding: identity\r\n") + "0\r\n\r\n" + hidden, "501"},
		"a blank before the colon":   {"GET /healthz HTTP/1.1\r\nHost : swarf\r\n\r\n" + hidden, "400"},
		"a folded field":             {"GET /healthz HTTP/1.1\r\nHost: swarf\r\nX-A: b\r\n c\r\n: d\r\n\r\n", "400"},
		"no host":                    {"GET /healthz HTTP/1.1\r\n\r\n", "400"},
		"two hosts":                  {"GET /healthz HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n", "400"},
		"a host that is none":        {"GET /healthz HTTP/1.1\r\nHost: a b\r\n\r\n", "400"},
		"a method of marks":          {"G(T /healthz HTTP/1.1\r\nHost: swarf\r\n\r\n", "400"},
		"a NUL in a field":           {"GET /healthz HTTP/1.1\r\nHost: swarf\r\nX-A: b\x00c\r\n\r\n", "400"},
		"a line end in a path":       {"GET /healthz\nX: y HTTP/1.1\r\nHost: swarf\r\n\r\n", "400"},
		"a header without end":       {"GET /healthz HTTP/1.1\r\nHost: swarf\r\nX-A: " + strings.Repeat("x", 80<<10) + "\r\n\r\n", "431"},
		"very many fields":           {"GET /healthz HTTP/1.1\r\nHost: swarf\r\n" + strings.Repeat("X-A: b\r\n", 10_000) + "\r\n", "431"},
		"an older protocol":          {"GET /healthz HTTP/0.9\r\n\r\n", "505"},
		"a protocol to come":         {"GET /healthz HTTP/3.0\r\nHost: swarf\r\n\r\n", "505"},
		"HTTP/2 without TLS":         {"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n", ""},
		"a way through":              {"CONNECT 127.0.0.1:5432 HTTP/1.1\r\nHost: 127.0.0.1:5432\r\n\r\n", "405 404"},
		"a trace":                    {"TRACE /v1/sources HTTP/1.1\r\nHost: swarf\r\nCookie: secret\r\nConnection: close\r\n\r\n", "405"},
		"the whole server":           {"OPTIONS * HTTP/1.1\r\nHost: swarf\r\nConnection: close\r\n\r\n", "200 404 405"},
		"another's address":          {"GET http://127.0.0.1:1/v1/nothing HTTP/1.1\r\nHost: elsewhere\r\nConnection: close\r\n\r\n", "404"},
		"another service":            {"GET /healthz HTTP/1.1\r\nHost: swarf\r\nUpgrade: websocket\r\nConnection: close\r\n\r\n", "200"},
		"TLS where there is none":    {"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03" + strings.Repeat("x", 200) + "\r\n\r\n", "400"},
		"a chunk of a broken length": {post("Transfer-Encoding: chunked\r\nConnection: close\r\n") + "zz\r\n{}\r\n0\r\n\r\n" + hidden, "400"},
	} {
		got := raw(t, s, c.sent)
		first, _, _ := strings.Cut(strings.TrimPrefix(got, "HTTP/1.1 "), " ")
		if c.status != "" && !strings.Contains(c.status, first) || got == "" && c.status != "" {
			t.Errorf("%s: %.200q, want %s", name, got, c.status)
		}
		if strings.Contains(got, `"items"`) || strings.Contains(got, "Cookie: secret") {
			t.Errorf("%s: the hidden request was answered, or the request comes back: %.300q", name, got)
		}
		if strings.Contains(got, "\r\nServer:") || strings.Contains(got, "goroutine ") {
			t.Errorf("%s: %q tells what runs", name, got)
		}
	}
	if got := raw(t, s, sound); !strings.HasPrefix(got, "HTTP/1.1 200 ") {
		t.Errorf("the service is gone: %q", got)
	}
}
