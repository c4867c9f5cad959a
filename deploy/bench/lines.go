package main

import (
	"bufio"
	"fmt"
	"io"
	"net/http"
	"time"
)

// measureLines sends spindle checks as lines of JSON and prints how fast they were answered
// and what the service held at most.
func measureLines(binary string, pairs int) error {
	p, err := startSwarf(binary)
	if err != nil {
		return err
	}
	defer p.stop()
	body, out := io.Pipe()
	go func() {
		w := bufio.NewWriterSize(out, 64<<10)
		for i := range pairs {
			fmt.Fprintf(w, `{"units":"metric","cut":{"ref":"%d","material":{"grade":"1.1191"},"operation":"drilling","tool":{"class":"drill-solid-carbide","cutting_diameter":%d.%02d},"engagement":{"hole_depth":25,"through":true},"parameters":{"cutting_speed":80,"feed_per_revolution":0.15}},"machine":"vmc-50"}`+"\n", i, 6+i%8, i%100)
		}
		out.CloseWithError(w.Flush())
	}()
	began := time.Now()
	answer, err := http.Post("http://"+p.address+"/v1/spindle-checks/batch", "application/x-ndjson", body)
	if err != nil {
		return err
	}
	defer answer.Body.Close()
	lines := 0
	text := bufio.NewReaderSize(answer.Body, 64<<10)
	for {
		part, err := text.ReadSlice('\n')
		if len(part) > 0 && part[len(part)-1] == '\n' {
			lines++
		}
		if err == io.EOF {
			break
		}
		if err != nil && err != bufio.ErrBufferFull {
			return err
		}
	}
	took := time.Since(began)
	held, err := p.memory()
	if err != nil {
		return err
	}
	if lines != pairs {
		return fmt.Errorf("%d lines for %d pairs", lines, pairs)
	}
	fmt.Printf("\n%d spindle checks as lines of JSON: %.0f a second, %.1f MB resident at most\n", pairs, float64(pairs)/took.Seconds(), held.most)
	return nil
}
