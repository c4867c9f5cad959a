//go:build faults

package faults

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"time"
)

// line is a connection that requests are sent down one after another, as they stand: it
// costs the sender little, so that one core can offer more than another can serve.
type line struct {
	conn net.Conn
	in   *bufio.Reader
}

// reply is what came back down a line.
type reply struct {
	status     int
	retryAfter string
	problem    string // the end of the body of what is not 200
	closes     bool   // the service ends the connection after it
	took       time.Duration
}

func dial(address string) (*line, error) {
	conn, err := net.DialTimeout("tcp", strings.TrimPrefix(address, "http://"), 5*time.Second)
	if err != nil {
		return nil, err
	}
	return &line{conn, bufio.NewReaderSize(conn, 32<<10)}, nil
}

// send sends a request as it stands and reads the whole answer.
func (l *line) send(request []byte, patience time.Duration) (reply, error) {
	began := time.Now()
	l.conn.SetDeadline(began.Add(patience))
	if _, err := l.conn.Write(request); err != nil {
		return reply{}, err
	}
	return l.receive(began)
}

func (l *line) receive(began time.Time) (reply, error) {
	got, err := http.ReadResponse(l.in, nil)
	if err != nil {
		return reply{}, err
	}
	defer got.Body.Close()
	r := reply{status: got.StatusCode, retryAfter: got.Header.Get("Retry-After"), closes: got.Close}
	if r.status == http.StatusOK {
		_, err = io.Copy(io.Discard, got.Body)
	} else {
		var text []byte
		text, err = io.ReadAll(io.LimitReader(got.Body, 64<<10))
		r.problem = string(text)
	}
	r.took = time.Since(began)
	return r, err
}

// posted is a request with a JSON body, as it goes down a line.
func posted(path, body string) []byte {
	return fmt.Appendf(nil, "POST %s HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n%s", path, len(body), body)
}

// batchOf is the body of a batch of so many different cuts.
func batchOf(cuts int) string {
	var b strings.Builder
	b.WriteString(`{"units":"metric","items":[`)
	for i := range cuts {
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, `{"ref":"op-%d",%s,"parameters":{"cutting_speed":%d,"feed_per_revolution":0.15}}`, i, aCut, 50+i%50)
	}
	return b.String() + "]}"
}
