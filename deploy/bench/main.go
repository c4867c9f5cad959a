// Command bench measures a running swarf and prints what it saw: requests per second
// of POST /v1/estimates against a bare Echo handler, in turn, so that both see the
// same machine; the time from start to ready; and the memory held after many
// requests. deploy/bench/run builds and starts it. It reports and judges nothing:
// numbers of a shared machine make no test.
package main

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"time"
)

func main() {
	binary := flag.String("swarf", "", "path of the swarf binary")
	rounds := flag.Int("rounds", 7, "rounds of each pair")
	length := flag.Duration("length", time.Second, "length of one measurement")
	connections := flag.Int("connections", 16, "keep-alive connections")
	lines := flag.Int("lines", 1_000_000, "spindle checks that are sent as lines of JSON")
	bare := flag.Int("bare", -1, "only serve the bare handler, with answers of so many bytes")
	codec := flag.String("codec", "", "only serve a reader and writer of the answer in this file")
	database := flag.String("database", "", "only serve answers from this database, a query for each request")
	address := flag.String("postgres", "", "database in which to measure what an SQL function would do; none: not measured")
	flag.Parse()
	var err error
	switch {
	case *bare >= 0:
		err = serveBare(*bare)
	case *codec != "":
		err = serveCodec(*codec)
	case *database != "":
		err = serveQueries(*database)
	default:
		if err = measure(*binary, *rounds, *connections, *length); err == nil {
			err = measureBatches(*binary, *rounds)
		}
		if err == nil && *address != "" {
			err = measureDatabase(*binary, *address, *rounds, *connections, *length)
		}
		if err == nil {
			err = measureLines(*binary, *lines)
		}
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

func measure(binary string, rounds, connections int, length time.Duration) error {
	if err := measureStart(binary, rounds); err != nil {
		return err
	}
	if err := measureMemory(binary, connections); err != nil {
		return err
	}
	for _, library := range []bool{false, true} {
		client := "a client by hand, lighter than any real one"
		if library {
			client = "the client of net/http"
		}
		fmt.Printf("\nPOST /v1/estimates by %s, %d connections, %d rounds of %v each, in turn with a bare Echo handler\n", client, connections, rounds, length)
		fmt.Printf("%-14s %12s %12s %8s %16s %8s\n", "cut", "swarf req/s", "bare req/s", "ratio", "CPU µs/req", "answer")
		for _, q := range questions {
			if err := measureRatio(binary, q, library, rounds, connections, length); err != nil {
				return fmt.Errorf("%s: %w", q.name, err)
			}
		}
	}
	return nil
}

// measureRatio loads swarf and the bare handler in turn and prints the medians.
func measureRatio(binary string, c question, library bool, rounds, connections int, length time.Duration) error {
	swarf, err := startSwarf(binary)
	if err != nil {
		return err
	}
	defer swarf.stop()
	size, err := swarf.answerSize(c.body)
	if err != nil {
		return err
	}
	self, err := os.Executable()
	if err != nil {
		return err
	}
	bare, err := start(self, "-bare", fmt.Sprint(size))
	if err != nil {
		return err
	}
	defer bare.stop()
	swarf.library, bare.library = library, library
	var ours, theirs, ratios, ourCPU, theirCPU []float64
	for i := range rounds + 1 {
		a, err := swarf.load(c.body, connections, length)
		if err != nil {
			return err
		}
		b, err := bare.load(c.body, connections, length)
		if err != nil {
			return err
		}
		if i == 0 {
			continue // both warm up
		}
		ours, theirs, ratios = append(ours, a.perSecond), append(theirs, b.perSecond), append(ratios, a.perSecond/b.perSecond)
		ourCPU, theirCPU = append(ourCPU, a.cpuMicros), append(theirCPU, b.cpuMicros)
	}
	fmt.Printf("%-14s %12.0f %12.0f %8.2f %7.1f vs %5.1f %6d B   ratios %.2f to %.2f\n", c.name, median(ours), median(theirs), median(ratios),
		median(ourCPU), median(theirCPU), size, slices.Min(ratios), slices.Max(ratios))
	return nil
}

// measureStart prints the time from starting the program to its first "ready".
func measureStart(binary string, rounds int) error {
	var times []float64
	for range rounds {
		p, err := startSwarf(binary)
		if err != nil {
			return err
		}
		times = append(times, p.ready.Seconds()*1000)
		p.stop()
	}
	fmt.Printf("start to ready, embedded data: median %.0f ms, longest %.0f ms of %d starts\n", median(times), slices.Max(times), rounds)
	return nil
}

// measureMemory prints the memory that a fresh process holds after many requests.
func measureMemory(binary string, connections int) error {
	const requests = 10_000
	p, err := startSwarf(binary)
	if err != nil {
		return err
	}
	defer p.stop()
	before, err := p.memory()
	if err != nil {
		return err
	}
	sent := 0
	for _, c := range questions {
		n := requests/len(questions) + 1
		if err := p.send(c.body, connections, n); err != nil {
			return err
		}
		sent += n
	}
	after, err := p.memory()
	if err != nil {
		return err
	}
	fmt.Printf("resident memory: %.1f MB when ready, %.1f MB after %d requests, %.1f MB at most\n", before.resident, after.resident, sent, after.most)
	return nil
}

func median(values []float64) float64 {
	sorted := slices.Sorted(slices.Values(values))
	n := len(sorted)
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}
