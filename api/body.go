package api

import (
	"bytes"
	"errors"
	"io"
	"mime"
	"net/http"
	"strconv"
	"strings"
	"sync"

	"swarf/api/gate"
	"swarf/domain"
)

// bodies are buffers for request bodies, used again.
var bodies = sync.Pool{New: func() any { return new(bytes.Buffer) }}

// largestKept is the size above which a buffer is not kept.
const largestKept = 1 << 20

// withBody reads the body of a request into a buffer and hands it to a function,
// which must not keep it. Not more than the limit is read.
func (x *exchange) withBody(limit int64, use func([]byte) error) error {
	if err := checkMediaType(x.Request()); err != nil {
		return err
	}
	return x.readBody(limit, use)
}

// readBody is withBody for a body whose media type is known to be taken.
func (x *exchange) readBody(limit int64, use func([]byte) error) error {
	r := x.Request()
	if r.ContentLength > limit {
		x.Response().Header().Set("Connection", "close")
		return tooLarge(limit)
	}
	if err := x.expect(r.ContentLength); err != nil {
		return err
	}
	buffer := bodies.Get().(*bytes.Buffer)
	buffer.Reset()
	defer func() {
		if buffer.Cap() <= largestKept {
			bodies.Put(buffer)
		}
	}()
	held, err := x.fill(buffer, http.MaxBytesReader(x.Response().Writer, r.Body, limit), limit)
	defer x.s.admission.memory.Give(held)
	if err != nil {
		if errors.Is(err, gate.ErrFull) {
			x.Response().Header().Set("Connection", "close")
			return overloaded()
		}
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			return tooLarge(limit)
		}
		if errors.Is(err, io.ErrUnexpectedEOF) {
			return fault(domain.Unreadable, "json-invalid", "", "the body ended before its stated length", "send the whole body")
		}
		return fault(domain.Unreadable, "json-invalid", "", "the body could not be read", "send the whole body in time")
	}
	if err := x.enter(buffer.Len()); err != nil {
		return err
	}
	return use(buffer.Bytes())
}

// fill reads a body to its end. Its buffer grows as it comes and not as it is announced, and
// counts against the memory that is held for callers: held is to be given back.
func (x *exchange) fill(buffer *bytes.Buffer, in io.Reader, limit int64) (held int64, err error) {
	most := limit + 1 // one too many is for the reader to refuse
	if length := x.Request().ContentLength; length >= 0 {
		most = length
	}
	for size := min(shortBody, most); ; size = min(4*size, most) {
		if more := size - freeBody - held; more > 0 {
			if !x.s.admission.memory.Take(more) {
				return held, gate.ErrFull
			}
			held += more
		}
		want := size - int64(buffer.Len())
		buffer.Grow(int(want) + bytes.MinRead)
		got, err := buffer.ReadFrom(io.LimitReader(in, want))
		if err != nil || got < want || size == most {
			return held, err
		}
	}
}

func tooLarge(limit int64) error {
	mebibytes := strconv.FormatFloat(float64(limit)/(1<<20), 'g', 4, 64)
	return fault(domain.Invalid, "body-too-large", "", "the body is over "+mebibytes+" MiB", "send at most "+strconv.FormatInt(limit, 10)+" bytes, or split the request")
}

// checkMediaType requires plain JSON in UTF-8.
func checkMediaType(r *http.Request) error {
	const fix = "send Content-Type: application/json"
	if r.Header.Get("Content-Encoding") != "" {
		if err := checkPlain(r, nil); err != nil {
			return err
		}
	}
	given := r.Header.Get("Content-Type")
	if given == "application/json" {
		return nil
	}
	if given == "" {
		return fault(domain.Invalid, "media-type-unsupported", "Content-Type", "the request does not say what its body is", fix)
	}
	media, params, err := mime.ParseMediaType(given)
	if err != nil || media != "application/json" {
		return fault(domain.Invalid, "media-type-unsupported", "Content-Type", "the body is "+strconv.Quote(clip(given)), fix)
	}
	return checkPlain(r, params)
}

// checkPlain requires a body that is as it was written, in UTF-8 where its media type says
// in what: nothing is unpacked, so that nothing grows.
func checkPlain(r *http.Request, params map[string]string) error {
	if encoding := r.Header.Get("Content-Encoding"); encoding != "" && !strings.EqualFold(encoding, "identity") {
		return fault(domain.Invalid, "media-type-unsupported", "Content-Encoding", "the body is compressed ("+clip(encoding)+")", "send it uncompressed")
	}
	if charset, ok := params["charset"]; ok && !strings.EqualFold(charset, "utf-8") {
		return fault(domain.Invalid, "media-type-unsupported", "Content-Type", "the body is in "+quoteClipped(charset), "send it in UTF-8")
	}
	return nil
}
