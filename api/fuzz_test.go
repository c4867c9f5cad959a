package api_test

import (
	"bytes"
	"encoding/base64"
	"encoding/csv"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// fuzzed sends a request that a fuzzer made. Faults of ours end the test.
func fuzzed(t *testing.T, h http.Handler, method, target, body string, headers ...string) reply {
	t.Helper()
	r, err := http.NewRequest(method, "http://swarf.test"+target, strings.NewReader(body))
	if err != nil {
		t.Fatal(err) // targets are escaped
	}
	r.RequestURI = target
	for _, line := range headers {
		name, value, _ := strings.Cut(line, ": ")
		r.Header.Set(name, value)
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	got := reply{status: w.Code, header: w.Header(), body: w.Body.Bytes()}
	if got.status >= 500 {
		t.Fatalf("%s %s %q: %d %s", method, target, body, got.status, got.body)
	}
	return got
}

// FuzzCursor: only a cursor that was given out is followed.
func FuzzCursor(f *testing.F) {
	h := embeddedService(f)
	first := call(f, h, "GET", "/v1/materials?limit=3", "")
	given := member0(first.doc, "next_cursor").(string)
	for _, seed := range []string{given, given + "=", given[1:], "", "e30", "eyJzIjoxfQ", strings.ToUpper(given), given + given, "\x00", "eyJzIjotMSwiciI6MSwiZiI6IiJ9"} {
		f.Add(seed)
	}
	want := call(f, h, "GET", "/v1/materials?limit=3&cursor="+given, "")
	f.Fuzz(func(t *testing.T, cursor string) {
		got := fuzzed(t, h, "GET", "/v1/materials?limit=3&cursor="+url.QueryEscape(cursor), "")
		switch {
		case cursor == given && (got.status != 200 || !bytes.Equal(got.body, want.body)):
			t.Fatalf("the cursor given out: %d %s", got.status, got.body)
		case cursor != given && got.status == 200 && !sameList(given, cursor):
			t.Fatalf("%q is followed", cursor)
		}
	})
}

// sameList reports a cursor that differs from one given out by its place alone.
func sameList(given, other string) bool {
	read := func(text string) (c struct {
		S, R int
		F    string
	}) {
		raw, _ := base64.RawURLEncoding.DecodeString(text)
		_ = json.Unmarshal(raw, &c)
		return c
	}
	a, b := read(given), read(other)
	return a.R == b.R && a.F == b.F && b.S >= 1
}

// FuzzConditional: 304 is the answer where the tag is listed, and nowhere else.
func FuzzConditional(f *testing.F) {
	h := embeddedService(f)
	kept := newShop(f)
	shop, before := kept.handler(), kept.data
	tag := call(f, h, "GET", "/v1/sources/common-practice", "").header.Get("ETag")
	f.Add(call(f, shop, "GET", "/v1/machines/vmc-50", "").header.Get("ETag"))
	for _, seed := range []string{tag, "W/" + tag, "*", `"x", ` + tag, ",,", `"`, "W/", "w/" + tag, tag[1:], tag + tag, " " + tag + " ", `"a, b"`} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, field string) {
		got := fuzzed(t, h, "GET", "/v1/sources/common-practice", "", "If-None-Match: "+field)
		listed := strings.TrimSpace(field) == "*"
		listed = listed || tagged(field, tag) || tagged(field, "W/"+tag)
		if want := map[bool]int{true: 304, false: 200}[listed]; got.status != want {
			t.Fatalf("If-None-Match: %q: %d", field, got.status)
		}
		// and a write is done by the same condition only where it holds
		kept.t = t
		mine := call(t, shop, "GET", "/v1/machines/vmc-50", "").header.Get("ETag")
		holds := strings.TrimSpace(field) == "*" || tagged(field, mine)
		got = fuzzed(t, shop, "DELETE", "/v1/machines/vmc-50", "", "If-Match: "+field)
		if (got.status == 204) != holds {
			t.Fatalf("If-Match: %q to a record of %s: %d", field, mine, got.status)
		}
		kept.data, kept.snaps = before, kept.snaps[:1]
	})
}

