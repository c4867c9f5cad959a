package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"net/http"

	"swarf/api"
	"swarf/api/client"
	"swarf/db/snapshot"
	"swarf/domain/catalog"
	"swarf/domain/estimate"
)

// errNoTrust is a snapshot that nobody can vouch for.
var errNoTrust = errors.New("no key to check a snapshot with; set SWARF_SNAPSHOT_TRUST to the public key of whoever exported it")

// offline is a client of a snapshot file: the service itself answers, in this process and
// without a network. A file that is not signed with the trusted key answers nothing.
func (p *program) offline(path string) (*client.Client, error) {
	if path == "" {
		path = p.config.Snapshot
	}
	if path == "" {
		return nil, errors.New("no snapshot file; set SWARF_SNAPSHOT or give -snapshot FILE")
	}
	trust, err := p.config.trust()
	if err != nil {
		return nil, err
	}
	if trust == nil {
		return nil, errNoTrust
	}
	data, header, err := snapshot.Read(path, trust)
	if err != nil {
		return nil, &ending{exitUnreachable, err}
	}
	snap, err := catalog.New(*data)
	if err != nil {
		return nil, &ending{exitUnreachable, fmt.Errorf("%s: %w", path, err)}
	}
	p.log.Debug("answering from a snapshot", "file", path, "data_revision", header.Revision, "made", header.Made)
	server := api.New(api.Options{Snapshots: func() *catalog.Snapshot { return snap }, ModelVersion: estimate.ModelVersion, Build: build()})
	return client.New("http://snapshot", client.Options{HTTP: &http.Client{Transport: within{server.Handler()}}, Tries: 1})
}

// within is a way to a handler without a connection.
type within struct{ handler http.Handler }

// RoundTrip lets the handler answer.
func (w within) RoundTrip(r *http.Request) (*http.Response, error) {
	if r.Body == nil {
		r.Body = http.NoBody
	}
	r.RequestURI = r.URL.RequestURI()
	answer := &kept{header: http.Header{}}
	w.handler.ServeHTTP(answer, r)
	return &http.Response{StatusCode: answer.status, Header: answer.header, Body: io.NopCloser(&answer.body), Request: r}, nil
}

// kept is an answer as a handler writes it.
type kept struct {
	status int
	header http.Header
	body   bytes.Buffer
}

// Header is that of the answer.
func (k *kept) Header() http.Header { return k.header }

// WriteHeader takes the first status.
func (k *kept) WriteHeader(status int) {
	if k.status == 0 {
		k.status = status
	}
}

// Write takes part of the body.
func (k *kept) Write(p []byte) (int, error) {
	k.WriteHeader(http.StatusOK)
	return k.body.Write(p)
}
