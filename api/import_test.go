package api_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"swarf/api"
)

const (
	csvType  = "text/csv"
	lineType = "application/x-ndjson"
	xlsxType = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
)

// imports sends a body of a media type.
func imports(t *testing.T, h http.Handler, query, media, body string, headers ...string) reply {
	t.Helper()
	return call(t, h, "POST", "/v1/imports"+query, body, append([]string{"Content-Type: " + media, "From: ann"}, headers...)...)
}

func exported(t *testing.T, h http.Handler, target string) []byte {
	t.Helper()
	got := call(t, h, "GET", target, "")
	if got.status != http.StatusOK {
		t.Fatalf("GET %s: %d %s", target, got.status, got.body)
	}
	return got.body
}

// unchanged requires a report of rows that are all as they are on record.
func unchanged(t *testing.T, got reply, atLeast float64) {
	t.Helper()
	rows := 0.0
	for _, s := range list(got.doc, "sheets") {
		count := s.(map[string]any)
		rows += count["rows"].(float64)
		if count["rows"] != count["unchanged"].(float64)+count["passed_over"].(float64) {
			t.Errorf("%v", count)
		}
	}
	if got.status != 200 || rows < atLeast || member0(got.doc, "fault_count").(float64) != 0 {
		t.Fatalf("%d, %v rows: %.2000s", got.status, rows, got.body)
	}
}

func list(doc any, name string) []any {
	l, _ := member0(doc, name).([]any)
	return l
}

// A shop's own grade comes in by a workbook that was filled in from the template, and
// serves when another person approved its records.
func TestAGradeComesInByWorkbook(t *testing.T) {
	h := newShop(t).handler()
	book, err := excelize.OpenReader(bytes.NewReader(exported(t, h, "/v1/sheets?format=xlsx")))
	if err != nil {
		t.Fatal(err)
	}
	fill := func(sheet string, values map[string]any) {
		rows, _ := book.GetRows(sheet)
		for i, heading := range rows[0] {
			path, _, _ := strings.Cut(heading, " ")
			cell, _ := excelize.CoordinatesToCellName(i+1, len(rows)+1)
			if v, ok := values[path]; ok {
				book.SetCellValue(sheet, cell, v)
			}
		}
	}
	fill("sources", map[string]any{"id": "shop-notebook", "title": "Our notebook", "kind": "shop record", "access": "seen"})
	fill("materials", map[string]any{"id": "own-steel", "name": "Own steel 42", "group": "P", "subgroup": "alloy"})
	fill("designations", map[string]any{"material": "own-steel", "standard": "common", "value": "OWN-42"})
	fill("conditions", map[string]any{"material": "own-steel", "name": "annealed", "hardness.low": 190, "hardness.high": 230, "hardness.scale": "HBW", "basis": "shop", "source": "shop-notebook"})
	fill("force", map[string]any{"id": "kc-own-steel", "scope.level": "material", "scope.key": "own-steel", "process": "turning", "method": "kienzle", "specific_cutting_force_1_1": 1850.5, "chip_thickness_exponent": 0.24, "basis": "shop", "source": "shop-notebook"})
	var file bytes.Buffer
	if _, err := book.WriteTo(&file); err != nil {
		t.Fatal(err)
	}
	asks := `{"units":"metric","material":{"grade":"own 42"},"operation":"turning","tool":{"class":"turning-external"},"engagement":{"work_diameter":60,"depth_of_cut":2},"parameters":{"cutting_speed":150,"feed_per_revolution":0.2}}`
	if before := ask(t, h, "POST /v1/estimates", []byte(asks)); before.status != 422 {
		t.Fatalf("%d before", before.status)
	}
	got := imports(t, h, "?validate_only=true", xlsxType, file.String())
	if got.status != 200 || member0(got.doc, "committed") != false || member0(got.doc, "drafts").(float64) != 1 {
		t.Fatalf("%d %s", got.status, got.body)
	}
	got = imports(t, h, "?reason=first+own+grade", xlsxType, file.String())
	if got.status != 201 || member0(got.doc, "committed") != true {
		t.Fatalf("%d %s", got.status, got.body)
	}
	revision := member0(got.doc, "import").(string)
	served := func() any {
		answer := ask(t, h, "POST /v1/estimates", []byte(asks))
		if answer.status != 200 {
			t.Fatalf("%d %s", answer.status, answer.body)
		}
		return member0(member0(answer.doc, "material"), "record")
	}
	if r := served(); r == "kc-own-steel" {
		t.Error("a draft serves")
	}
	approve := func(who string) reply {
		return call(t, h, "POST", "/v1/imports/"+revision+"/approval", `{"reason":"checked against the notebook"}`, asJSON, "From: "+who)
	}
	if own := approve("ann"); own.status != 422 || !strings.Contains(string(own.body), "approver-is-author") {
		t.Errorf("the author approved: %d %s", own.status, own.body)
	}
	if other := approve("bob"); other.status != 200 || member0(other.doc, "approved").(float64) != 1 {
		t.Fatalf("%d %s", other.status, other.body)
	}
	if r := served(); r != "kc-own-steel" {
		t.Errorf("served by %v", r)
	}
	if again := approve("bob"); again.status != 404 {
		t.Errorf("%d %s", again.status, again.body)
	}
	unchanged(t, imports(t, h, "", xlsxType, file.String()), 5)
}

