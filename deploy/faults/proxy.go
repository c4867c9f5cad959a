//go:build faults

package faults

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/Shopify/toxiproxy/v2"
	"github.com/prometheus/client_golang/prometheus"
	"github.com/rs/zerolog"
)

// proxy stands between the service and PostgreSQL and spoils what passes.
type proxy struct {
	t     testing.TB
	inner *toxiproxy.Proxy
	added []string
}

// between starts a proxy on a loopback port that leads to an address.
func between(t testing.TB, upstream string) *proxy {
	t.Helper()
	server := toxiproxy.NewServer(toxiproxy.NewMetricsContainer(prometheus.NewRegistry()), zerolog.Nop())
	p := &proxy{t: t, inner: toxiproxy.NewProxy(server, "postgres", "127.0.0.1:0", upstream)}
	if err := p.inner.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(p.inner.Stop)
	return p
}

// url is the address of the database by way of the proxy.
func (p *proxy) url() string {
	return "postgres://postgres@" + p.inner.Listen + "/postgres?sslmode=disable"
}

// spoil adds a toxic in both directions, with its attributes as JSON.
func (p *proxy) spoil(kind, attributes string) {
	p.t.Helper()
	for _, stream := range []string{"upstream", "downstream"} {
		name := kind + "-" + stream
		text := fmt.Sprintf(`{"name":%q,"type":%q,"stream":%q,"toxicity":1,"attributes":%s}`, name, kind, stream, attributes)
		if _, err := p.inner.Toxics.AddToxicJson(strings.NewReader(text)); err != nil {
			p.t.Fatal(err)
		}
		p.added = append(p.added, name)
	}
}

// mend removes the toxics.
func (p *proxy) mend() {
	p.t.Helper()
	for _, name := range p.added {
		if err := p.inner.Toxics.RemoveToxic(context.Background(), name); err != nil {
			p.t.Fatal(err)
		}
	}
	p.added = nil
}
