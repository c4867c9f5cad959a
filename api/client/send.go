package client

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/url"
	"time"
)

// longestAnswer is how many bytes of an answer are read: more is refused, never cut off. A
// batch of 10,000 items takes about a quarter of it.
const longestAnswer = 128 << 20

// Request is what is asked, for routes and forms that have no method of their own here.
type Request struct {
	Method string
	Path   string // below the server's address, escaped
	Query  url.Values
	Header http.Header
	Body   []byte
	// Repeatable says that the request does no more when it is sent twice.
	Repeatable bool
}

// reply is a whole answer.
type reply struct {
	status int
	header http.Header
	body   []byte
	tries  int
}

// Answer is an answer as it came.
type Answer struct {
	Status int
	Header http.Header
	Body   []byte
}

// Send sends a request and returns the answer as it came, whatever its format.
//
// Errors: *Problem, *Unreachable, ErrUnchanged.
func (c *Client) Send(ctx context.Context, r Request) (*Answer, error) {
	got, err := c.send(ctx, &r)
	if err != nil {
		return nil, err
	}
	return &Answer{got.status, got.header, got.body}, nil
}

// send sends a request, as often as it may and must.
func (c *Client) send(ctx context.Context, r *Request) (*reply, error) {
	for try := 1; ; try++ {
		got, err := c.once(ctx, r)
		again := r.Repeatable && try < c.options.Tries && ctx.Err() == nil
		var wait time.Duration
		switch {
		case err != nil:
			if !again || errors.Is(err, errTooLong) {
				return nil, &Unreachable{err, try}
			}
		case got.status == http.StatusNotModified:
			return nil, ErrUnchanged
		case got.status < 300:
			got.tries = try
			return got, nil
		default:
			p := problemOf(got)
			p.Tries = try
			if wait = p.RetryAfter; !again || !passing(got.status) || wait > c.options.Patience || ends(ctx, wait) {
				return nil, p
			}
		}
		if err := c.options.Wait(ctx, max(wait, pause(try))); err != nil {
			return nil, &Unreachable{err, try}
		}
	}
}

// ends reports a context that is known to end before a wait does.
func ends(ctx context.Context, wait time.Duration) bool {
	deadline, has := ctx.Deadline()
	return has && time.Until(deadline) < wait
}

// passing reports a status that another try may not get.
func passing(status int) bool {
	switch status {
	case http.StatusTooManyRequests, http.StatusBadGateway, http.StatusServiceUnavailable, http.StatusGatewayTimeout:
		return true
	}
	return false
}

// pause is how long to wait after so many tries: twice as long each time, and by chance
// between half and all of that, so that callers who failed together do not come together.
func pause(try int) time.Duration {
	longest := min(200*time.Millisecond<<min(try-1, 10), 5*time.Second)
	return longest/2 + rand.N(longest/2) // #nosec G404 -- when to try again is no secret
}

var errTooLong = fmt.Errorf("the answer is longer than %d MiB", longestAnswer>>20)

// once sends a request and reads the whole answer.
func (c *Client) once(ctx context.Context, r *Request) (*reply, error) {
	ctx, cancel := context.WithTimeout(ctx, c.options.Timeout)
	defer cancel()
	out, err := c.open(ctx, r, bytes.NewReader(r.Body))
	if err != nil {
		return nil, err
	}
	defer out.Body.Close()
	body, err := io.ReadAll(io.LimitReader(out.Body, longestAnswer+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("the answer broke off: %w", err)
	case len(body) > longestAnswer:
		return nil, errTooLong
	}
	return &reply{status: out.StatusCode, header: out.Header, body: body}, nil
}

// open sends a request and returns the answer with its body still to be read.
func (c *Client) open(ctx context.Context, r *Request, body io.Reader) (*http.Response, error) {
	address := c.base.String() + r.Path
	if len(r.Query) > 0 {
		address += "?" + r.Query.Encode()
	}
	out, err := http.NewRequestWithContext(ctx, r.Method, address, body)
	if err != nil {
		return nil, err
	}
	for name, values := range r.Header {
		out.Header[name] = values
	}
	if c.options.Key != "" {
		out.Header.Set("Authorization", "Bearer "+c.options.Key)
	}
	if c.options.From != "" && out.Header.Get("From") == "" {
		out.Header.Set("From", c.options.From)
	}
	return c.options.HTTP.Do(out)
}

// ask sends a request and reads its answer as JSON.
func ask[T any](ctx context.Context, c *Client, r *Request) (*T, *reply, error) {
	if r.Header == nil {
		r.Header = http.Header{}
	}
	r.Header.Set("Accept", "application/json")
	got, err := c.send(ctx, r)
	if err != nil {
		return nil, nil, err
	}
	into := new(T)
	if err := json.Unmarshal(got.body, into); err != nil {
		return nil, nil, &Problem{Problem: unreadable(got, err), Body: got.body, Tries: got.tries}
	}
	return into, got, nil
}

// withJSON gives a request a JSON body.
func (r *Request) withJSON(body any) error {
	text, err := json.Marshal(body)
	if err != nil {
		return fmt.Errorf("the request cannot be written: %w", err)
	}
	r.Body = text
	if r.Header == nil {
		r.Header = http.Header{}
	}
	r.Header.Set("Content-Type", "application/json")
	return nil
}
