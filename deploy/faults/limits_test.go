//go:build faults

package faults

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"
)

// Sizes of the contract, in bytes.
const (
	mostURL      = 2_047
	mostHeader   = 16 << 10
	mostBody     = 1 << 20
	mostBatch    = 16 << 20
	mostImport   = 64 << 20
	mostWorkbook = 16 << 20
	mostText     = 10_000
)

// request is one as it goes down a line.
func request(method, target, body string, headers ...string) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "%s %s HTTP/1.1\r\nHost: 127.0.0.1\r\n", method, target)
	for _, h := range headers {
		b.WriteString(h + "\r\n")
	}
	if body != "" {
		fmt.Fprintf(&b, "Content-Length: %d\r\n", len(body))
	}
	return []byte(b.String() + "\r\n" + body)
}

// inChunks is a request whose body does not say how long it is.
func inChunks(target, body, contentType string) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "POST %s HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: %s\r\nTransfer-Encoding: chunked\r\n\r\n", target, contentType)
	for len(body) > 0 {
		n := min(len(body), 64<<10)
		fmt.Fprintf(&b, "%x\r\n%s\r\n", n, body[:n])
		body = body[n:]
	}
	return []byte(b.String() + "0\r\n\r\n")
}

// limits are the bounds of the contract and of PLATFORM.md: of each what just fits and what
// does not.
func limits() []limit {
	const estimates, batches, table = "/v1/estimates", "/v1/estimates/batch", "/v1/imports?validate_only=true&sheet=materials"
	const parameters = `,"parameters":{"cutting_speed":60,"feed_per_revolution":0.15}`
	const plain, csv, lines, workbook = "application/json", "text/csv", "application/x-ndjson", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
	cut := `{"units":"metric",` + aCut + parameters + "}"
	typed := func(media string) string { return "Content-Type: " + media }
	padded := func(text string, size int) string { return text + strings.Repeat(" ", size-len(text)) }
	with := func(member string) string { return "{" + member + "," + cut[1:] }
	url := func(size int) string {
		target := "/v1/materials?q="
		return target + strings.Repeat("a", size-len(target)-len("https://127.0.0.1"))
	}
	header := func(size int) string {
		return "X-Long: " + strings.Repeat("a", size-len("Host: 127.0.0.1\r\n")-len("X-Long: \r\n"))
	}
	items := func(n int) string {
		return `{"units":"metric","items":[` + strings.TrimSuffix(strings.Repeat("{},", n), ",") + "]}"
	}
	planned := func(n int) string {
		return `{"units":"metric","machines":["vmc-40"],"cuts":[` + strings.TrimSuffix(strings.Repeat("{"+aCut+parameters+"},", n), ",") + "]}"
	}
	nested := func(deep int) string {
		return with(`"x":` + strings.Repeat("[", deep-1) + strings.Repeat("]", deep-1))
	}
	rows := func(size int) string {
		head, row := "id,name,group,subgroup\n", strings.Repeat("a", 900)+",b,P,c\n"
		return head + strings.Repeat(row, (size-len(head))/len(row)+1)
	}
	long := strings.Repeat("x", 32<<10)
	return []limit{
		{"a URL as long as may be", request("GET", url(mostURL), ""), 200, ""},
		{"a URL one longer", request("GET", url(mostURL+1), ""), 414, "url-too-long"},
		{"a URL beyond what is read of one", request("GET", "/v1/materials?q="+long, ""), 414, "url-too-long"},
		{"headers as large as may be", request("GET", "/version", "", header(mostHeader)), 200, ""},
		{"headers a little larger", request("GET", "/version", "", header(mostHeader+64)), 431, "headers-too-large"},
		{"headers twice as large", request("GET", "/version", "", header(2*mostHeader)), 431, "headers-too-large"},
		{"headers without end", request("GET", "/version", "", header(8*mostHeader)), 431, ""}, // of net/http, before anything of ours sees it
		{"a thousand header fields", request("GET", "/version", "", strings.TrimSuffix(strings.Repeat("X-Field: 012345678\r\n", 1_000), "\r\n")), 431, "headers-too-large"},
		{"a body as large as may be", request("POST", estimates, padded(cut, mostBody), typed(plain)), 200, ""},
		{"a body one larger", request("POST", estimates, padded(cut, mostBody+1), typed(plain)), 413, "body-too-large"},
		{"a body of 1 MiB in chunks", inChunks(estimates, padded(cut, mostBody), plain), 200, ""},
		{"a body one larger in chunks", inChunks(estimates, padded(cut, mostBody+1), plain), 413, "body-too-large"},
		{"a body that only says it is large", request("POST", estimates, "", typed(plain), "Content-Length: 99999999999"), 413, "body-too-large"},
		{"a batch as large as may be", request("POST", batches, padded(batchOf(100), mostBatch), typed(plain)), 200, ""},
		{"a batch one larger", request("POST", batches, padded(batchOf(100), mostBatch+1), typed(plain)), 413, "body-too-large"},
		{"a batch of 16 MiB in chunks", inChunks(batches, padded(batchOf(100), mostBatch), plain), 200, ""},
		{"a batch one larger in chunks", inChunks(batches, padded(batchOf(100), mostBatch+1), plain), 413, "body-too-large"},
		{"a batch of as many as may be", request("POST", batches, items(10_000), typed(plain)), 200, ""},
		{"a batch of one more", request("POST", batches, items(10_001), typed(plain)), 413, "batch-too-large"},
		{"an item of a stream as large as may be", request("POST", batches, padded(cut, mostBody)+"\n", typed(lines)), 200, ""},
		{"an item of a stream that is larger", request("POST", batches, padded(cut, mostBody+1)+"\n"+cut, typed(lines)), 200, ""}, // a problem in its place
		{"an import that is too large", inChunks(table, rows(mostImport), csv), 413, "body-too-large"},
		{"a workbook that is too large", inChunks(table, strings.Repeat("x", mostWorkbook+1), workbook), 413, "body-too-large"},
		{"a compressed body", request("POST", estimates, cut, typed(plain), "Content-Encoding: gzip"), 415, "media-type-unsupported"},
		{"JSON as deep as may be", request("POST", estimates, nested(32), typed(plain)), 400, "unknown-field"},
		{"JSON one deeper", request("POST", estimates, nested(33), typed(plain)), 400, "json-invalid"},
		{"JSON without end", request("POST", estimates, `{"x":`+strings.Repeat("[", 500_000), typed(plain)), 400, "json-invalid"},
		{"a text as long as may be", request("POST", estimates, with(`"ref":"`+strings.Repeat("x", mostText)+`"`), typed(plain)), 200, ""},
		{"a text one longer", request("POST", estimates, with(`"ref":"`+strings.Repeat("x", mostText+1)+`"`), typed(plain)), 422, "value-out-of-range"},
		{"a number beyond all", request("POST", estimates, strings.Replace(cut, ":60", ":1e999", 1), typed(plain)), 422, "value-out-of-range"},
		{"a page as long as may be", request("GET", "/v1/materials?limit=500", ""), 200, ""},
		{"a page one longer", request("GET", "/v1/materials?limit=501", ""), 422, "value-out-of-range"},
		{"a plan of as many cuts as may be", request("POST", "/v1/plans", planned(500), typed(plain)), 200, ""},
		{"a plan of one more", request("POST", "/v1/plans", planned(501), typed(plain)), 422, "value-out-of-range"},
		{"two lengths", request("POST", estimates, cut, typed(plain), "Content-Length: 5"), 400, ""},
		{"a length and chunks", request("POST", estimates, cut, typed(plain), "Transfer-Encoding: gzip, chunked"), 501, ""},
		{"TRACE", request("TRACE", estimates, ""), 405, "method-not-allowed"},
	}
}

