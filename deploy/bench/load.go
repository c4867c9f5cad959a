package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"time"
)

// speed is what one measurement saw.
type speed struct {
	perSecond float64 // requests answered
	cpuMicros float64 // processor time of the server for one request
}

// load asks the same question over keep-alive connections for a length of time.
func (p *process) load(body string, connections int, length time.Duration) (speed, error) {
	cpu, err := p.cpu()
	if err != nil {
		return speed{}, err
	}
	began := time.Now()
	end := began.Add(length)
	n, err := p.ask(body, connections, func() bool { return time.Now().Before(end) })
	if err != nil {
		return speed{}, err
	}
	took := time.Since(began)
	after, err := p.cpu()
	return speed{float64(n) / took.Seconds(), float64((after - cpu).Nanoseconds()) / 1e3 / float64(n)}, err
}

// send asks the same question so many times.
func (p *process) send(body string, connections, requests int) error {
	var sent atomic.Int64
	_, err := p.ask(body, connections, func() bool { return sent.Add(1) <= int64(requests) })
	return err
}

// ask sends requests over every connection while more says so, and counts answers.
// It speaks HTTP by hand, since a client that does less leaves more of the machine to
// the servers, or by net/http, as most callers do. Any answer but 200 ends it.
func (p *process) ask(body string, connections int, more func() bool) (int64, error) {
	request := []byte(fmt.Sprintf("POST /v1/estimates HTTP/1.1\r\nHost: %s\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n%s", p.address, len(body), body))
	one := func() (int64, error) { return askByHand(p.address, request, more) }
	if p.library {
		one = func() (int64, error) { return askByLibrary("http://"+p.address+"/v1/estimates", body, more) }
	}
	var total atomic.Int64
	var group sync.WaitGroup
	faults := make(chan error, connections)
	for range connections {
		group.Go(func() {
			n, err := one()
			total.Add(n)
			faults <- err
		})
	}
	group.Wait()
	close(faults)
	var all error
	for err := range faults {
		all = errors.Join(all, err)
	}
	return total.Load(), all
}

func askByHand(address string, request []byte, more func() bool) (int64, error) {
	conn, err := net.Dial("tcp", address)
	if err != nil {
		return 0, err
	}
	defer conn.Close()
	answers := bufio.NewReaderSize(conn, 32<<10)
	var n int64
	for more() {
		if _, err := conn.Write(request); err != nil {
			return n, err
		}
		if err := readAnswer(answers); err != nil {
			return n, err
		}
		n++
	}
	return n, nil
}

func askByLibrary(url, body string, more func() bool) (int64, error) {
	client := &http.Client{Transport: &http.Transport{}}
	defer client.CloseIdleConnections()
	var n int64
	for more() {
		answer, err := client.Post(url, "application/json", strings.NewReader(body))
		if err != nil {
			return n, err
		}
		_, err = io.Copy(io.Discard, answer.Body)
		answer.Body.Close()
		if err != nil {
			return n, err
		}
		if answer.StatusCode != http.StatusOK {
			return n, errors.New(answer.Status)
		}
		n++
	}
	return n, nil
}

// readAnswer reads one answer with a Content-Length away.
func readAnswer(r *bufio.Reader) error {
	status, err := r.ReadSlice('\n')
	if err != nil {
		return err
	}
	if !strings.HasPrefix(string(status), "HTTP/1.1 200 ") {
		rest, _ := r.Peek(r.Buffered())
		return fmt.Errorf("%s%s", status, rest)
	}
	length := -1
	for {
		line, err := r.ReadSlice('\n')
		if err != nil {
			return err
		}
		if len(line) <= 2 {
			break
		}
		const name = "Content-Length: "
		if len(line) > len(name) && strings.EqualFold(string(line[:len(name)]), name) {
			if length, err = strconv.Atoi(strings.TrimSpace(string(line[len(name):]))); err != nil {
				return err
			}
		}
	}
	if length < 0 {
		return errors.New("an answer without Content-Length")
	}
	_, err = r.Discard(length)
	return err
}

// answerSize asks once and returns the size of the answer, which must be a 200.
func (p *process) answerSize(body string) (int, error) {
	answer, err := http.Post("http://"+p.address+"/v1/estimates", "application/json", strings.NewReader(body))
	if err != nil {
		return 0, err
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		return 0, err
	}
	if answer.StatusCode != http.StatusOK {
		return 0, fmt.Errorf("%s: %s", answer.Status, text)
	}
	return len(text), nil
}
