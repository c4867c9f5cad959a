package api_test

import (
	"net/http"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"swarf/api"
	"swarf/api/docs/worked"
	"swarf/api/page/pagetest"
	"swarf/domain/catalog"
)

// Every link of the page of examples is answered, with a page where it asks for one; no cut
// of the list is refused, but the one that says so.
func TestExamplesAreAnswered(t *testing.T) {
	snap := snapshotOf(t, embeddedData(t))
	h := serviceWith(api.Options{Snapshots: func() *catalog.Snapshot { return snap }})
	got, root := shown(t, h, "GET", "/docs/examples", "")
	if got.status != http.StatusOK {
		t.Fatal(got.status)
	}
	count := 0
	for _, a := range pagetest.All(pagetest.All(root, "main")[0], "a") {
		href := pagetest.Attr(a, "href")
		if !strings.HasPrefix(href, "/v1/") || !strings.Contains(href, "?") {
			continue
		}
		count++
		answer, page := shown(t, h, "GET", href, "")
		want := http.StatusOK
		if strings.Contains(href, "grade=stainless") {
			want = http.StatusBadRequest
		}
		refused := strings.HasPrefix(verdictShown(page), "No ")
		if answer.status != want || refused != strings.Contains(href, "cutting_diameter=100&") && want == http.StatusOK && !strings.Contains(href, "spindle-checks") {
			t.Errorf("%s: %d, %s", href, answer.status, verdictShown(page))
		}
	}
	if least := 3 * len(worked.Examples); count < least {
		t.Errorf("%d links", count)
	}
}

// verdictShown is the verdict of a page, empty when it has none.
func verdictShown(root *html.Node) string {
	for _, p := range pagetest.All(root, "p") {
		if strings.HasPrefix(pagetest.Attr(p, "class"), "verdict") {
			return pagetest.Text(p)
		}
	}
	return ""
}
