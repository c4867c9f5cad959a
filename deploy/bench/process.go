package main

import (
	"bufio"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// process is a server under measurement, on a loopback port of its own choice.
type process struct {
	cmd     *exec.Cmd
	address string        // host:port
	ready   time.Duration // from its start to the first 200 of /readyz
	library bool          // ask it by net/http instead of by hand
}

func startSwarf(binary string) (*process, error) { return start(binary, "serve") }

var addressLine = regexp.MustCompile(`http://(127\.0\.0\.1:\d+)`)

// start starts a program that prints its address and waits until it is ready.
func start(program string, args ...string) (*process, error) {
	p := &process{cmd: exec.Command(program, args...)}
	p.cmd.Env = []string{"SWARF_LISTEN=127.0.0.1:0", "SWARF_SHUTDOWN_WAIT=0s"}
	p.cmd.SysProcAttr = &syscall.SysProcAttr{Pdeathsig: syscall.SIGTERM}
	out, err := p.cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	began := time.Now()
	if err := p.cmd.Start(); err != nil {
		return nil, err
	}
	lines := bufio.NewScanner(out)
	for p.address == "" && lines.Scan() {
		if m := addressLine.FindStringSubmatch(lines.Text()); m != nil {
			p.address = m[1]
		}
	}
	go func() { // what else it prints is read away
		for lines.Scan() {
		}
	}()
	for time.Since(began) < 10*time.Second && p.address != "" {
		answer, err := http.Get("http://" + p.address + "/readyz")
		if err == nil {
			answer.Body.Close()
			if answer.StatusCode == http.StatusOK {
				p.ready = time.Since(began)
				return p, nil
			}
		}
		time.Sleep(time.Millisecond)
	}
	p.stop()
	return nil, fmt.Errorf("%s %s was not ready within 10 s", program, strings.Join(args, " "))
}

func (p *process) stop() {
	p.cmd.Process.Signal(syscall.SIGTERM)
	p.cmd.Wait()
}

// memory is what a process holds, in MB of 1,000,000 bytes.
type memory struct{ resident, most float64 }

// memory reads what the kernel says of the process.
func (p *process) memory() (memory, error) {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", p.cmd.Process.Pid))
	if err != nil {
		return memory{}, err
	}
	mb := func(key string) float64 {
		m := regexp.MustCompile(`(?m)^` + key + `:\s+(\d+) kB`).FindSubmatch(text)
		if m == nil {
			return 0
		}
		kib, _ := strconv.ParseFloat(string(m[1]), 64)
		return kib * 1024 / 1e6
	}
	return memory{mb("VmRSS"), mb("VmHWM")}, nil
}

// cpu is the processor time the process has used: fields 14 and 15 of proc's stat,
// in hundredths of a second.
func (p *process) cpu() (time.Duration, error) {
	text, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", p.cmd.Process.Pid))
	if err != nil {
		return 0, err
	}
	fields := strings.Fields(string(text[strings.LastIndexByte(string(text), ')')+1:]))
	user, err := strconv.ParseInt(fields[11], 10, 64)
	if err != nil {
		return 0, err
	}
	system, err := strconv.ParseInt(fields[12], 10, 64)
	return time.Duration(user+system) * 10 * time.Millisecond, err
}