// Every fault is told by sheet, row and column, and nothing of the table is written.
func TestFaultsOfATable(t *testing.T) {
	shop := newShop(t)
	h := shop.handler()
	const head = "id,scope.level,scope.key,process,method,specific_cutting_force_1_1 [N/mm2],chip_thickness_exponent,basis,source\n"
	for name, c := range map[string]struct {
		sheet, table string
		row          float64
		column, code string
		fix          string
	}{
		"number":        {"force", head + "a,material,x5crni18-10,turning,kienzle,lots,0.2,shop,shop\n", 2, "specific_cutting_force_1_1", "wrong-type", "number"},
		"comma":         {"force", head + "a,material,x5crni18-10,turning,kienzle,2000,\"0,2\",shop,shop\n", 2, "chip_thickness_exponent", "wrong-type", "0.2"},
		"range":         {"force", head + "a,material,x5crni18-10,turning,kienzle,2000,1.2,shop,shop\n", 2, "chip_thickness_exponent", "value-out-of-range", "1"},
		"missing":       {"force", head + "a,material,x5crni18-10,turning,kienzle,2000,,shop,shop\n", 2, "chip_thickness_exponent", "field-missing", ""},
		"source":        {"force", head + "\nb,material,x5crni18-10,turning,kienzle,2000,0.2,shop,nobody\n", 3, "source", "value-out-of-range", "/v1/sources"},
		"grade":         {"force", head + "a,material,no-such,turning,kienzle,2000,0.2,shop,shop\n", 2, "scope.key", "value-out-of-range", ""},
		"id":            {"force", head + "Kc A,material,x5crni18-10,turning,kienzle,2000,0.2,shop,shop\n", 2, "id", "value-out-of-range", "lower-case"},
		"twice":         {"force", head + strings.Repeat("a,material,x5crni18-10,turning,kienzle,2000,0.2,shop,shop\n", 2), 3, "id", "fields-conflict", ""},
		"unit":          {"force", strings.Replace(head, "N/mm2", "kN", 1) + "a,material,x5crni18-10,turning,kienzle,2000,0.2,shop,shop\n", 2, "specific_cutting_force_1_1", "units-unknown", "N/mm2"},
		"no unit":       {"force", strings.Replace(head, " [N/mm2]", "", 1) + "a,material,x5crni18-10,turning,kienzle,2000,0.2,shop,shop\n", 2, "specific_cutting_force_1_1", "units-missing", "N/mm2"},
		"column":        {"force", strings.Replace(head, "basis", "baseis", 1) + "a,material,x5crni18-10,turning,kienzle,2000,0.2,shop,shop\n", 2, "baseis", "unknown-field", "basis"},
		"group":         {"materials", "id,name,group,subgroup\nx,X,Q,alloy\n", 2, "group", "value-out-of-range", ""},
		"owner":         {"designations", "material,standard,value\nno-such,UNS,S1\n", 2, "material", "material-unknown", "materials"},
		"standard":      {"designations", "material,standard,value\nx5crni18-10,Standard X,S1\n", 2, "standard", "value-out-of-range", "UNS"},
		"hardness":      {"conditions", "material,name,hardness.low,hardness.high,hardness.scale,basis,source\nx5crni18-10,strained,300,200,HBW,shop,shop\n", 2, "hardness.low", "value-out-of-range", "low"},
		"property":      {"properties", "material,name,value,unit,basis,source\nx5crni18-10,density,7.9,kg,shop,shop\n", 2, "unit", "value-out-of-range", "g/cm3"},
		"operation":     {"tools", "id,name,operations,tool_material\nown,Own,\"drilling,flying\",HC\n", 2, "operations", "operation-unknown", "drilling"},
		"tool property": {"tool-properties", "class,name,quantity,unit,low,high\ndrill-twist-hss,point_angle,angle,deg,140,90\n", 2, "low", "value-out-of-range", ""},
		"rating":        {"ratings", "machine,gear,rating,power [kW],torque [N.m]\nno-such,1,S1,20,100\n", 2, "machine", "machine-unknown", "machines"},
		"points":        {"ratings", "machine,gear,rating,points\nvmc-40,1,S1,700-22\n", 2, "points", "wrong-type", "700:22"},
		"no number":     {"ratings", "machine,gear,rating,points\nvmc-40,1,S1,700:NaN\n", 2, "points", "wrong-type", "700:22"},
		"no gears":      {"machines", "id,process,spindle.max_speed [/min],spindle.efficiency\nown,milling,8000,0.9\n", 2, "spindle.gears", "field-missing", ""},
		"ambiguous":     {"designations", "material,standard,value\nx5crni18-10,UNS,S31600\n", 0, "", "value-out-of-range", ""},
		"changed": {"force", string(bytes.Replace(exported(t, h, "/v1/exports/force"), []byte("kienzle,"), []byte("kienzle,x"), 1)), -1, "", "state-unfit",
			"supersedes"},
	} {
		got := imports(t, h, "?sheet="+c.sheet, csvType, c.table)
		report := member0(got.doc, "report")
		if got.status != http.StatusUnprocessableEntity || len(list(report, "items")) == 0 || member0(got.doc, "code") != "table-faulty" {
			t.Errorf("%s: %d %.600s", name, got.status, got.body)
			continue
		}
		first := list(report, "items")[0].(map[string]any)
		column, _ := first["column"].(string)
		fix, _ := first["fix"].(string)
		if c.row >= 0 && (first["row"] != c.row || column != c.column) || first["code"] != c.code || !strings.Contains(fix, c.fix) {
			t.Errorf("%s: %v", name, first)
		}
		if member0(report, "committed") != false {
			t.Errorf("%s: committed", name)
		}
	}
	// All faults at once, and a good row beside them is not written.
	got := imports(t, h, "?sheet=force", csvType, head+"good,material,x5crni18-10,turning,kienzle,2000,0.2,shop,shop\n"+"a,material,x5crni18-10,turning,kienzle,-5,1.2,shop,nobody\n"+"b,material,x5crni18-10,flying,kienzle,2000,0.2,shop,shop\n")
	if n := member0(member0(got.doc, "report"), "fault_count").(float64); n != 4 || got.status != 422 {
		t.Errorf("%v faults: %s", n, got.body)
	}
	if len(shop.snaps) != 1 {
		t.Error("something was written")
	}
	report := imports(t, h, "?sheet=force&format=csv&validate_only=true", csvType, head+"b,material,x5crni18-10,flying,kienzle,2000,0.2,shop,shop\n")
	if !strings.Contains(string(report.body), "force,2,process,value-out-of-range,") {
		t.Errorf("%s", report.body)
	}
}

