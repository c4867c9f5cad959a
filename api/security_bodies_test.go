package api_test

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"runtime"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"swarf/api"
)

// refusedLean sends a body that means harm, and requires a refusal that says why and cost
// little memory.
func refusedLean(t *testing.T, h http.Handler, name string, mostMiB uint64, method, target, body string, headers ...string) {
	t.Helper()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	got := call(t, h, method, target, body, headers...)
	runtime.ReadMemStats(&after)
	if got.status < 400 || got.status >= 500 {
		t.Errorf("%s: %d %.300s", name, got.status, got.body)
		return
	}
	if strings.HasPrefix(got.header.Get("Content-Type"), "application/problem+json") {
		problemOf(t, got)
	}
	if len(got.body) > 64<<10 {
		t.Errorf("%s: the refusal has %d bytes", name, len(got.body))
	}
	if spent := (after.TotalAlloc - before.TotalAlloc) >> 20; spent > mostMiB {
		t.Errorf("%s: %d MiB were allocated, more than %d", name, spent, mostMiB)
	}
}

// A body is read as deep as it may be and no deeper, wherever JSON comes in; names that mean
// something to other programs are unknown members here.
func TestHostileJSONIsRefused(t *testing.T) {
	h := newShop(t).handler()
	bodies := map[string]string{
		"lists within lists":       strings.Repeat("[", 200_000),
		"closed lists":             strings.Repeat("[", 100_000) + strings.Repeat("]", 100_000),
		"objects within objects":   strings.Repeat(`{"material":`, 50_000) + "1" + strings.Repeat("}", 50_000),
		"depth in an unknown":      `{"units":"metric","x":` + strings.Repeat("[", 100_000) + strings.Repeat("]", 100_000) + `}`,
		"a number without end":     `{"units":"metric","parameters":{"cutting_speed":` + strings.Repeat("9", 500_000) + `}}`,
		"an exponent without end":  `{"units":"metric","parameters":{"cutting_speed":1e` + strings.Repeat("9", 500_000) + `}}`,
		"a name without end":       `{"` + strings.Repeat("x", 900_000) + `":1}`,
		"a text without end":       `{"units":"metric","ref":"` + strings.Repeat("x", 900_000) + `"}`,
		"many unknown members":     `{"units":"metric"` + manyMembers(50_000) + `}`,
		"__proto__":                `{"units":"metric","__proto__":{"admin":true}}`,
		"constructor":              `{"units":"metric","constructor":{"prototype":{"a":1}}}`,
		"a reference":              `{"units":"metric","$ref":"file:///etc/passwd"}`,
		"a member without a name":  `{"units":"metric","":1}`,
		"lone surrogates":          `{"units":"metric","ref":"\ud800"}`,
		"bytes that are no UTF-8":  "{\"units\":\"metric\",\"ref\":\"\xff\xfe\"}",
		"a NUL in a text":          "{\"units\":\"metric\",\"ref\":\"a\x00b\"}",
		"comments":                 `{"units":"metric" /* no */}`,
		"single quotes":            `{'units':'metric'}`,
		"UTF-16":                   "\xff\xfe{\x00}\x00",
		"a second document behind": `{"units":"metric"}{"units":"inch"}`,
	}
	asked := 0
	for _, r := range api.Routes() {
		if r.Method == http.MethodGet || r.Method == http.MethodDelete || r.Path == "/v1/imports" || r.Path == "/v1/tool-assets" || strings.HasPrefix(r.Path, "/v1/keys") {
			continue
		}
		headers := []string{asJSON}
		if r.Method == http.MethodPut {
			headers = append(headers, "If-None-Match: *")
		}
		for name, body := range bodies {
			refusedLean(t, h, r.Path+": "+name, 64, r.Method, targetOf(r), body, headers...)
			asked++
		}
	}
	if asked < 300 {
		t.Errorf("only %d requests", asked)
	}
	for name, line := range map[string]string{"depth": bodies["closed lists"], "an endless line": `{"ref":"` + strings.Repeat("x", 900_000)} {
		got := call(t, h, "POST", "/v1/estimates/batch?units=metric", line+"\n", "Content-Type: "+lineType)
		if got.status >= 500 || strings.Contains(string(got.body), `"verdict"`) {
			t.Errorf("a line of %s: %d %.200s", name, got.status, got.body)
		}
	}
}

func manyMembers(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(`,"m`)
		b.WriteString(strings.Repeat("i", i%7))
		b.WriteString(`":1`)
	}
	return b.String()
}

// No body is unpacked: what inflates a thousandfold is refused before it is looked at.
func TestCompressedBodiesAreNotRead(t *testing.T) {
	h := newShop(t).handler()
	var bomb bytes.Buffer
	w := gzip.NewWriter(&bomb)
	io.CopyN(w, zeros{}, 64<<20)
	w.Close()
	for _, encoding := range []string{"gzip", "deflate", "br", "zstd", "compress", "gzip, gzip", "x-gzip"} {
		for target, media := range map[string]string{"/v1/estimates": "application/json", "/v1/estimates/batch": lineType, "/v1/imports?sheet=machines": "text/csv", "/v1/tool-assets?class=mill-face": "application/xml"} {
			refusedLean(t, h, encoding+" to "+target, 8, "POST", target, bomb.String(), "Content-Type: "+media, "Content-Encoding: "+encoding)
		}
	}
}

