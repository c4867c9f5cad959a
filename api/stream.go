package api

import (
	"bufio"
	"errors"
	"io"
	"iter"
	"net/http"
	"strconv"
	"strings"
	"time"

	"swarf/api/gate"
	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/unit"
)

// Bounds of a stream: what is held at a time, and how long a chunk of it may take to come
// and go.
const (
	chunkItems = 256
	chunkBytes = 1 << 20 // and the item that goes beyond
	chunkTime  = 60 * time.Second
)

// streamLines computes lines of JSON, one item each in units of its own or those of the
// query, and answers each with a line: an answer that stands by itself, or a problem.
// However many come, only a chunk of them is held.
func streamLines[Item any](x *exchange, compute computeFunc[Item], opt *ComputeOptions) error {
	if text := x.query.text("format"); text != "" && x.format != formatLines {
		return notAcceptable("format", text, []format{formatLines})
	}
	if len(opt.Faults.List) > 0 {
		return opt.Faults.List
	}
	if _, err := x.now(); err != nil {
		return err
	}
	// Answers go out while lines come in.
	_ = http.NewResponseController(x.Response()).EnableFullDuplex()
	return stream(x, compute, lines[Item](x), opt)
}

// lines reads the items of a body line by line. Empty lines are passed over; one that is
// too long is an item that cannot be read.
func lines[Item any](x *exchange) iter.Seq2[task[Item], error] {
	units := x.query.text("units")
	return func(yield func(task[Item], error) bool) {
		in := bufio.NewReaderSize(x.counted(x.Request().Body), 64<<10)
		for number := 1; ; number++ {
			line, long, err := readLine(in, int(x.s.Limits.BodyBytes))
			if errors.Is(err, gate.ErrFull) {
				yield(task[Item]{}, overloaded())
				return
			}
			if err != nil && !errors.Is(err, io.EOF) {
				yield(task[Item]{}, fault(domain.Unreadable, "json-invalid", "", "the body broke off in line "+strconv.Itoa(number), "send the rest again"))
				return
			}
			switch {
			case long:
				bad := tooLong[Item](number, x.s.Limits.BodyBytes)
				if !yield(bad, nil) {
					return
				}
			case strings.TrimSpace(line) != "":
				if err := x.pace(x.Request().Context(), 1); err != nil {
					yield(task[Item]{}, err)
					return
				}
				if !yield(rawTask[Item](wire.Raw(line), units), nil) {
					return
				}
			}
			if err != nil {
				return
			}
		}
	}
}

// readLine reads to the end of a line, at most so many bytes of it: what is beyond is read
// away, and the line is long.
func readLine(in *bufio.Reader, most int) (line string, long bool, err error) {
	var all []byte
	for {
		part, err := in.ReadSlice('\n')
		if !long {
			if all = append(all, part...); len(all) > most {
				all, long = nil, true
			}
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return string(all), long, err
		}
	}
}

func tooLong[Item any](number int, limit int64) task[Item] {
	e := fault(domain.Invalid, "body-too-large", "", "line "+strconv.Itoa(number)+" is over "+strconv.FormatInt(limit, 10)+" bytes", "send an item in at most "+strconv.FormatInt(limit, 10)+" bytes")
	return task[Item]{read: func(*Item) decoded { return decoded{faults: domain.Errors{e}} }, ref: func() string { return "" }}
}

// each1 yields a list as a stream that does not fail.
func each1[T any](list []T) iter.Seq2[T, error] {
	return func(yield func(T, error) bool) {
		for _, one := range list {
			if !yield(one, nil) {
				return
			}
		}
	}
}

// stream answers items chunk by chunk, each with a line in its place.
func stream[Item any](x *exchange, compute computeFunc[Item], tasks iter.Seq2[task[Item], error], opt *ComputeOptions) error {
	s := streaming[Item]{x: x, compute: compute, opt: opt}
	w := x.Response()
	w.Header().Set("Content-Type", formatLines.contentType())
	w.WriteHeader(http.StatusOK)
	x.takeTime(chunkTime)
	for t, err := range tasks {
		if err != nil {
			s.chunk = append(s.chunk, task[Item]{read: func(*Item) decoded { return decoded{faults: domain.Faults(err)} }, ref: func() string { return "" }})
			x.cause = err
			break
		}
		if s.chunk = append(s.chunk, t); len(s.chunk) == chunkItems || x.held() >= chunkBytes {
			if err := s.flush(mostMended + 1); err != nil { // or more: they come yet
				return err
			}
		}
	}
	return s.flush(s.before + len(s.chunk))
}

// streaming is a stream under way.
type streaming[Item any] struct {
	x       *exchange
	compute computeFunc[Item]
	opt     *ComputeOptions
	chunk   []task[Item]
	done    [chunkItems + 1]itemOutcome
	texts   [chunkItems + 1][]byte
	before  int // items of the chunks before
	chosen  bool
}

// flush computes a chunk, of so many items in all as far as is known, and writes its lines.
func (s *streaming[Item]) flush(items int) error {
	x, n := s.x, len(s.chunk)
	defer x.leave()
	if n == 0 {
		return nil
	}
	if err := x.reenter(x.s.admission.many, min(n, costliest)); err != nil {
		x.line(err)
		return err
	}
	x.share(n, func(i int) {
		own := *s.opt
		own.Mend = mendingOf(s.before+i, items)
		s.done[i] = runItem(x.Request().Context(), x.snap, s.compute, s.chunk[i], own)
	})
	if err := s.choose(); err != nil {
		return err
	}
	x.share(n, func(i int) { s.encode(i) })
	x.leave()
	w := x.Response()
	for i := range n {
		s.problem(i)
		x.findings += s.done[i].findings
		if s.done[i].stack != "" {
			x.stack = s.done[i].stack
		}
		if _, err := w.Write(s.texts[i]); err != nil {
			x.cause = err
			return nil // whoever asked is gone
		}
		s.done[i] = itemOutcome{}
	}
	w.Flush()
	x.takeTime(chunkTime)
	s.before, s.chunk = s.before+n, s.chunk[:0]
	x.done()
	return x.Request().Context().Err()
}

// choose settles which members are wanted by the first answer that there is.
func (s *streaming[Item]) choose() error {
	for i := range s.chunk {
		if s.chosen || s.done[i].err != nil {
			continue
		}
		s.chosen = true
		if err := s.x.choose(s.done[i].answer); err != nil {
			s.x.line(err)
			return err
		}
	}
	return nil
}

// encode writes the answer of an item, if it has one.
func (s *streaming[Item]) encode(i int) {
	d := &s.done[i]
	if d.err == nil {
		s.texts[i], d.err = s.x.fields.AppendJSON(s.texts[i][:0], d.answer, d.system)
		s.texts[i] = append(s.texts[i], '\n')
	}
}

// problem writes the problem of an item, if it has one.
func (s *streaming[Item]) problem(i int) {
	if d := &s.done[i]; d.err != nil {
		p := s.x.itemProblem(d.err, s.chunk[i].ref(), d.system)
		text, err := wire.AppendJSON(s.texts[i][:0], p, unit.Metric)
		if err != nil {
			panic(err) // words and whole numbers only
		}
		s.texts[i] = append(text, '\n')
	}
}

// line writes an error that ends a stream.
func (x *exchange) line(err error) {
	p := x.itemProblem(err, "", x.system)
	if text, err := wire.AppendJSON(nil, p, unit.Metric); err == nil {
		_, _ = x.Response().Write(append(text, '\n'))
	}
}