// A file that is no table, too long or of another kind is refused whole.
func TestTablesThatCannotBeRead(t *testing.T) {
	h := newShop(t).handlerWith(limitsOf(3_000, 20_000))
	for name, c := range map[string]struct {
		query, media, body string
		status             int
		code               string
	}{
		"empty":        {"?sheet=force", csvType, "", 400, "table-unreadable"},
		"twice":        {"?sheet=force", csvType, "id,id\na,b\n", 400, "table-unreadable"},
		"torn":         {"?sheet=force", csvType, "id,name\n\"a,b\n", 400, "table-unreadable"},
		"wide":         {"?sheet=materials", csvType, "id,name\na,b,c\n", 400, "table-unreadable"},
		"latin":        {"?sheet=materials", csvType, "id,name\na,\xff\n", 400, "table-unreadable"},
		"no workbook":  {"", xlsxType, "PK\x03\x04 not really", 400, "table-unreadable"},
		"no lines":     {"", lineType, "not json\n", 400, "table-unreadable"},
		"nested":       {"", lineType, `{"sheet":"force","scope":{"level":"group"}}` + "\n", 400, "table-unreadable"},
		"no sheet":     {"", csvType, "id\na\n", 400, "field-missing"},
		"which sheet":  {"?sheet=chips", csvType, "id\na\n", 422, "value-out-of-range"},
		"media":        {"?sheet=force", "text/html", "<p>", 415, "media-type-unsupported"},
		"large":        {"?sheet=materials", csvType, "id,name,group,subgroup\n" + strings.Repeat("a,b,P,c\n", 1000), 413, "body-too-large"},
		"only maybe":   {"?sheet=force&validate_only=perhaps", csvType, "id\na\n", 400, "wrong-type"},
		"unknown line": {"", lineType, `{"sheet":"chips","id":"a"}` + "\n", 422, "value-out-of-range"},
	} {
		got := imports(t, h, c.query, c.media, c.body)
		if got.status != c.status || !strings.Contains(string(got.body), c.code) {
			t.Errorf("%s: %d %.400s", name, got.status, got.body)
		}
	}
}