// zeros is endless.
type zeros struct{}

func (zeros) Read(p []byte) (int, error) { clear(p); return len(p), nil }

// workbook is a sound workbook with one part replaced by what write puts in its place.
func workbook(t *testing.T, part string, write func(io.Writer)) string {
	t.Helper()
	book := excelize.NewFile()
	defer book.Close()
	book.SetSheetName("Sheet1", "machines")
	book.SetCellValue("machines", "A1", "id")
	sound, err := book.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	in, err := zip.NewReader(bytes.NewReader(sound.Bytes()), int64(sound.Len()))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	to := zip.NewWriter(&out)
	replaced := false
	for _, f := range in.File {
		w, err := to.Create(f.Name)
		if err != nil {
			t.Fatal(err)
		}
		if f.Name == part {
			write(w)
			replaced = true
			continue
		}
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		io.Copy(w, r)
		r.Close()
	}
	if !replaced {
		w, _ := to.Create(part)
		write(w)
	}
	if err := to.Close(); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

const sheetHead = `<?xml version="1.0"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>`

// A workbook that grows when it is unpacked or read is refused within bounds.
func TestHostileWorkbooksAreRefused(t *testing.T) {
	h := newShop(t).handler()
	const sheet = "xl/worksheets/sheet1.xml"
	row := `<row r="1"><c r="A1" t="inlineStr"><is><t>id</t></is></c></row>`
	for name, body := range map[string]string{
		"a part of 96 MiB": workbook(t, sheet, func(w io.Writer) { io.CopyN(w, zeros{}, 96<<20) }),
		"an unused part":   workbook(t, "xl/media/big.bin", func(w io.Writer) { io.CopyN(w, zeros{}, 96<<20) }),
		"shared texts":     workbook(t, "xl/sharedStrings.xml", func(w io.Writer) { io.CopyN(w, zeros{}, 96<<20) }),
		"entities": workbook(t, sheet, func(w io.Writer) {
			io.WriteString(w, `<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>`+sheetHead+`<row r="1"><c r="A1" t="inlineStr"><is><t>&b;</t></is></c></row></sheetData></worksheet>`)
		}),
		"an entity of a file": workbook(t, sheet, func(w io.Writer) {
			io.WriteString(w, `<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/passwd">]>`+sheetHead+`<row r="1"><c r="A1" t="inlineStr"><is><t>&a;</t></is></c></row></sheetData></worksheet>`)
		}),
		"a cell at the far end": workbook(t, sheet, func(w io.Writer) {
			io.WriteString(w, sheetHead+row+`<row r="1048576"><c r="XFD1048576" t="inlineStr"><is><t>x</t></is></c></row></sheetData></worksheet>`)
		}),
		"a row beyond the last": workbook(t, sheet, func(w io.Writer) {
			io.WriteString(w, sheetHead+row+`<row r="2147483647"><c r="A2147483647" t="inlineStr"><is><t>x</t></is></c></row></sheetData></worksheet>`)
		}),
		"no workbook": "PK\x03\x04" + strings.Repeat("\x00", 1000),
		"nothing":     "",
	} {
		refusedLean(t, h, name, 512, "POST", "/v1/imports?validate_only=true", body, "Content-Type: "+xlsxType)
	}
}

// Documents of XML lead nowhere outside and do not grow.
func TestHostileXMLIsRefused(t *testing.T) {
	h := embeddedService(t)
	const asset = `<CuttingTool xmlns="urn:mtconnect.org:MTConnectAssets:2.7" assetId="a" toolId="t" timestamp="2026-03-02T08:00:00Z" deviceUuid="d">`
	laughs := `<!DOCTYPE a [<!ENTITY a "ha">`
	for _, pair := range []string{"ba", "cb", "dc", "ed", "fe", "gf", "hg", "ih"} {
		laughs += `<!ENTITY ` + pair[:1] + ` "` + strings.Repeat("&"+pair[1:]+";", 10) + `">`
	}
	for name, document := range map[string]string{
		"a billion laughs":       laughs + `]>` + asset + `<Description>&i;</Description></CuttingTool>`,
		"a file":                 `<!DOCTYPE a [<!ENTITY x SYSTEM "file:///etc/passwd">]>` + asset + `<Description>&x;</Description></CuttingTool>`,
		"an address":             `<!DOCTYPE a SYSTEM "http://127.0.0.1:1/x.dtd">` + asset + `</CuttingTool>`,
		"parameter entities":     `<!DOCTYPE a [<!ENTITY % x SYSTEM "file:///etc/passwd"> %x;]>` + asset + `</CuttingTool>`,
		"an entity without type": asset + `<Description>&x;</Description></CuttingTool>`,
		"elements in elements":   asset + strings.Repeat("<a>", 100_000),
		"very many elements":     asset + strings.Repeat("<a/>", 200_000) + `</CuttingTool>`,
		"very many attributes":   asset + `<a ` + strings.Repeat(`b="" `, 100_000) + `/></CuttingTool>`,
		"another character set":  `<?xml version="1.0" encoding="UTF-7"?>` + asset + `</CuttingTool>`,
	} {
		refusedLean(t, h, name, 64, "POST", "/v1/tool-assets?class=mill-face", document, "Content-Type: application/xml")
	}
}
