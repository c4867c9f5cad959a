package api_test

import (
	"fmt"
	"strings"
	"testing"
)

// A request is told ways for a hundred pairs at most, and says so.
func TestWaysAreTold(t *testing.T) {
	h := embeddedService(t)
	cut := fmt.Sprintf(tooMuch[0].cut, 12)
	var cuts []string
	for range 120 {
		cuts = append(cuts, cut)
	}
	got := ask(t, h, "POST /v1/spindle-checks", []byte(`{"units":"metric","cuts":[`+strings.Join(cuts, ",")+`],"machine":"vmc-40"}`))
	with, without := 0, 0
	for _, r := range list(got.doc, "results") {
		if len(list(r, "ways")) > 0 {
			with++
		} else if strings.Contains(fmt.Sprint(member0(r, "unchecked")), "ways") {
			without++
		}
	}
	if with != 100 || without != 20 {
		t.Errorf("%d with ways, %d that say why not", with, without)
	}
}
