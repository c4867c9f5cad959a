package api

import (
	"bytes"
	"context"
	"crypto/sha256"
	"io"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"swarf/domain"
)

// Answers keeps what writes with an Idempotency-Key were answered with.
type Answers interface {
	// Once runs a write that makes an answer, at most once for a claim: what the store
	// writes under the context that the function gets, and the answer, are kept together
	// or not at all. An answer that is there already is returned with true. An answer
	// that is no success is kept without what was written; one of 5xx, or to be forgotten,
	// is not kept.
	Once(ctx context.Context, claim Claim, do func(context.Context) (KeptAnswer, error)) (answer KeptAnswer, replayed bool, err error)
}

// Claim is a request that may have its effect once.
type Claim struct {
	Caller      string // id of the key it came with; empty without
	Key         string
	Fingerprint [sha256.Size]byte // of method, address and body
	Within      time.Duration     // how long the write may take
}

// KeptAnswer is what a request was answered with.
type KeptAnswer struct {
	Status int
	Header map[string]string
	Body   []byte
	Forget bool // another time it may be another
}

// passing are faults that are over when the same request comes again.
var passing = []string{"too-many-requests", "import-overtaken"}

// keptFields are the header fields of an answer that its repetition has too.
var keptFields = []string{"Content-Type", "ETag", "Location", "Data-Revision", "Cache-Control", "Vary", "Preference-Applied"}

// longestIdempotencyKey is how many characters such a key may have.
const longestIdempotencyKey = 255

// once runs the handler of a write. With an Idempotency-Key it does so at most once
// (draft-ietf-httpapi-idempotency-key-header): whoever repeats the request gets the first
// answer again, marked as such, and nothing is written a second time.
func (x *exchange) once(handle func(*exchange) error) error {
	key, err := idempotencyKey(x.Request().Header.Values("Idempotency-Key"))
	if err != nil {
		return err
	}
	if key == "" || x.s.Answers == nil || x.only {
		return handle(x)
	}
	r := x.Request()
	body, err := x.wholeBody()
	if err != nil {
		return err
	}
	claim := Claim{Key: key, Within: x.s.Limits.StoreTimeout}
	if x.key != nil {
		claim.Caller = x.key.ID
	}
	if x.route.slow() {
		claim.Within = importTimeout
		x.takeTime(importTimeout)
	}
	digest := sha256.New()
	for _, part := range []string{r.Method, r.URL.EscapedPath(), r.URL.RawQuery} {
		digest.Write([]byte(part + "\x00"))
	}
	digest.Write(body)
	claim.Fingerprint = [sha256.Size]byte(digest.Sum(nil))
	w := x.Response()
	out := &recorder{ResponseWriter: w.Writer}
	answer, replayed, err := x.s.Answers.Once(r.Context(), claim, func(ctx context.Context) (KeptAnswer, error) {
		again := r.WithContext(ctx)
		again.Body, again.ContentLength = io.NopCloser(bytes.NewReader(body)), int64(len(body))
		x.SetRequest(again)
		x.recording, w.Writer = out, out
		if err := x.protect(func() error { return handle(x) }); err != nil {
			x.fail(err)
			out.forget = slices.ContainsFunc(domain.Faults(err), func(e *domain.Error) bool { return slices.Contains(passing, e.Code) })
		}
		return out.answer(), nil
	})
	x.SetRequest(r)
	x.recording, w.Writer = nil, out.ResponseWriter
	w.Committed, w.Size, w.Status = false, 0, http.StatusOK
	h := w.Header()
	if err != nil {
		h.Del("Location")
		h.Del("Data-Revision")
		return err
	}
	if replayed {
		h.Set("Idempotency-Replayed", "true")
		for name, value := range answer.Header {
			h.Set(name, value)
		}
		out.status, out.body = answer.Status, *bytes.NewBuffer(answer.Body)
	}
	x.catchUp(r.Context())
	w.WriteHeader(out.status)
	if out.status == http.StatusNoContent {
		return nil
	}
	_, err = w.Write(out.body.Bytes())
	return err
}

