package main

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"math/big"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// authority signs certificates for tests.
type authority struct {
	cert *x509.Certificate
	key  *ecdsa.PrivateKey
	pem  []byte
}

func newAuthority(t *testing.T) *authority {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	template := &x509.Certificate{SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: "a shop"}, NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour),
		IsCA: true, BasicConstraintsValid: true, KeyUsage: x509.KeyUsageCertSign}
	der, err := x509.CreateCertificate(rand.Reader, template, template, &key.PublicKey, key)
	if err != nil {
		t.Fatal(err)
	}
	cert, err := x509.ParseCertificate(der)
	if err != nil {
		t.Fatal(err)
	}
	return &authority{cert, key, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der})}
}

// issue writes a certificate and its key into a folder, under the number as serial.
func (a *authority) issue(t *testing.T, dir, name string, serial int64) (certFile, keyFile string) {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	template := &x509.Certificate{SerialNumber: big.NewInt(serial), Subject: pkix.Name{CommonName: name}, NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour),
		IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth, x509.ExtKeyUsageClientAuth}}
	der, err := x509.CreateCertificate(rand.Reader, template, a.cert, &key.PublicKey, a.key)
	if err != nil {
		t.Fatal(err)
	}
	private, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		t.Fatal(err)
	}
	certFile, keyFile = filepath.Join(dir, name+".pem"), filepath.Join(dir, name+".key")
	write(t, certFile, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der}))
	write(t, keyFile, pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: private}))
	return certFile, keyFile
}

func write(t *testing.T, name string, text []byte) {
	t.Helper()
	if err := os.WriteFile(name, text, 0o600); err != nil {
		t.Fatal(err)
	}
}

// secure asks over TLS with a connection of its own, and returns the server's serial.
func (a *authority) secure(address string, own ...tls.Certificate) (serial int64, err error) {
	roots := x509.NewCertPool()
	roots.AddCert(a.cert)
	client := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: roots, Certificates: own}, DisableKeepAlives: true}}
	answer, err := client.Get(address + "/readyz")
	if err != nil {
		return 0, err
	}
	answer.Body.Close()
	return answer.TLS.PeerCertificates[0].SerialNumber.Int64(), nil
}

// Certificates are renewed under way; a broken file leaves the one before in force.
func TestCertificatesAreRenewed(t *testing.T) {
	shop, dir := newAuthority(t), t.TempDir()
	certFile, keyFile := shop.issue(t, dir, "swarf", 10)
	s := startService(t, "SWARF_TLS_CERT="+certFile, "SWARF_TLS_KEY="+keyFile)
	if !strings.HasPrefix(s.address, "https://") {
		t.Fatalf("it serves on %s", s.address)
	}
	if serial, err := shop.secure(s.address); serial != 10 || err != nil {
		t.Fatal(serial, err)
	}
	write(t, certFile, []byte("nothing of use"))
	time.Sleep(lookEvery + 100*time.Millisecond)
	if serial, err := shop.secure(s.address); serial != 10 || err != nil {
		t.Errorf("with a broken file: %v, %v", serial, err)
	}
	shop.issue(t, dir, "swarf", 11)
	eventually(t, "the new certificate serves", func() bool { serial, err := shop.secure(s.address); return serial == 11 && err == nil })
	plain, err := http.Get("http" + strings.TrimPrefix(s.address, "https") + "/readyz")
	if err == nil {
		plain.Body.Close()
		if plain.StatusCode < 400 {
			t.Errorf("without TLS: %d", plain.StatusCode)
		}
	}
	if _, err := newAuthority(t).secure(s.address); err == nil {
		t.Error("a stranger's authority vouches for it")
	}
}

// Where callers must show a certificate, others get nothing.
func TestClientCertificates(t *testing.T) {
	shop, clients, dir := newAuthority(t), newAuthority(t), t.TempDir()
	certFile, keyFile := shop.issue(t, dir, "swarf", 10)
	roots := filepath.Join(dir, "clients.pem")
	write(t, roots, clients.pem)
	s := startService(t, "SWARF_TLS_CERT="+certFile, "SWARF_TLS_KEY="+keyFile, "SWARF_TLS_CLIENTS="+roots)
	pair := func(a *authority, name string) tls.Certificate {
		c, k := a.issue(t, dir, name, 20)
		loaded, err := tls.LoadX509KeyPair(c, k)
		if err != nil {
			t.Fatal(err)
		}
		return loaded
	}
	if _, err := shop.secure(s.address, pair(clients, "erp")); err != nil {
		t.Errorf("a known caller: %v", err)
	}
	if _, err := shop.secure(s.address); err == nil {
		t.Error("a caller without a certificate was answered")
	}
	if _, err := shop.secure(s.address, pair(shop, "stranger")); err == nil {
		t.Error("a caller with a stranger's certificate was answered")
	}
}

// The health check of a container reaches a service that speaks TLS.
func TestHealthcheckOverTLS(t *testing.T) {
	shop, dir := newAuthority(t), t.TempDir()
	certFile, keyFile := shop.issue(t, dir, "swarf", 10)
	s := startService(t, "SWARF_TLS_CERT="+certFile, "SWARF_TLS_KEY="+keyFile)
	environ := []string{"SWARF_LISTEN=" + strings.TrimPrefix(s.address, "https://"), "SWARF_TLS_CERT=" + certFile, "SWARF_TLS_KEY=" + keyFile}
	var out, errs strings.Builder
	if code := run(t.Context(), []string{"healthcheck"}, environ, &out, &errs); code != 0 || out.String() != "ready\n" {
		t.Errorf("%d: %s%s", code, out.String(), errs.String())
	}
	other, otherKey := shop.issue(t, dir, "another", 12)
	environ[1], environ[2] = "SWARF_TLS_CERT="+other, "SWARF_TLS_KEY="+otherKey
	if code := run(t.Context(), []string{"healthcheck"}, environ, &out, &errs); code == 0 {
		t.Error("it trusts a certificate that is not the service's")
	}
}

// Files that cannot be used are told at start, with the setting's name.
func TestTLSFaultsAtStart(t *testing.T) {
	dir := t.TempDir()
	shop := newAuthority(t)
	certFile, keyFile := shop.issue(t, dir, "swarf", 10)
	empty := filepath.Join(dir, "empty.pem")
	write(t, empty, nil)
	for name, c := range map[string]Config{
		"SWARF_TLS_CERT":    {TLSCert: filepath.Join(dir, "none"), TLSKey: keyFile},
		"SWARF_TLS_KEY":     {TLSCert: certFile, TLSKey: empty},
		"SWARF_TLS_CLIENTS": {TLSCert: certFile, TLSKey: keyFile, TLSClients: empty},
	} {
		if _, err := (&program{config: c}).tls(); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, setting := range []string{"SWARF_TLS_CERT=a.pem", "SWARF_TLS_KEY=a.key", "SWARF_TLS_CLIENTS=c.pem"} {
		if _, err := parseConfig([]string{setting}); err == nil || !strings.Contains(err.Error(), "SWARF_TLS_CERT and SWARF_TLS_KEY") {
			t.Errorf("%s alone: %v", setting, err)
		}
	}
}
