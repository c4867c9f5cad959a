package main

import (
	"context"
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
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, "http://"+reachable(p.config.Listen)+"/readyz", nil)
	if err != nil {
		return err
	}
	answer, err := http.DefaultClient.Do(request)
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