// tagged reports a tag in a list of them.
func tagged(field, tag string) bool {
	return slices.ContainsFunc(strings.Split(field, ","), func(part string) bool { return strings.TrimSpace(part) == tag })
}

// FuzzAccept: whatever is asked for, the answer is in a format of the route, or there is none.
func FuzzAccept(f *testing.F) {
	h := embeddedService(f)
	for _, seed := range []string{"", "*/*", "text/csv", "text/*;q=0.5, application/json;q=0.1", ";;", "a/b;q=NaN", "application/json;q=0", "text/csv;q=1e9", ",", "application/problem+json"} {
		f.Add(seed, "json")
		f.Add(seed, "")
	}
	f.Add("_", strings.Repeat("A", 2_100)) // too long an address
	f.Fuzz(func(t *testing.T, accept, format string) {
		target := "/v1/sources?limit=1"
		if format != "" {
			target += "&format=" + url.QueryEscape(format)
		}
		got := fuzzed(t, h, "GET", target, "", "Accept: "+accept)
		kind, _, _ := strings.Cut(got.header.Get("Content-Type"), ";")
		if got.status == 200 && !slices.Contains([]string{"application/json", "text/plain", "text/csv"}, kind) || got.status != 200 && got.status != 406 && got.status != 400 && (got.status != 414 || len(format) < 600) {
			t.Fatalf("Accept %q, format %q: %d %s", accept, format, got.status, kind)
		}
	})
}

// FuzzBatchTable and lines: every row has its answer or its problem.
func FuzzBatch(f *testing.F) {
	h := embeddedService(f)
	for _, seed := range []string{
		"grade,operation,class,cutting_diameter,hole_depth,through,cutting_speed,feed_per_revolution\n1.4301,drilling,drill-indexable,30,60,true,150,0.12\n",
		"{" + aCut + "}\n\n{}\n", "\ufeffref;grade\na;304\n", "ref\n=1+1\n", "a,a\n", "\"", "{\"ref\":\"x\"}\nnull\n[1]\n\xff\n",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, body string) {
		lines := fuzzed(t, h, "POST", "/v1/estimates/batch?units=metric", body, "Content-Type: "+lineType)
		want := 0
		for line := range strings.Lines(body) {
			if strings.TrimSpace(line) != "" {
				want++
			}
		}
		if got := bytes.Count(lines.body, []byte("\n")); lines.status == 200 && got != want {
			t.Fatalf("%d lines of %q are answered by %d: %s", want, body, got, lines.body)
		}
		table := fuzzed(t, h, "POST", "/v1/estimates/batch?units=metric", body, "Content-Type: text/csv")
		var answer struct{ Items []json.RawMessage }
		if table.status == 200 && json.Unmarshal(table.body, &answer) != nil {
			t.Fatalf("%q: %s", body, table.body)
		}
	})
}

// FuzzImport: a table is checked, and its faults are told by sheet and row, or it cannot be
// read; in CSV, in lines and in a workbook alike.
func FuzzImport(f *testing.F) {
	h := embeddedService(f)
	f.Add("materials", "id,name,group,subgroup\nx1,X,P,unalloyed\n")
	f.Add("force", "id,scope.level,scope.key,condition,process,method,specific_cutting_force_1_1,chip_thickness_exponent,basis,source\nkc-9,material,x5crni18-10,aged,turning,kienzle,2000,0.2,shop,common-practice\n")
	f.Add("ratings", "machine,gear,rating,points\nvmc-40,1,S1,700:NaN\n")
	f.Add("machines", "id,name,process\nm,M,milling\n\"")
	f.Add("classes", "\ufeffid;name\na;\"b;c\"\n;\n")
	list := call(f, h, "GET", "/v1/sheets", "")
	tables := 0
	for _, sheet := range member0(list.doc, "items").([]any) {
		name := textOf(sheet, "sheet")
		lines := strings.SplitAfterN(string(call(f, h, "GET", "/v1/exports/"+name+"?format=csv", "").body), "\n", 4)
		if len(lines) == 4 {
			f.Add(name, strings.Join(lines[:3], ""))
			tables++
		}
	}
	if tables < 10 {
		f.Fatalf("%d tables", tables)
	}
	f.Add("no-such-sheet", "{\"sheet\":\"materials\",\"id\":5}")
	f.Fuzz(func(t *testing.T, sheet, body string) {
		checkedImport(t, fuzzed(t, h, "POST", onlyCheck+"&sheet="+url.QueryEscape(sheet), body, "Content-Type: text/csv"), body)
		checkedImport(t, fuzzed(t, h, "POST", onlyCheck, body, "Content-Type: "+lineType), body)
	})
}

