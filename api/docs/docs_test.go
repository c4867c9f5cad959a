package docs

import (
	"net/http"
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"

	"swarf/api/page"
)

// The page and its parts load nothing from elsewhere and run no script of the page.
func TestPageBringsItsOwn(t *testing.T) {
	index, err := ui.ReadFile("ui/index.html")
	if err != nil {
		t.Fatal(err)
	}
	paths := map[string]bool{}
	for _, p := range Pages() {
		paths[p.Path] = true
	}
	links := regexp.MustCompile(`(?:src|href)="([^"]*)"`).FindAllSubmatch(index, -1)
	if len(links) < 4 {
		t.Errorf("%d parts in the page", len(links))
	}
	for _, m := range links {
		if !paths[string(m[1])] {
			t.Errorf("the page loads %s, which is not served here", m[1])
		}
	}
	if inline := regexp.MustCompile(`<script[^>]*>[^<]|<style|\son[a-z]+=|javascript:`).Find(index); inline != nil {
		t.Errorf("inline in the page: %s", inline)
	}
}

// Every page has a type, a tag that is honoured, and a policy for what it may load.
func TestPagesAreServed(t *testing.T) {
	for _, p := range Pages() {
		ask := func(method, tag string) *http.Response {
			r := httptest.NewRequest(method, p.Path, nil)
			if tag != "" {
				r.Header.Set("If-None-Match", tag)
			}
			w := httptest.NewRecorder()
			p.Handler.ServeHTTP(w, r)
			return w.Result()
		}
		got := ask(http.MethodGet, "")
		tag := got.Header.Get("ETag")
		if got.StatusCode != 200 || got.ContentLength == 0 || got.Header.Get("Content-Type") == "" || got.Header.Get("Cache-Control") != "no-cache" || tag == "" {
			t.Errorf("%s: %d %v", p.Path, got.StatusCode, got.Header)
		}
		if head := ask(http.MethodHead, ""); head.StatusCode != 200 || head.Header.Get("ETag") != tag || head.Header.Get("Content-Length") != got.Header.Get("Content-Length") {
			t.Errorf("HEAD %s: %d %v", p.Path, head.StatusCode, head.Header)
		}
		if again := ask(http.MethodGet, tag); again.StatusCode != http.StatusNotModified {
			t.Errorf("%s with its tag: %d", p.Path, again.StatusCode)
		}
		if p.Path == "/openapi.json" || p.Policy == page.Policy {
			continue // the second is held by package page
		}
		for _, directive := range strings.Split(p.Policy, ";") {
			name, sources, _ := strings.Cut(strings.TrimSpace(directive), " ")
			if name != "style-src" && strings.Contains(sources, "unsafe") || strings.Contains(sources, "http") || strings.Contains(sources, "*") {
				t.Errorf("%s: %s", p.Path, directive)
			}
		}
		if !strings.HasPrefix(p.Policy, "default-src 'self';") {
			t.Errorf("%s: policy %q", p.Path, p.Policy)
		}
	}
}
