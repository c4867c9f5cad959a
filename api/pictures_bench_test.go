package api_test

import (
	"net/http"
	"syscall"
	"testing"
	"time"
)

// processorTime is what this process used of its processors, which others on the machine
// do not lengthen as they do the time of the clock.
func processorTime(b *testing.B) time.Duration {
	var used syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &used); err != nil {
		b.Fatal(err)
	}
	return time.Duration(used.Utime.Nano() + used.Stime.Nano())
}

// Each is to take up to 50 ms of one processor as PNG and 25 ms as SVG.
func BenchmarkPictures(b *testing.B) {
	h := embeddedService(b)
	for _, p := range pictures[:4] {
		for _, format := range []string{"svg", "png"} {
			b.Run(p.name+"/"+format, func(b *testing.B) {
				before := processorTime(b)
				for b.Loop() {
					r, _ := http.NewRequest("GET", p.target+"&format="+format, nil)
					w := &discard{header: http.Header{}}
					h.ServeHTTP(w, r)
					if w.status != http.StatusOK {
						b.Fatal(w.status)
					}
				}
				b.ReportMetric((processorTime(b)-before).Seconds()*1000/float64(b.N), "cpu-ms/op")
			})
		}
	}
}
