package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"strings"
	"time"

	"swarf/api/wire"
)

const checkedPairs = 10_000

// aDrilling is one cut, its diameter another each time.
func aDrilling(w *strings.Builder, i int) {
	fmt.Fprintf(w, `{"ref":"op-%d","material":{"grade":"1.1191"},"operation":"drilling","tool":{"class":"drill-solid-carbide","cutting_diameter":%d.%02d},"engagement":{"hole_depth":25,"through":true},"parameters":{"cutting_speed":80,"feed_per_revolution":0.15}}`, i, 6+i%8, i%100)
}

// crossedBody asks for 100 cuts on 100 machines.
func crossedBody() string {
	var b strings.Builder
	b.WriteString(`{"units":"metric","cuts":[`)
	for i := range 100 {
		if i > 0 {
			b.WriteByte(',')
		}
		aDrilling(&b, i)
	}
	b.WriteString(`],"machines":[` + strings.Repeat(`"vmc-40","vmc-50","hmc-63",`, 33) + `"vmc-50"]}`)
	return b.String()
}

// distinctBody asks for 10,000 cuts on a machine each, in a batch.
func distinctBody() string {
	var b strings.Builder
	b.WriteString(`{"units":"metric","items":[`)
	for i := range checkedPairs {
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString(`{"cut":`)
		aDrilling(&b, i)
		b.WriteString(`,"machine":"vmc-50"}`)
	}
	return b.String() + `]}`
}

// measureBatches prints how fast 10,000 pairs are answered in one request, and what that
// costs against reading the same body and writing the same answer with encoding/json.
func measureBatches(binary string, rounds int) error {
	swarf, err := startSwarf(binary)
	if err != nil {
		return err
	}
	defer swarf.stop()
	fmt.Printf("\n%d spindle checks in one request over HTTP, one caller, %d rounds in turn with encoding/json alone\n", checkedPairs, rounds)
	for _, c := range []struct{ name, path, body string }{
		{"100 cuts on 100 machines", "/v1/spindle-checks", crossedBody()},
		{"10,000 distinct cuts", "/v1/spindle-checks/batch", distinctBody()},
	} {
		answer, _, err := swarf.post(c.path, c.body)
		if err != nil {
			return err
		}
		codec, err := startCodec(answer)
		if err != nil {
			return err
		}
		var ours, theirs, ratios []float64
		for i := range rounds + 1 {
			_, a, err := swarf.post(c.path, c.body)
			if err == nil {
				var b time.Duration
				if _, b, err = codec.post(c.path, c.body); err == nil && i > 0 {
					ours, theirs, ratios = append(ours, a.Seconds()), append(theirs, b.Seconds()), append(ratios, a.Seconds()/b.Seconds())
				}
			}
			if err != nil {
				codec.stop()
				return err
			}
		}
		codec.stop()
		fmt.Printf("%-26s %9.0f pairs/s, %6.1f ms; encoding/json alone %6.1f ms; cost %.2f of it (%d kB in, %d kB out)\n", c.name, checkedPairs/median(ours), 1000*median(ours), 1000*median(theirs), median(ratios), len(c.body)/1000, len(answer)/1000)
	}
	return nil
}

// post asks once and returns the answer, which must be a 200, and how long it took.
func (p *process) post(path, body string) (text []byte, took time.Duration, err error) {
	began := time.Now()
	answer, err := http.Post("http://"+p.address+path, "application/json", strings.NewReader(body))
	if err != nil {
		return nil, 0, err
	}
	defer answer.Body.Close()
	text, err = io.ReadAll(answer.Body)
	if err == nil && answer.StatusCode != http.StatusOK {
		err = fmt.Errorf("%s: %.500s", answer.Status, text)
	}
	return text, time.Since(began), err
}

// startCodec starts a server that only reads requests and writes this answer.
func startCodec(answer []byte) (*process, error) {
	self, err := os.Executable()
	if err != nil {
		return nil, err
	}
	file, err := os.CreateTemp("", "swarf-bench-answer")
	if err != nil {
		return nil, err
	}
	defer os.Remove(file.Name())
	if _, err := file.Write(answer); err != nil {
		return nil, err
	}
	if err := file.Close(); err != nil {
		return nil, err
	}
	return start(self, "-codec", file.Name())
}

type checkBatch struct {
	Units string              `json:"units"`
	Items []wire.SpindleCheck `json:"items"`
}

type resultBatch struct {
	Units        string               `json:"units"`
	UnitOf       map[string]string    `json:"unit_of"`
	DataRevision int64                `json:"data_revision"`
	ModelVersion string               `json:"model_version"`
	Counts       map[string]int       `json:"counts"`
	Items        []wire.SpindleResult `json:"items"`
}

// serveCodec reads requests into the types of the wire and writes one answer out of them,
// with encoding/json both, and computes nothing.
func serveCodec(file string) error {
	text, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	var crossed struct {
		UnitOf map[string]string `json:"unit_of"`
		wire.SpindleResults
	}
	var distinct resultBatch
	if bytes.Contains(text[:min(len(text), 500)], []byte(`"counts"`)) {
		err = json.Unmarshal(text, &distinct)
	} else {
		err = json.Unmarshal(text, &crossed)
	}
	if err != nil {
		return err
	}
	mux := http.NewServeMux()
	mux.HandleFunc("GET /readyz", func(http.ResponseWriter, *http.Request) {})
	handle := func(path string, request, answer any) {
		mux.HandleFunc("POST "+path, func(w http.ResponseWriter, r *http.Request) {
			body, err := io.ReadAll(r.Body)
			if err == nil {
				err = json.Unmarshal(body, request)
			}
			if err != nil {
				http.Error(w, err.Error(), http.StatusBadRequest)
				return
			}
			w.Header().Set("Content-Type", "application/json")
			out, err := json.Marshal(answer)
			if err != nil {
				http.Error(w, err.Error(), http.StatusInternalServerError)
				return
			}
			w.Write(out)
		})
	}
	handle("/v1/spindle-checks", new(wire.SpindleCheck), &crossed)
	handle("/v1/spindle-checks/batch", new(checkBatch), &distinct)
	return serveUntilTold(mux)
}
