//go:build faults

package faults

import (
	"errors"
	"io"
	"net"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
)

// slowly is a manner of being slow: what is sent at once, what then follows byte by byte, and
// when the service is to end it.
type slowly struct {
	name  string
	first []byte
	drip  byte // 0: the answer is read byte by byte instead
	by    time.Duration
}

// manners of slow clients, with the times of the service.
func manners() []slowly {
	long := posted("/v1/estimates/batch", `{"units":"metric","items":[`+strings.TrimSuffix(strings.Repeat("{},", 5_000), ",")+"]}")
	return []slowly{
		{"headers", []byte("POST /v1/estimates HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Slow: "), 'x', 5 * time.Second},
		{"bodies", []byte("POST /v1/estimates/batch HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\nContent-Length: 16000000\r\n\r\n" + `{"units":"metric","items":[`), ' ', 30 * time.Second},
		{"readers", []byte("GET /v1/materials?limit=500 HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n"), 0, 0},
		{"readers of 4 MB", long, 0, 0},
	}
}

// crowd is many slow clients. One that is dropped comes back at once.
type crowd struct {
	address string
	pause   time.Duration // between bytes
	stop    chan struct{}
	all     sync.WaitGroup

	mu     sync.Mutex
	came   map[string]int
	ended  map[string][]time.Duration // by the service: after how long
	failed map[string]int
}

// longReaders is how many read long answers slowly: more than the system keeps for them.
const longReaders = 10

// gather lets so many slow clients come, within a second or two.
func gather(t testing.TB, address string, many int, pause time.Duration) *crowd {
	c := &crowd{address: strings.TrimPrefix(address, "http://"), pause: pause, stop: make(chan struct{}), came: map[string]int{}, ended: map[string][]time.Duration{}, failed: map[string]int{}}
	kinds := manners()
	few := len(kinds) - 1
	for i := range many {
		m := kinds[i%few]
		if i%(many/longReaders) == 0 {
			m = kinds[few]
		}
		c.all.Go(func() {
			time.Sleep(time.Duration(i) * time.Second / time.Duration(many))
			for c.one(m) {
				time.Sleep(10 * time.Millisecond)
			}
		})
	}
	t.Cleanup(c.leave)
	return c
}

// leave ends all of them.
func (c *crowd) leave() {
	select {
	case <-c.stop:
	default:
		close(c.stop)
	}
	c.all.Wait()
}

// one is a slow client until the service ends it, or the crowd leaves: then it is false.
func (c *crowd) one(m slowly) bool {
	small := net.Dialer{Timeout: 5 * time.Second, Control: func(_, _ string, raw syscall.RawConn) error {
		return raw.Control(func(fd uintptr) { syscall.SetsockoptInt(int(fd), syscall.SOL_SOCKET, syscall.SO_RCVBUF, 4<<10) })
	}}
	conn, err := small.Dial("tcp", c.address)
	if err == nil {
		defer conn.Close()
		conn.SetDeadline(time.Now().Add(2 * time.Minute))
		_, err = conn.Write(m.first)
	}
	c.note(func() {
		if c.came[m.name]++; err != nil {
			c.failed[lastPart(err)]++
		}
	})
	began, one := time.Now(), []byte{m.drip}
	for err == nil {
		select {
		case <-c.stop:
			return false
		case <-time.After(c.pause):
		}
		if m.drip == 0 {
			_, err = io.ReadFull(conn, one)
			continue
		}
		if _, err = conn.Write(one); err == nil {
			err = hungUp(conn)
		}
	}
	c.note(func() { c.ended[m.name] = append(c.ended[m.name], time.Since(began)) })
	return true
}

func (c *crowd) note(what func()) {
	c.mu.Lock()
	defer c.mu.Unlock()
	what()
}

// hungUp reports the other side as gone, with an answer or without.
func hungUp(conn net.Conn) error {
	conn.SetReadDeadline(time.Now().Add(time.Millisecond))
	_, err := conn.Read(make([]byte, 1))
	if timeout := net.Error(nil); errors.As(err, &timeout) && timeout.Timeout() {
		return nil
	}
	return errors.New("the service ended it")
}
