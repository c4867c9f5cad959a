package main

import (
	"fmt"
	"net/http"
	"testing"

	"swarf/db/data"
	"swarf/db/dbtest"
	"swarf/domain/material"
)

// cutsOf are questions about one grade that go through every process, in both unit
// systems, and through the choice of parameters.
func cutsOf(id string) []string {
	const (
		drill = "&operation=drilling&class=drill-solid-carbide&effective_edges=2"
		mill  = "&operation=face-milling&class=mill-face&effective_edges=5"
		turn  = "&operation=turning&class=turning-external"
	)
	return []string{
		"/v1/materials/" + id,
		"/v1/materials/" + id + "?units=inch",
		"/v1/estimates?units=metric&explain=true&grade=" + id + drill + "&cutting_diameter=12&hole_depth=30&through=false&cutting_speed=60&feed_per_revolution=0.15",
		"/v1/estimates?units=inch&grade=" + id + mill + "&cutting_diameter=2.5&axial_depth=0.1&radial_width=1.6&cutting_speed=300&feed_per_tooth=0.006&machine=" + demoMachine,
		"/v1/estimates?units=metric&grade=" + id + turn + "&work_diameter=60&depth_of_cut=2&cutting_speed=120&feed_per_revolution=0.2",
		"/v1/recommendations?units=metric&grade=" + id + drill + "&cutting_diameter=8&hole_depth=16&through=true",
		"/v1/recommendations?units=inch&grade=" + id + turn + "&work_diameter=2&depth_of_cut=0.08",
	}
}

// demoMachine is one of the invented machines.
const demoMachine = "vmc-50"

// The embedded data and the same data loaded into PostgreSQL give the same bytes,
// for every grade.
func TestSameDigitsWithPostgreSQL(t *testing.T) {
	reference, err := data.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	embedded := startService(t)
	stored := startService(t, "DATABASE_URL="+loaded(t, dbtest.URL(t)))
	eventually(t, "the data is there", func() bool { status, _ := get(t, stored.address+"/readyz"); return status == http.StatusOK })
	answers := map[int]int{}
	compare := func(path string) {
		status, _, want := call(t, http.MethodGet, embedded.address+path, "", "X-Request-Id", "same")
		also, _, got := call(t, http.MethodGet, stored.address+path, "", "X-Request-Id", "same")
		answers[status]++
		if status != also || want != got {
			t.Errorf("%s:\nembedded   %d …%s\nPostgreSQL %d …%s", path, status, fromDifference(want, got), also, fromDifference(got, want))
		}
		if status >= http.StatusInternalServerError {
			t.Errorf("%s: %d %s", path, status, want)
		}
	}
	for _, m := range reference.Materials {
		for _, path := range cutsOf(m.ID) {
			compare(path)
		}
		if t.Failed() {
			t.Fatalf("the first grade that differs is %s", m.ID)
		}
	}
	for _, group := range material.Groups {
		compare(fmt.Sprintf("/v1/estimates?units=metric&group=%s&operation=drilling&class=drill-solid-carbide&effective_edges=2&cutting_diameter=12&hole_depth=30&through=false&cutting_speed=60&feed_per_revolution=0.15", group))
	}
	for _, list := range []string{"materials", "tool-classes", "machines", "sources"} {
		compare("/v1/" + list + "?limit=500")
	}
	asked := len(reference.Materials)*len(cutsOf("")) + len(material.Groups) + 4
	if answers[http.StatusOK] < asked*8/10 {
		t.Errorf("of %d answers only %d are 200 %v: the comparison says little", asked, answers[http.StatusOK], answers)
	}
}

// fromDifference is the text around the first place where it differs from another.
func fromDifference(text, other string) string {
	i := 0
	for i < len(text) && i < len(other) && text[i] == other[i] {
		i++
	}
	return text[max(0, i-80):min(len(text), i+160)]
}