const onlyCheck = "/v1/imports?validate_only=true"

// checkedImport is a report that nothing was kept, or a problem.
func checkedImport(t *testing.T, got reply, body string) {
	t.Helper()
	var report struct {
		Committed *bool `json:"committed"`
		Code      string
	}
	if err := json.Unmarshal(got.body, &report); err != nil || got.status >= 400 && report.Code == "" || report.Committed != nil && *report.Committed {
		t.Fatalf("%q: %d %s", body, got.status, got.body)
	}
}

// FuzzImportWorkbook: the same of workbooks, those that are none too.
func FuzzImportWorkbook(f *testing.F) {
	h := embeddedService(f)
	f.Add("materials", "id,name,group,subgroup\nx1,X,P,unalloyed\n")
	f.Add("ratings", "machine,gear,rating,points\nvmc-40,1,S1,700:NaN\n")
	f.Add("force", "id,id\n=1+1,NaN\n")
	f.Add("x", "PK\x03\x04")
	f.Fuzz(func(t *testing.T, sheet, body string) {
		checkedImport(t, fuzzed(t, h, "POST", onlyCheck, body, "Content-Type: "+xlsxType), body)
		if rows, err := csv.NewReader(strings.NewReader(body)).ReadAll(); err == nil && len(rows) < 50 {
			checkedImport(t, fuzzed(t, h, "POST", onlyCheck, workbookOf(sheet, rows), "Content-Type: "+xlsxType), body)
		}
	})
}

// workbookOf is a workbook of one sheet, or of none by that name where it cannot be.
func workbookOf(sheet string, rows [][]string) string {
	book := excelize.NewFile()
	defer book.Close()
	_ = book.SetSheetName("Sheet1", sheet)
	name := book.GetSheetName(0)
	for i, row := range rows {
		for j, cell := range row {
			if at, err := excelize.CoordinatesToCellName(j+1, i+1); err == nil {
				_ = book.SetCellValue(name, at, cell)
			}
		}
	}
	var b bytes.Buffer
	if err := book.Write(&b); err != nil {
		return "" // no workbook can hold it, and nothing is sent
	}
	return b.String()
}

// FuzzToolAsset: a document is read as a tool, or refused.
func FuzzToolAsset(f *testing.F) {
	h := embeddedService(f)
	for _, seed := range documents {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, document string) {
		got := fuzzed(t, h, "POST", "/v1/tool-assets?class=mill-end", document, "Content-Type: application/xml")
		if !json.Valid(got.body) {
			t.Fatalf("%q: %s", document, got.body)
		}
	})
}

// FuzzAsOf: a revision or a time is taken, or refused with its name.
func FuzzAsOf(f *testing.F) {
	h := newShop(f).handler()
	for _, seed := range []string{"1", "0", "-1", "2", "2026-03-03T12:00:00Z", "2026-03-03T12:00:00+01:00", "", "now", "99999999999999999999", "1e0", "0000-00-00T00:00:00Z"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, name := range []string{"as_of", "valid_at"} {
			got := fuzzed(t, h, "GET", "/v1/machines?"+name+"="+url.QueryEscape(text), "")
			if got.status == 414 && len(text) > 600 {
				continue // the address is too long
			}
			if got.status >= 400 && !strings.Contains(string(got.body), name) {
				t.Fatalf("%s=%q: %s", name, text, got.body)
			}
		}
	})
}
