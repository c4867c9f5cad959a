package main

import (
	"encoding/csv"
	"io"
	"net/http"
	"net/url"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// recipe is the spreadsheet page: its table, and the blocks of formulas and addresses.
func recipe(t *testing.T) (cells map[string]string, headings, row []string, blocks []string) {
	t.Helper()
	text, err := os.ReadFile(exampleFolder + "README.md")
	if err != nil {
		t.Fatal(err)
	}
	cells = map[string]string{}
	for _, m := range regexp.MustCompile(`(?m)^\| ([12]) \| (.*) \|$`).FindAllStringSubmatch(string(text), -1) {
		parts := strings.Split(m[2], " | ")
		for i, value := range parts {
			cells[string(rune('A'+i))+m[1]] = value
		}
		if m[1] == "1" {
			headings = parts
		} else {
			row = parts
		}
	}
	for _, m := range regexp.MustCompile("(?s)```\n(.*?)```").FindAllStringSubmatch(string(text), -1) {
		blocks = append(blocks, m[1])
	}
	if len(headings) < 6 || len(headings) != len(row) || len(blocks) != 4 {
		t.Fatalf("%d headings, %d cells, %d blocks on the page", len(headings), len(row), len(blocks))
	}
	return cells, headings, row, blocks
}

// addressOf works a WEBSERVICE formula out: texts, cells, and the two functions around cells.
func addressOf(t *testing.T, formula string, cells map[string]string) string {
	t.Helper()
	inner := regexp.MustCompile(`^=WEBSERVICE\((.*)\)$`).FindStringSubmatch(formula)
	if inner == nil {
		t.Fatalf("%s asks nothing", formula)
	}
	part := regexp.MustCompile(`^(?:"([^"]*)"|ENCODEURL\((\w\d)\)|SUBSTITUTE\((\w\d),",","\."\)|(\w\d))(?:&|$)`)
	var address strings.Builder
	for rest := inner[1]; rest != ""; {
		m := part.FindStringSubmatch(rest)
		if m == nil {
			t.Fatalf("cannot work out %s", rest)
		}
		address.WriteString(m[1] + url.QueryEscape(cells[m[2]]) + strings.ReplaceAll(cells[m[3]], ",", ".") + cells[m[4]])
		rest = rest[len(m[0]):]
	}
	return address.String()
}

// The formulas of the page find their numbers in what the server answers to the address
// that the web function works out, within what a cell takes.
func TestSpreadsheetFormulas(t *testing.T) {
	s := startService(t)
	cells, headings, _, blocks := recipe(t)
	cells["D2"] = "12,0" // a country with a decimal comma
	formulas := map[string]string{}
	for line := range strings.Lines(blocks[0]) {
		cell, formula, _ := strings.Cut(strings.TrimSpace(line), ": ")
		formulas[cell] = formula
	}
	address := addressOf(t, formulas["G2"], cells)
	for _, name := range headings {
		if !strings.Contains(address, "&"+name+"=") {
			t.Errorf("the address lacks %s: %s", name, address)
		}
	}
	status, text := get(t, here(address, s))
	if status != http.StatusOK || len(address) > 2048 || len(text) > 32767 {
		t.Fatalf("%d, an address of %d characters, an answer of %d:\n%s", status, len(address), len(text), text)
	}
	find := regexp.MustCompile(`TEXTBEFORE\(TEXTAFTER\(G2,"([^"]+)"\),CHAR\(10\)\)`)
	for cell, want := range map[string]string{"H2": "yes", "I2": "9018.78", "J2": "2191.56", "K2": "warn"} {
		m := find.FindStringSubmatch(formulas[cell])
		if m == nil {
			t.Errorf("%s is %q", cell, formulas[cell])
			continue
		}
		_, after, _ := strings.Cut(text, m[1])
		if got, _, _ := strings.Cut(after, "\n"); got != want {
			t.Errorf("%s reads %q, want %q", cell, got, want)
		}
	}
	calc := regexp.MustCompile(`REGEX\(G2;"\(\?<=(.+?)\)([^"]+)"\)`).FindStringSubmatch(blocks[1])
	if calc == nil || !regexp.MustCompile(calc[1]+calc[2]).MatchString(text) {
		t.Errorf("the formula of Calc finds nothing: %s", blocks[1])
	}
}

// here is an address of the page at the server of the test.
func here(address string, s *service) string {
	return strings.Replace(address, "http://127.0.0.1:8080", s.address, 1)
}

// The tables of the page arrive as the page says.
func TestSpreadsheetImports(t *testing.T) {
	s := startService(t)
	_, headings, row, blocks := recipe(t)
	for address := range strings.FieldsSeq(blocks[2]) {
		status, text := get(t, here(address, s))
		rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
		if status != http.StatusOK || err != nil || len(rows) < 2 {
			t.Errorf("%s: %d, %v, %d rows", address, status, err, len(rows))
		}
	}
	address := regexp.MustCompile(`Web\.Contents\("([^"]+)"`).FindStringSubmatch(blocks[3])
	if address == nil || !strings.Contains(blocks[3], `#"Content-Type"="text/csv"`) {
		t.Fatalf("the query asks nothing:\n%s", blocks[3])
	}
	body := strings.Join(headings, ",") + "\n" + strings.Join(row, ",") + "\n" + strings.Replace(strings.Join(row, ","), row[0], "stainless", 1)
	answer, err := http.Post(here(address[1], s), "text/csv", strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if answer.StatusCode != http.StatusOK || err != nil || len(rows) != 3 {
		t.Fatalf("%d, %v:\n%s", answer.StatusCode, err, text)
	}
	speed := slices.IndexFunc(rows[0], func(heading string) bool { return strings.HasPrefix(heading, "parameters.spindle_speed") })
	code := slices.Index(rows[0], "code")
	if speed < 0 || code < 0 {
		t.Fatalf("headings: %v", rows[0])
	}
	if v, err := strconv.ParseFloat(rows[1][speed], 64); err != nil || v != 9018.78 || rows[2][code] != "material-ambiguous" {
		t.Errorf("speed %s, %v; the bad row says %s", rows[1][speed], err, rows[2][code])
	}
}
