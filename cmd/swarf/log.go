package main

import (
	"context"
	"io"
	"log/slog"
	"sync"
	"time"
)

// newLog writes one line per record. Lines of requests are held for a moment and
// written together, since a write per request costs as much as the computation;
// whatever is a warning or worse goes out at once, with all that came before it.
// The function it returns writes out what is held.
func newLog(out io.Writer, level slog.Level) (*slog.Logger, func()) {
	held := &holder{out: out}
	handler := slog.NewTextHandler(held, &slog.HandlerOptions{Level: level})
	return slog.New(urgent{handler, held}), held.flush
}

// holdFor bounds how late a line may be, and holdMost what may be lost with the
// process when it is killed.
const (
	holdFor  = 100 * time.Millisecond
	holdMost = 32 << 10
)

// holder collects lines.
type holder struct {
	mu    sync.Mutex
	out   io.Writer
	lines []byte
	armed bool // a flush is due
}

// Write holds a line.
func (h *holder) Write(line []byte) (int, error) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.lines = append(h.lines, line...)
	switch {
	case len(h.lines) >= holdMost:
		h.release()
	case !h.armed:
		h.armed = true
		time.AfterFunc(holdFor, h.flush)
	}
	return len(line), nil
}

func (h *holder) flush() {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.armed = false
	h.release()
}

func (h *holder) release() {
	if len(h.lines) > 0 {
		h.out.Write(h.lines) // a log that cannot be written has nobody to tell
		h.lines = h.lines[:0]
	}
}

// urgent writes out at once what must not be lost.
type urgent struct {
	slog.Handler
	held *holder
}

func (u urgent) Handle(ctx context.Context, r slog.Record) error {
	err := u.Handler.Handle(ctx, r)
	if r.Level >= slog.LevelWarn {
		u.held.flush()
	}
	return err
}

func (u urgent) WithAttrs(attrs []slog.Attr) slog.Handler {
	return urgent{u.Handler.WithAttrs(attrs), u.held}
}

func (u urgent) WithGroup(name string) slog.Handler {
	return urgent{u.Handler.WithGroup(name), u.held}
}