// idempotencyKey reads the key, as the draft has it, a quoted string, or bare.
func idempotencyKey(fields []string) (string, error) {
	if len(fields) == 0 {
		return "", nil
	}
	key := strings.TrimSpace(fields[0])
	if quoted, ok := strings.CutPrefix(key, `"`); ok {
		if key, ok = strings.CutSuffix(quoted, `"`); !ok {
			key = ""
		}
		key = strings.NewReplacer(`\\`, `\`, `\"`, `"`).Replace(key)
	}
	odd := func(r rune) bool { return r < ' ' || r > '~' }
	if len(fields) > 1 || key == "" || len(key) > longestIdempotencyKey || strings.ContainsFunc(key, odd) {
		return "", fault(domain.Unreadable, "wrong-type", "Idempotency-Key", "the field is not one key of 1 to "+strconv.Itoa(longestIdempotencyKey)+" ASCII characters",
			`send one, such as Idempotency-Key: "8e03978e-40d5-43dd-bc93-6894a57f9324"`)
	}
	return key, nil
}

// wholeBody reads the body of a write, within the limit of its route.
func (x *exchange) wholeBody() (body []byte, err error) {
	limit := x.s.Limits.BodyBytes
	if strings.HasSuffix(x.route.path, "/batch") {
		limit = x.s.Limits.BatchBytes
	}
	if x.route.path == "/v1/imports" || x.prefersLater() {
		limit = x.s.Limits.ImportBytes
	}
	err = x.readBody(limit, func(data []byte) error { body = bytes.Clone(data); return nil })
	return body, err
}

// recorder holds an answer back until what it is about is kept.
type recorder struct {
	http.ResponseWriter
	status int
	body   bytes.Buffer
	kept   []byte // the body to keep, where it is not the one to send
	forget bool
}

// WriteHeader notes the status.
func (r *recorder) WriteHeader(status int) { r.status = status }

// Write holds a part of the body.
func (r *recorder) Write(b []byte) (int, error) { return r.body.Write(b) }

// FlushError lets nothing out.
func (r *recorder) FlushError() error { return nil }

// Unwrap is the connection, for its deadlines.
func (r *recorder) Unwrap() http.ResponseWriter { return r.ResponseWriter }

// answer is what is to be kept.
func (r *recorder) answer() KeptAnswer {
	a := KeptAnswer{Status: r.status, Header: map[string]string{}, Body: r.body.Bytes(), Forget: r.forget}
	if r.kept != nil {
		a.Body = r.kept
	}
	for _, name := range keptFields {
		if value := r.Header().Get(name); value != "" {
			a.Header[name] = value
		}
	}
	return a
}

// renderSecret writes an answer with a secret in it, of which the kept one has none.
func (x *exchange) renderSecret(status int, answer, without any) (err error) {
	if x.recording != nil {
		if x.recording.kept, err = x.encode(without); err != nil {
			return err
		}
	}
	if x.only {
		return x.render(status, without) // there is no such secret
	}
	return x.render(status, answer)
}

// settled waits until this replica answers from data that has the write in it. The
// write is done either way: when the wait fails the log says so and the answer
// stands. A write that is not committed yet is waited for later, one that was only checked
// never.
func (x *exchange) settled(ctx context.Context, revision int64) {
	if x.only {
		return
	}
	x.Response().Header().Set("Data-Revision", strconv.FormatInt(revision, 10))
	if x.recording == nil {
		x.catchUp(ctx)
	}
}

// catchUp is settled for what the header says was written.
func (x *exchange) catchUp(ctx context.Context) {
	if x.route.kind == administering {
		x.refreshKeys(ctx)
		return
	}
	revision, err := strconv.ParseInt(x.Response().Header().Get("Data-Revision"), 10, 64)
	if x.s.Refresh == nil || err != nil {
		return
	}
	ctx, cancel := context.WithTimeout(ctx, x.s.Limits.StoreTimeout)
	defer cancel()
	if err := x.s.Refresh(ctx, revision); err != nil {
		x.cause = err
	}
}
