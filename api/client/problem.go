package client

import (
	"encoding/json"
	"errors"
	"fmt"
	"mime"
	"net/http"
	"strconv"
	"strings"
	"time"

	"swarf/api/wire"
)

// Problem is an answer that says no: an RFC 9457 problem document. Its code says what is
// wrong, its faults say where. An answer that is no such document, as from something
// between here and the server, has only a status, a title and the beginning of its text as
// detail; its code is empty.
type Problem struct {
	wire.Problem
	// Body is the answer as it came, in the format that was asked for.
	Body []byte
	// RetryAfter is how long the server asks to wait; 0 where it does not say.
	RetryAfter time.Duration
	// Tries is how often the request was sent. After more than one, a write that is refused
	// as precondition-failed may have been done by an earlier try: read and compare.
	Tries int
}

// Error says what is wrong on one line.
func (p *Problem) Error() string {
	text := p.Title
	if p.Detail != "" {
		text = p.Detail
	}
	if p.Code == "" {
		return fmt.Sprintf("the server answered %d: %s", p.Status, text)
	}
	return p.Code + ": " + text
}

// Unreachable is a request that got no whole answer.
type Unreachable struct {
	Err   error
	Tries int // how often the request was sent
}

// Error says what went wrong.
func (u *Unreachable) Error() string { return "no answer from the server: " + u.Err.Error() }

// Unwrap gives the cause, the context's error among them.
func (u *Unreachable) Unwrap() error { return u.Err }

// ErrUnchanged is the answer to a read with a tag where the caller's copy is still good.
var ErrUnchanged = errors.New("the copy is still good")

// problemOf reads an answer that is not a success.
func problemOf(r *reply) *Problem {
	p := &Problem{Body: r.body, RetryAfter: retryAfter(r.header.Get("Retry-After"), time.Now())}
	media, _, _ := mime.ParseMediaType(r.header.Get("Content-Type"))
	if media == "application/problem+json" && json.Unmarshal(r.body, &p.Problem) == nil && p.Code != "" {
		p.Status = r.status
		return p
	}
	p.Problem = wire.Problem{Type: "about:blank", Status: r.status, Title: http.StatusText(r.status), Detail: beginning(r.body)}
	return p
}

// beginning is the first words of a text that nobody expected, on one line.
func beginning(body []byte) string {
	const most = 200
	text := strings.Join(strings.Fields(strings.ToValidUTF8(string(body[:min(len(body), 4*most)]), "\ufffd")), " ")
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}

// retryAfter reads the header of that name: seconds, or a time (RFC 9110, 10.2.3).
func retryAfter(text string, now time.Time) time.Duration {
	if seconds, err := strconv.Atoi(text); err == nil {
		return time.Duration(max(seconds, 0)) * time.Second
	}
	if at, err := http.ParseTime(text); err == nil {
		return max(at.Sub(now), 0)
	}
	return 0
}

// unreadable is a success that is not the JSON it should be.
func unreadable(r *reply, err error) wire.Problem {
	return wire.Problem{Type: "about:blank", Status: r.status, Title: "the answer cannot be read", Detail: err.Error() + ": " + beginning(r.body)}
}
