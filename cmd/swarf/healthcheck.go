package main

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"fmt"
	"io"
	"net"
	"net/http"
	"time"
)

// healthcheck asks the service at SWARF_LISTEN whether it is ready. It is what a
// container without a shell has for a health check.
func healthcheck(ctx context.Context, p *program, args []string) error {
	if err := parse(p.flags("healthcheck"), args); err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(ctx, 2*time.Second)
	defer cancel()
	client, at, err := p.ownClient()
	if err != nil {
		return err
	}
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, at+"/readyz", nil)
	if err != nil {
		return err
	}
	answer, err := client.Do(request)
	if err != nil {
		return err
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(io.LimitReader(answer.Body, 4096))
	if err != nil {
		return err
	}
	if answer.StatusCode != http.StatusOK {
		return fmt.Errorf("not ready: %s: %s", answer.Status, text)
	}
	fmt.Fprintln(p.out, "ready")
	return nil
}

// ownClient is how the service's own program reaches it: over its private port where there
// is one, since the public one may ask for certificates that this program has not; else over
// TLS by trust in the very certificate it serves with.
func (p *program) ownClient() (client *http.Client, at string, err error) {
	switch {
	case p.config.PrivateListen != "":
		return http.DefaultClient, "http://" + reachable(p.config.PrivateListen), nil
	case p.config.TLSCert == "":
		return http.DefaultClient, "http://" + reachable(p.config.Listen), nil
	}
	pair, err := tls.LoadX509KeyPair(p.config.TLSCert, p.config.TLSKey)
	if err != nil {
		return nil, "", fmt.Errorf("SWARF_TLS_CERT: %w", err)
	}
	roots := x509.NewCertPool()
	roots.AddCert(pair.Leaf)
	name := ""
	if len(pair.Leaf.DNSNames) > 0 {
		name = pair.Leaf.DNSNames[0]
	}
	transport := &http.Transport{TLSClientConfig: &tls.Config{RootCAs: roots, ServerName: name, MinVersion: tls.VersionTLS12}}
	return &http.Client{Transport: transport}, "https://" + reachable(p.config.Listen), nil
}

// reachable turns an address to listen on into one to connect to: "every address"
// becomes the loopback one.
func reachable(listen string) string {
	host, port, err := net.SplitHostPort(listen)
	if err != nil {
		return listen
	}
	if ip := net.ParseIP(host); host == "" || ip != nil && ip.IsUnspecified() {
		host = "127.0.0.1"
		if ip != nil && ip.To4() == nil {
			host = "::1"
		}
	}
	return net.JoinHostPort(host, port)
}
