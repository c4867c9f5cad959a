//go:build faults

package faults

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"
)

// binary builds the program once for all tests; built is the directory it lies in.
var (
	built  string
	binary = sync.OnceValues(func() (string, error) {
		var err error
		if built, err = os.MkdirTemp("", "swarf-faults-"); err != nil {
			return "", err
		}
		path := filepath.Join(built, "swarf")
		command := exec.Command("go", "build", "-o", path, "swarf/cmd/swarf")
		if text, err := command.CombinedOutput(); err != nil {
			return "", fmt.Errorf("%w: %s", err, text)
		}
		return path, nil
	})
)

// service is a running `swarf serve`, which can be killed and started again.
type service struct {
	t       testing.TB
	environ []string
	at      atomic.Value // its address, http://host:port
	private string       // that of its private port
	process *exec.Cmd
	log     log
}

// log is what a process wrote.
type log struct {
	mu   sync.Mutex
	text strings.Builder
}

func (l *log) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.Write(p)
}

func (l *log) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.text.String()
}

func (l *log) clear() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.text.Reset()
}

// program runs a command of swarf to its end and returns what it wrote.
func program(t testing.TB, database string, args ...string) string {
	t.Helper()
	path, err := binary()
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	command := exec.CommandContext(ctx, path, args...)
	command.Env = []string{"DATABASE_URL=" + database, "HOME=" + os.TempDir()}
	text, err := command.CombinedOutput()
	if err != nil {
		t.Fatalf("swarf %s: %v: %s", strings.Join(args, " "), err, text)
	}
	return string(text)
}

// serve starts the service on free loopback ports and waits until it prints where.
func serve(t testing.TB, environ ...string) *service {
	t.Helper()
	s := &service{t: t, environ: append([]string{"SWARF_LISTEN=127.0.0.1:0", "SWARF_PRIVATE_LISTEN=127.0.0.1:0", "SWARF_SHUTDOWN_WAIT=0s", "SWARF_LOG_LEVEL=WARN", "HOME=" + os.TempDir()}, environ...)}
	t.Cleanup(func() {
		s.kill()
		if t.Failed() {
			t.Logf("the last lines of the service:\n%s", last(s.log.String(), 4_000))
		}
	})
	s.start()
	return s
}

var printed = regexp.MustCompile(`(?m)(http://127\.0\.0\.1:\d+)\. To try it|for those who run it, on (127\.0\.0\.1:\d+)`)

func (s *service) start() {
	s.t.Helper()
	path, err := binary()
	if err != nil {
		s.t.Fatal(err)
	}
	s.process = exec.Command(path, "serve")
	s.process.Env = s.environ
	s.process.Stderr = &s.log
	s.process.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGKILL}
	out, err := s.process.StdoutPipe()
	if err != nil {
		s.t.Fatal(err)
	}
	if err := s.process.Start(); err != nil {
		s.t.Fatal(err)
	}
	found := make(chan [2]string, 1)
	go func() {
		var at [2]string
		lines := bufio.NewScanner(out)
		for lines.Scan() {
			if m := printed.FindStringSubmatch(lines.Text()); m != nil {
				at[0], at[1] = at[0]+m[1], at[1]+m[2]
			}
			if at[0] != "" && at[1] != "" {
				select {
				case found <- at:
				default:
				}
			}
		}
		close(found)
	}()
	select {
	case at := <-found:
		if at[0] == "" {
			s.process.Wait()
			s.t.Fatalf("swarf serve ended:\n%s", last(s.log.String(), 4_000))
		}
		s.at.Store(at[0])
		s.private = "http://" + at[1]
	case <-time.After(60 * time.Second):
		s.t.Fatal("swarf serve does not say where it is")
	}
}

// kill ends the service with SIGKILL, if it runs.
func (s *service) kill() {
	if s.process != nil && s.process.ProcessState == nil {
		s.process.Process.Kill()
		s.process.Wait()
	}
}

// term ends the service in order, with SIGTERM.
func (s *service) term() {
	s.t.Helper()
	if err := s.process.Process.Signal(syscall.SIGTERM); err != nil {
		s.t.Fatal(err)
	}
	if err := s.process.Wait(); err != nil {
		s.t.Fatalf("swarf serve does not end in order: %v", err)
	}
}

func (s *service) address() string { return s.at.Load().(string) }

// ready waits until the service has data, and reports how long it took.
func (s *service) ready() time.Duration {
	s.t.Helper()
	return eventually(s.t, "the service is ready", func() bool {
		a, err := ask(http.MethodGet, s.address()+"/readyz", "")
		return err == nil && a.status == http.StatusOK
	})
}

// answer is what a request got.
type answer struct {
	status int
	header http.Header
	body   string
	took   time.Duration
}

// client is that of single requests; connections are not kept, for services come and go.
var client = &http.Client{Timeout: 20 * time.Second, Transport: &http.Transport{DisableKeepAlives: true}}

// ask sends a request with headers as name, value …
func ask(method, url, body string, headers ...string) (answer, error) {
	request, err := http.NewRequest(method, url, strings.NewReader(body))
	if err != nil {
		return answer{}, err
	}
	if body != "" {
		request.Header.Set("Content-Type", "application/json")
	}
	for i := 0; i < len(headers); i += 2 {
		request.Header.Set(headers[i], headers[i+1])
	}
	began := time.Now()
	got, err := client.Do(request)
	if err != nil {
		return answer{}, err
	}
	defer got.Body.Close()
	text, err := io.ReadAll(got.Body)
	return answer{got.StatusCode, got.Header, string(text), time.Since(began)}, err
}

// patience is how long eventually waits at most: machines of a test may be slow.
const patience = time.Minute

// eventually waits until something holds, and reports how long it took.
func eventually(t testing.TB, what string, holds func() bool) time.Duration {
	t.Helper()
	return within(t, patience, what, holds)
}

// within is eventually with a patience of its own.
func within(t testing.TB, most time.Duration, what string, holds func() bool) time.Duration {
	t.Helper()
	began := time.Now()
	for !holds() {
		if time.Since(began) > most {
			t.Fatalf("in vain for %v: %s", most, what)
		}
		time.Sleep(20 * time.Millisecond)
	}
	return time.Since(began)
}

// last is the end of a text.
func last(text string, n int) string { return text[max(0, len(text)-n):] }

// clean removes what binary built.
func clean() error {
	if built == "" {
		return nil
	}
	return os.RemoveAll(built)
}
