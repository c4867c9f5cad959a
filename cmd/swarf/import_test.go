package main

import (
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"regexp"
	"strings"
	"testing"

	"swarf/db/data"
	"swarf/db/dbtest"
)

// ownForce is a table of force records for grades on record, drafts of a shop.
func ownForce(t testing.TB, rows int) string {
	t.Helper()
	reference, err := data.Embedded()
	if err != nil {
		t.Fatal(err)
	}
	var table strings.Builder
	table.WriteString("id,scope.level,scope.key,process,method,specific_cutting_force_1_1 [N/mm2],chip_thickness_exponent,basis,source\r\n")
	for i := range rows {
		fmt.Fprintf(&table, "own-%d,material,%s,turning,kienzle,%d,0.2%d,shop,shop\r\n", i, reference.Materials[i%len(reference.Materials)].ID, 1500+i%1000, i%10)
	}
	return table.String()
}

// A table goes into PostgreSQL by way of HTTP, all or none, and out again unchanged.
func TestImportIntoPostgreSQL(t *testing.T) {
	service := startService(t, "DATABASE_URL="+loaded(t, dbtest.URL(t)))
	eventually(t, "the data is there", func() bool { status, _ := get(t, service.address+"/readyz"); return status == http.StatusOK })
	send := func(query, table string) (int, map[string]any) {
		status, _, body := call(t, http.MethodPost, service.address+"/v1/imports?"+query, table, "Content-Type", "text/csv", "From", "ann")
		var report map[string]any
		if err := json.Unmarshal([]byte(body), &report); err != nil {
			t.Fatalf("%d %s", status, body)
		}
		return status, report
	}
	table := ownForce(t, 1_500)
	if status, report := send("sheet=force", strings.Replace(table, "kienzle,1999", "kienzle,none", 1)); status != http.StatusUnprocessableEntity || report["report"].(map[string]any)["fault_count"].(float64) != 1 {
		t.Fatalf("%d %v", status, report)
	}
	status, report := send("sheet=force", table)
	if status != http.StatusCreated || report["drafts"].(float64) != 1_500 {
		t.Fatalf("%d %v", status, report)
	}
	for _, name := range []string{"sources", "materials", "designations", "conditions", "properties", "tools", "tool-properties", "force", "starting", "life", "machines", "ratings"} {
		_, out := get(t, service.address+"/v1/exports/"+name)
		status, again := send("sheet="+name, out)
		counts := again["sheets"].([]any)[0].(map[string]any)
		if status != http.StatusOK || counts["unchanged"] != counts["rows"] || counts["rows"].(float64) < 6 {
			t.Errorf("%s: %d %v", name, status, again)
		}
	}
	status, _, body := call(t, http.MethodPost, service.address+"/v1/imports/"+report["import"].(string)+"/approval", `{"reason":"checked"}`, "From", "bob")
	if status != http.StatusOK || !strings.Contains(body, `"approved":1500`) {
		t.Errorf("%d %s", status, body)
	}
}

// BenchmarkImport is a table of 100,000 rows into PostgreSQL by way of HTTP, with the
// checks, the snapshot that follows and the memory that the process came to.
func BenchmarkImport(b *testing.B) {
	table := ownForce(b, 100_000)
	for b.Loop() {
		b.StopTimer()
		service := startService(b, "DATABASE_URL="+loaded(b, dbtest.URL(b)))
		eventually(b, "the data is there", func() bool { status, _ := get(b, service.address+"/readyz"); return status == http.StatusOK })
		b.StartTimer()
		status, _, body := call(b, http.MethodPost, service.address+"/v1/imports?sheet=force", table, "Content-Type", "text/csv", "From", "ann")
		if status != http.StatusCreated {
			b.Fatalf("%d %.1000s", status, body)
		}
		b.StopTimer()
		state, _ := os.ReadFile("/proc/self/status")
		b.Logf("%s", regexp.MustCompile(`VmHWM.*`).Find(state))
		service.stop()
		b.StartTimer()
	}
}
