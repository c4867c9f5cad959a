package api

import (
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"swarf/domain/catalog"
)

func TestServerBoundsEveryTime(t *testing.T) {
	s := New(Options{Snapshots: func() *catalog.Snapshot { return nil }}).HTTPServer("127.0.0.1:0")
	if s.ReadHeaderTimeout <= 0 || s.ReadTimeout <= 0 || s.WriteTimeout <= 0 || s.IdleTimeout <= 0 || s.MaxHeaderBytes <= 0 || s.MaxHeaderBytes > 1<<16 || s.ErrorLog == nil {
		t.Errorf("server %+v", s)
	}
	if s.ReadHeaderTimeout > s.ReadTimeout || s.ReadTimeout > s.WriteTimeout {
		t.Errorf("header %v, body %v, answer %v: each must outlast the one before", s.ReadHeaderTimeout, s.ReadTimeout, s.WriteTimeout)
	}
}

// serving runs the server on a free port of the loopback.
func serving(t *testing.T, shorten func(*http.Server)) string {
	t.Helper()
	s := New(Options{Snapshots: func() *catalog.Snapshot { return nil }}).HTTPServer("")
	shorten(s)
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	done := make(chan error, 1)
	go func() { done <- s.Serve(listener) }()
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
		if err := <-done; err != http.ErrServerClosed {
			t.Error(err)
		}
	})
	return listener.Addr().String()
}

// A caller who never ends the header, or the body, loses the connection.
func TestSlowCallersAreDropped(t *testing.T) {
	addr := serving(t, func(s *http.Server) {
		s.ReadHeaderTimeout, s.ReadTimeout = 100*time.Millisecond, 200*time.Millisecond
	})
	for name, begun := range map[string]string{
		"half a header": "GET /healthz HTTP/1.1\r\nHost: swarf\r\nX-Slow: ",
		"half a body":   "POST /v1/estimates HTTP/1.1\r\nHost: swarf\r\nContent-Type: application/json\r\nContent-Length: 1000\r\n\r\n{",
	} {
		conn, err := net.Dial("tcp", addr)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(conn, begun); err != nil {
			t.Fatal(err)
		}
		if err := conn.SetReadDeadline(time.Now().Add(5 * time.Second)); err != nil {
			t.Fatal(err)
		}
		if _, err := io.Copy(io.Discard, conn); err != nil {
			t.Errorf("%s: the connection is still open: %v", name, err)
		}
		if err := conn.Close(); err != nil {
			t.Error(err)
		}
	}
}

func TestLargeHeadersAreRefused(t *testing.T) {
	addr := serving(t, func(*http.Server) {})
	r, err := http.NewRequest("GET", "http://"+addr+"/healthz", nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range 64 {
		r.Header.Set("X-Filler-"+string(rune('A'+i%26))+string(rune('A'+i/26)), strings.Repeat("x", 512))
	}
	got, err := http.DefaultTransport.RoundTrip(r)
	if err != nil {
		t.Fatal(err)
	}
	if err := got.Body.Close(); err != nil {
		t.Error(err)
	}
	if got.StatusCode != http.StatusRequestHeaderFieldsTooLarge {
		t.Errorf("status %d", got.StatusCode)
	}
}
