package main

import (
	"crypto/tls"
	"crypto/x509"
	"fmt"
	"log/slog"
	"os"
	"sync"
	"time"
)

// certificates are the service's own and those of whoever may call it, read anew when a
// file changes, so that they can be renewed without a stop.
type certificates struct {
	certFile, keyFile, clientsFile string
	log                            *slog.Logger

	mu      sync.Mutex
	looked  time.Time // when the files were last looked at
	stamps  [3]time.Time
	present *tls.Config
}

// lookEvery is how long a changed file may go unseen.
const lookEvery = time.Second

// tls is how connections are secured; nil where no certificate is set.
//
// Errors: a file that cannot be read, or is no certificate or key.
func (p *program) tls() (*tls.Config, error) {
	if p.config.TLSCert == "" {
		return nil, nil
	}
	c := &certificates{certFile: p.config.TLSCert, keyFile: p.config.TLSKey, clientsFile: p.config.TLSClients, log: p.log}
	if err := c.read(); err != nil {
		return nil, err
	}
	return &tls.Config{MinVersion: tls.VersionTLS12, NextProtos: []string{"h2", "http/1.1"},
		GetConfigForClient: func(*tls.ClientHelloInfo) (*tls.Config, error) { return c.now(), nil }}, nil
}

// now is the present configuration. Files that cannot be used leave the one before in force.
func (c *certificates) now() *tls.Config {
	c.mu.Lock()
	defer c.mu.Unlock()
	if time.Since(c.looked) >= lookEvery && c.changed() {
		if err := c.read(); err != nil {
			c.log.Error("the certificates before stay in force", "error", err)
		} else {
			c.log.Info("certificates were renewed")
		}
	}
	return c.present
}

func (c *certificates) files() [3]string { return [3]string{c.certFile, c.keyFile, c.clientsFile} }

func (c *certificates) changed() bool {
	c.looked = time.Now()
	return c.stampsNow() != c.stamps
}

func (c *certificates) stampsNow() (stamps [3]time.Time) {
	for i, name := range c.files() {
		if about, err := os.Stat(name); err == nil {
			stamps[i] = about.ModTime()
		}
	}
	return stamps
}

// read reads all files, or leaves everything as it is.
func (c *certificates) read() error {
	c.looked, c.stamps = time.Now(), c.stampsNow() // what cannot be used is not tried again until it changes
	pair, err := tls.LoadX509KeyPair(c.certFile, c.keyFile)
	if err != nil {
		return fmt.Errorf("SWARF_TLS_CERT=%s, SWARF_TLS_KEY=%s: %w", c.certFile, c.keyFile, err)
	}
	config := &tls.Config{MinVersion: tls.VersionTLS12, NextProtos: []string{"h2", "http/1.1"}, Certificates: []tls.Certificate{pair}}
	if c.clientsFile != "" {
		text, err := os.ReadFile(c.clientsFile)
		if err != nil {
			return fmt.Errorf("SWARF_TLS_CLIENTS: %w", err)
		}
		config.ClientCAs, config.ClientAuth = x509.NewCertPool(), tls.RequireAndVerifyClientCert
		if !config.ClientCAs.AppendCertsFromPEM(text) {
			return fmt.Errorf("SWARF_TLS_CLIENTS=%s has no certificate in PEM", c.clientsFile)
		}
	}
	c.present = config
	return nil
}