// A caller who reads lines hears how far the import has come while the body still goes
// out, and the report last.
func TestProgressOfAnImport(t *testing.T) {
	server := httptest.NewServer(newShop(t).handler())
	defer server.Close()
	body, out := io.Pipe()
	heard := make(chan string, 100)
	go func() {
		fmt.Fprint(out, "material,standard,value\n")
		for i := range 12_000 {
			fmt.Fprintf(out, "x5crni18-10,common,own %d\n", i)
			if i == 6_000 {
				<-heard // the first line must come before the rest goes out
			}
		}
		out.Close()
	}()
	r, _ := http.NewRequest("POST", server.URL+"/v1/imports?sheet=designations", body)
	r.Header.Set("Content-Type", csvType)
	r.Header.Set("Accept", lineType)
	answer, err := server.Client().Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	lines := json.NewDecoder(answer.Body)
	var steps []string
	for {
		var line map[string]any
		if err := lines.Decode(&line); err != nil {
			t.Fatal(err)
		}
		if step, ok := line["step"].(string); ok {
			if len(steps) == 0 {
				heard <- step
			}
			steps = append(steps, step)
			continue
		}
		if line["committed"] != true || strings.Join(steps, " ") != "reading reading checking writing" {
			t.Errorf("%v, then %v", steps, line)
		}
		return
	}
}

// An import that somebody overtook is refused whole.
func TestAnImportIsOvertaken(t *testing.T) {
	shop := newShop(t)
	h := shop.handler()
	body, out := io.Pipe()
	done := make(chan reply)
	go func() {
		w := httptest.NewRecorder()
		r := httptest.NewRequest("POST", "/v1/imports?sheet=sources", body)
		r.Header.Set("Content-Type", csvType)
		h.ServeHTTP(w, r)
		done <- reply{status: w.Code, body: w.Body.Bytes()}
	}()
	fmt.Fprint(out, "id,title,kind\nown,Own,shop record\n")
	imports(t, h, "?sheet=sources", csvType, "id,title,kind\nother,Other,shop record\n")
	out.Close()
	if got := <-done; got.status != http.StatusConflict || !strings.Contains(string(got.body), "import-overtaken") {
		t.Errorf("%d %s", got.status, got.body)
	}
}

// Without a database a table can still be checked.
func TestImportsWithoutADatabase(t *testing.T) {
	h := embeddedService(t)
	if got := imports(t, h, "?sheet=sources", csvType, "id,title,kind\nown,Own,shop record\n"); got.status != 503 {
		t.Errorf("%d %s", got.status, got.body)
	}
	if got := imports(t, h, "?sheet=sources&validate_only=true", csvType, "id,title,kind\nown,Own,shop record\n"); got.status != 200 {
		t.Errorf("%d %s", got.status, got.body)
	}
}

func limitsOf(imported, workbook int64) api.Limits {
	return api.Limits{ImportBytes: imported, WorkbookBytes: workbook}
}

func limitsOfBody(bytes int64) api.Limits { return api.Limits{BodyBytes: bytes} }
