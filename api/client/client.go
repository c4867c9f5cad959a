// Package client asks a swarf server from Go, with the shapes of package wire.
//
// Numbers stand in those shapes as they stand on the wire: in the units that the member
// `units` of the request or the answer names, metric or inch; what each is measured in says
// UnitOf. Nothing is converted here.
//
// What can be repeated without doing it twice is repeated when the server was out of reach
// or too busy, after the time that it asks for: reads, computations, writes that state
// which version they replace, and writes that carry an idempotency key. Nothing else is.
//
// An answer that says no comes back as a *Problem; no answer at all as an *Unreachable.
package client

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"time"
)

// Options is how a client asks. The zero value is fit for use.
type Options struct {
	// Key is an API key, sent as a bearer token; none where empty.
	Key string
	// From names the person or program that writes, for the history (RFC 9110, 10.1.2).
	From string
	// HTTP sends the requests; nil is http.DefaultClient.
	HTTP *http.Client
	// Timeout bounds one try, the reading of its answer included; 0 is a minute. What is read
	// as it comes has no bound but the context.
	Timeout time.Duration
	// Tries is how often a request that may be repeated is sent at most; 0 is 4, 1 never
	// repeats.
	Tries int
	// Patience is the longest wait before a repeat; a server that asks for more gets no
	// repeat, and its problem is returned. 0 is 10 s.
	Patience time.Duration
	// Wait sleeps; nil sleeps for real. It returns early when the context ends.
	Wait func(ctx context.Context, d time.Duration) error
}

// Client asks one server. It may be used from many goroutines.
type Client struct {
	base    *url.URL
	options Options
}

// New makes a client of the server at an address such as http://127.0.0.1:8080. It asks
// nothing yet.
//
// Errors: an address without http:// or https:// and a host, or with a query.
func New(server string, options Options) (*Client, error) {
	base, err := url.Parse(server)
	if err != nil || base.Host == "" || base.Scheme != "http" && base.Scheme != "https" || base.RawQuery != "" || base.Fragment != "" {
		return nil, fmt.Errorf("%q is no address of a server, such as http://127.0.0.1:8080", server)
	}
	base.Path = strings.TrimRight(base.Path, "/")
	if options.HTTP == nil {
		options.HTTP = http.DefaultClient
	}
	if options.Timeout == 0 {
		options.Timeout = time.Minute
	}
	if options.Tries == 0 {
		options.Tries = 4
	}
	if options.Patience == 0 {
		options.Patience = 10 * time.Second
	}
	if options.Wait == nil {
		options.Wait = sleep
	}
	return &Client{base, options}, nil
}

// sleep waits, or returns why it did not.
func sleep(ctx context.Context, d time.Duration) error {
	timer := time.NewTimer(d)
	defer timer.Stop()
	select {
	case <-timer.C:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}