// limit is a request at or over a bound, and what it gets; without a code that is no problem
// of ours.
type limit struct {
	name    string
	request []byte
	status  int
	code    string
}

// Every bound holds against the real server, a request over one costs its sender that request
// and nobody else anything, and memory is as before after all of them.
func TestLimits(t *testing.T) {
	begin(t)
	s := serve(t)
	s.ready()
	pid := s.process.Process.Pid
	rows := limits()
	var base int
	for round := range 3 { // buffers are made in the first
		for _, row := range rows {
			l, err := dial(s.address())
			if err != nil {
				t.Fatal(err)
			}
			r, err := l.tell(row.request)
			l.conn.Close()
			if err != nil || r.status != row.status || row.code != "" && !strings.Contains(r.problem, `"code":"`+row.code+`"`) {
				t.Errorf("%s: %d %v %.300s, want %d %s", row.name, r.status, err, r.problem, row.status, row.code)
			}
		}
		if now := resident(pid); round == 0 {
			base = now
		} else if round == 2 {
			t.Logf("%d limits three times over; %d MiB in memory after the first round, %d after the last", len(rows), base>>20, now>>20)
			if now > base*3/2 {
				t.Errorf("memory grew from %d to %d MiB", base>>20, now>>20)
			}
		}
	}
	if a, err := ask(http.MethodGet, s.address()+"/readyz", ""); err != nil || a.status != http.StatusOK {
		t.Errorf("afterwards: %d %v", a.status, err)
	}
}

// tell sends a request that may be refused before all of it was sent.
func (l *line) tell(request []byte) (reply, error) {
	began := time.Now()
	l.conn.SetDeadline(began.Add(60 * time.Second))
	go l.conn.Write(request)
	return l.receive(began)
}

// A line of a stream that is too long is a problem in its place, and the next is answered.
func TestLongLineOfAStream(t *testing.T) {
	begin(t)
	s := serve(t)
	s.ready()
	cut := questions()[4].body
	a, err := ask(http.MethodPost, s.address()+"/v1/estimates/batch", cut+strings.Repeat(" ", mostBody)+"\n"+cut+"\n", "Content-Type", "application/x-ndjson")
	if err != nil || a.status != http.StatusOK {
		t.Fatal(a.status, err)
	}
	answers := strings.Split(strings.TrimSpace(a.body), "\n")
	if len(answers) != 2 || !strings.Contains(answers[0], `"code":"body-too-large"`) || !strings.Contains(answers[1], `"verdict":`) {
		t.Errorf("%.500s", a.body)
	}
}
