package api_test

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// What is exported and imported again changes nothing, in every form, in metric and inch.
func TestExportAndImportChangeNothing(t *testing.T) {
	shop := newShop(t)
	h := shop.handler()
	var sheets struct {
		Items []struct {
			Sheet  string
			Import bool
		}
	}
	if err := json.Unmarshal(exported(t, h, "/v1/sheets"), &sheets); err != nil || len(sheets.Items) < 12 {
		t.Fatalf("%v, %d sheets", err, len(sheets.Items))
	}
	for _, units := range []string{"metric", "inch"} {
		for _, s := range sheets.Items {
			table := exported(t, h, "/v1/exports/"+s.Sheet+"?units="+units)
			if !s.Import {
				continue
			}
			unchanged(t, imports(t, h, "?sheet="+s.Sheet, csvType, string(table)), 3)
			lines := exported(t, h, "/v1/exports/"+s.Sheet+"?format=ndjson&units="+units)
			unchanged(t, imports(t, h, "", lineType, string(lines)), 3)
		}
	}
	unchanged(t, imports(t, h, "", lineType, string(exported(t, h, "/v1/exports"))), 5000)
	unchanged(t, imports(t, h, "?validate_only=true", xlsxType, string(exported(t, h, "/v1/exports?format=xlsx"))), 5000)
	if n := len(shop.snaps); n != 1 {
		t.Errorf("%d revisions were made of nothing", n-1)
	}
	archive := exported(t, h, "/v1/exports?format=zip")
	parts, err := zip.NewReader(bytes.NewReader(archive), int64(len(archive)))
	if err != nil || len(parts.File) != len(sheets.Items) {
		t.Fatalf("%v, %d parts", err, len(parts.File))
	}
	for _, part := range parts.File {
		in, _ := part.Open()
		whole, _ := io.ReadAll(in)
		name := strings.TrimSuffix(part.Name, ".csv")
		if string(whole) != string(exported(t, h, "/v1/exports/"+name)) {
			t.Errorf("%s differs from /v1/exports/%s", part.Name, name)
		}
	}
}

// No cell leaves as a formula, and none comes back changed by its guard.
func TestNoCellIsAFormula(t *testing.T) {
	h := newShop(t).handler()
	const note = `=HYPERLINK("http://example.org","+1")`
	var table bytes.Buffer
	w := csv.NewWriter(&table)
	w.WriteAll([][]string{{"id", "title", "kind", "note"}, {"own", "@SUM(A1)", "shop record", note}, {"own-2", "'quoted", "shop record", "-5 K"}})
	if got := imports(t, h, "?sheet=sources", csvType, table.String()); got.status != 201 {
		t.Fatalf("%d %s", got.status, got.body)
	}
	out := string(exported(t, h, "/v1/exports/sources"))
	for _, guarded := range []string{"'@SUM(A1)", `"'=HYPERLINK(`, "''quoted", "'-5 K"} {
		if !strings.Contains(out, guarded) {
			t.Errorf("no %s in the export", guarded)
		}
	}
	unchanged(t, imports(t, h, "?sheet=sources", csvType, out), 2)
	book, err := excelize.OpenReader(bytes.NewReader(exported(t, h, "/v1/exports?format=xlsx")))
	if err != nil {
		t.Fatal(err)
	}
	cells := 0
	for _, name := range book.GetSheetList() {
		rows, _ := book.GetRows(name)
		for i, row := range rows {
			for j := range row {
				at, _ := excelize.CoordinatesToCellName(j+1, i+1)
				if f, _ := book.GetCellFormula(name, at); f != "" {
					t.Errorf("%s %s is the formula %s", name, at, f)
				}
				if cells++; i > 0 && j == 0 && strings.IndexByte("=+-@", row[j][0]) >= 0 {
					t.Errorf("%s %s begins like a formula: %s", name, at, row[j])
				}
			}
			if i > 200 {
				break
			}
		}
	}
	if cells < 5_000 {
		t.Errorf("only %d cells seen", cells)
	}
}

// A workbook that unpacks to far more than it is large is refused.
func TestABombIsNotUnpacked(t *testing.T) {
	var file bytes.Buffer
	archive := zip.NewWriter(&file)
	for i := range 3 {
		part, _ := archive.Create(fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1))
		for range 40 {
			part.Write(bytes.Repeat([]byte(" "), 1<<20))
		}
	}
	archive.Close()
	if got := imports(t, newShop(t).handler(), "", xlsxType, file.String()); got.status != 400 || !strings.Contains(string(got.body), "unpacks to more than") {
		t.Errorf("%d KiB: %d %.300s", file.Len()>>10, got.status, got.body)
	}
}

// An export is polled by its tag, which moves with the data.
func TestExportsArePolledByTag(t *testing.T) {
	h := newShop(t).handler()
	for _, target := range []string{"/v1/exports", "/v1/exports?format=xlsx", "/v1/exports/force"} {
		first := call(t, h, "GET", target, "")
		tag, revision := first.header.Get("ETag"), first.header.Get("Data-Revision")
		if again := call(t, h, "GET", target, "", "If-None-Match: "+tag); tag == "" || again.status != http.StatusNotModified || len(again.body) != 0 {
			t.Errorf("%s: %q, then %d", target, tag, again.status)
		}
		if head := call(t, h, "HEAD", target, ""); head.header.Get("ETag") != tag || len(head.body) != 0 {
			t.Errorf("%s: HEAD has %q and %d bytes", target, head.header.Get("ETag"), len(head.body))
		}
		imports(t, h, "?sheet=sources", csvType, "id,title,kind\nown-"+fmt.Sprint(len(target))+",Own,shop record\n")
		if moved := call(t, h, "GET", target, "", "If-None-Match: "+tag); moved.status != http.StatusOK {
			t.Errorf("%s: %d after a change", target, moved.status)
		}
		at := target + "?as_of=" + revision
		if strings.Contains(target, "?") {
			at = target + "&as_of=" + revision
		}
		if old := call(t, h, "GET", at, "", "If-None-Match: "+tag); old.status != http.StatusNotModified {
			t.Errorf("%s: %d", at, old.status)
		}
	}
}
