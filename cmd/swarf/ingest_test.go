package main

import (
	"fmt"
	"io"
	"net/http"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"swarf/db/dbtest"
)

// batchOfLoads is a batch of load readings, as a cell sends them.
func batchOfLoads(n int) string {
	var b strings.Builder
	b.WriteString(`{"units":"metric","items":[`)
	for i := range n {
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, `{"kind":"load","lot":"H%d","cut":{"material":{"grade":"1.4301","condition":"annealed"},"operation":"turning","tool":{"class":"turning-external","corner_radius":0.8},"engagement":{"work_diameter":60,"depth_of_cut":2},"parameters":{"cutting_speed":140,"feed_per_revolution":0.%d},"machine":"lathe-315"},"load":{"power":%.2f,"minutes_in_cut":3}}`,
			i%7, 20+i%10, 5.5+float64(i%100)/100)
	}
	b.WriteString(`]}`)
	return b.String()
}

// BenchmarkIngest is how many observations a second go into PostgreSQL by way of HTTP, and
// what that does to those who ask for estimates meanwhile: the 99th percentile of their
// answers over that without, both by the same client at a steady 200 a second.
func BenchmarkIngest(b *testing.B) {
	service := startService(b, "DATABASE_URL="+loaded(b, dbtest.URL(b)))
	eventually(b, "the data is there", func() bool { status, _ := get(b, service.address+"/readyz"); return status == http.StatusOK })
	const perBatch, rate = 5_000, 1_000_000
	batch := batchOfLoads(perBatch)
	send := func() {
		status, _, body := call(b, http.MethodPost, service.address+"/v1/observations/batch", batch, "From", "cell 4")
		if status != http.StatusOK || !strings.Contains(body, fmt.Sprintf(`"accepted":%d`, perBatch)) {
			b.Fatalf("%d %.600s", status, body)
		}
	}
	send()
	calm := estimateTimes(b, service.address, 5*time.Second)
	b.ResetTimer()
	stop := make(chan struct{})
	var under []time.Duration
	var asking sync.WaitGroup
	asking.Go(func() {
		under = estimateTimes(b, service.address, 5*time.Second)
		close(stop)
	})
	sent, began := 0, time.Now()
	for running := true; running || sent < b.N*perBatch; {
		send()
		sent += perBatch
		time.Sleep(time.Until(began.Add(time.Duration(sent) * time.Second / rate)))
		select {
		case <-stop:
			running = false
		default:
		}
	}
	took := time.Since(began)
	asking.Wait()
	b.ReportMetric(float64(sent)/took.Seconds(), "observations/s")
	b.ReportMetric(percentile(calm, 0.99).Seconds()*1000, "ms-p99-calm")
	b.ReportMetric(percentile(under, 0.99).Seconds()*1000, "ms-p99-under-ingest")
	b.ReportMetric(percentile(under, 0.5).Seconds()/percentile(calm, 0.5).Seconds(), "ratio-of-medians")
	b.ReportMetric(percentile(under, 0.99).Seconds()/percentile(calm, 0.99).Seconds(), "ratio-of-p99")
}

// estimateTimes asks for estimates at a steady pace and returns how long each took from
// the moment it was due, so that one that waits makes those behind it late too.
func estimateTimes(t testing.TB, address string, length time.Duration) []time.Duration {
	const body = `{"units":"metric","material":{"grade":"1.4301"},"operation":"drilling","tool":{"class":"drill-indexable","cutting_diameter":30},"engagement":{"hole_depth":60,"through":true},"parameters":{"cutting_speed":120,"feed_per_revolution":0.1},"machine":"vmc-50"}`
	const pace = 5 * time.Millisecond
	var times []time.Duration
	for due, end := time.Now(), time.Now().Add(length); due.Before(end); due = due.Add(pace) {
		time.Sleep(time.Until(due))
		answer, err := http.Post(address+"/v1/estimates", "application/json", strings.NewReader(body))
		if err != nil {
			t.Error(err)
			return times
		}
		io.Copy(io.Discard, answer.Body)
		answer.Body.Close()
		if answer.StatusCode != http.StatusOK {
			t.Error(answer.Status)
		}
		times = append(times, time.Since(due))
	}
	return times
}

func percentile(times []time.Duration, share float64) time.Duration {
	sorted := slices.Sorted(slices.Values(times))
	return sorted[min(len(sorted)-1, int(share*float64(len(sorted))))]
}
