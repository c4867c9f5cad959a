package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"golang.org/x/net/websocket"
)

// browser is a headless Chromium and the one page in it, spoken to by its debugging
// protocol (JSON messages over a WebSocket; https://chromedevtools.github.io/devtools-protocol).
type browser struct {
	cmd     *exec.Cmd
	profile string
	conn    *websocket.Conn
	id      int
	onEvent func(method string, params json.RawMessage)
}

// launch starts the browser with an empty profile and nothing reachable but the
// loopback address, and connects to its page.
func launch(ctx context.Context, program string) (*browser, error) {
	profile, err := os.MkdirTemp("", "browser")
	if err != nil {
		return nil, err
	}
	b := &browser{profile: profile, onEvent: func(string, json.RawMessage) {}}
	b.cmd = exec.CommandContext(ctx, program,
		"--headless=new", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-quic",
		"--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-extensions",
		"--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
		"--remote-debugging-port=0", "--remote-allow-origins=*", "--user-data-dir="+profile, "about:blank")
	b.cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true} // its children end with it
	if err := b.cmd.Start(); err != nil {
		os.RemoveAll(profile)
		return nil, err
	}
	if err := b.connect(ctx); err != nil {
		b.close()
		return nil, err
	}
	return b, nil
}

// connect waits for the port that the browser writes into its profile, and opens the
// page's socket.
func (b *browser) connect(ctx context.Context) error {
	var port string
	for port == "" {
		text, _ := os.ReadFile(filepath.Join(b.profile, "DevToolsActivePort"))
		port, _, _ = strings.Cut(string(text), "\n")
		if ctx.Err() != nil {
			return fmt.Errorf("the browser opened no debugging port: %w", ctx.Err())
		}
		time.Sleep(50 * time.Millisecond)
	}
	answer, err := http.Get("http://127.0.0.1:" + port + "/json/list")
	if err != nil {
		return err
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil {
		return err
	}
	var targets []struct {
		Type   string
		Socket string `json:"webSocketDebuggerUrl"`
	}
	if err := json.Unmarshal(text, &targets); err != nil {
		return err
	}
	for _, t := range targets {
		if t.Type == "page" {
			b.conn, err = websocket.Dial(t.Socket, "", "http://127.0.0.1")
			return err
		}
	}
	return fmt.Errorf("the browser has no page: %s", text)
}

// call asks the page for something and waits for its answer; events that come before
// it go to onEvent.
func (b *browser) call(method string, params map[string]any) (json.RawMessage, error) {
	b.id++
	if err := websocket.JSON.Send(b.conn, map[string]any{"id": b.id, "method": method, "params": params}); err != nil {
		return nil, err
	}
	for {
		var m struct {
			ID     int
			Method string
			Params json.RawMessage
			Result json.RawMessage
			Error  *struct{ Message string }
		}
		if err := websocket.JSON.Receive(b.conn, &m); err != nil {
			return nil, fmt.Errorf("%s: %w", method, err)
		}
		switch {
		case m.Method != "":
			b.onEvent(m.Method, m.Params)
		case m.ID == b.id && m.Error != nil:
			return nil, fmt.Errorf("%s: %s", method, m.Error.Message)
		case m.ID == b.id:
			return m.Result, nil
		}
	}
}

// evaluate runs an expression in the page and returns its value as JSON.
func (b *browser) evaluate(expression string) (string, error) {
	answer, err := b.call("Runtime.evaluate", map[string]any{"expression": expression, "returnByValue": true})
	if err != nil {
		return "", err
	}
	var r struct {
		Result struct{ Value json.RawMessage }
	}
	err = json.Unmarshal(answer, &r)
	return string(r.Result.Value), err
}

// close ends the browser with all its processes and removes its profile.
func (b *browser) close() {
	if b.conn != nil {
		b.conn.Close()
	}
	syscall.Kill(-b.cmd.Process.Pid, syscall.SIGKILL)
	b.cmd.Wait()
	for range 20 {
		if os.RemoveAll(b.profile) == nil {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
}
