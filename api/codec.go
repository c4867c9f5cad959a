package api

import (
	"net/http"
	"net/url"
	"sync"

	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/unit"
)

// decoded is what became of the text of a request.
type decoded struct {
	system   unit.System
	faults   domain.Errors
	readable bool // false: not one JSON object; nothing was decoded
}

// decodeBody reads a body strictly into a wire shape, metric.
func decodeBody(data []byte, into any, opt wire.DecodeOptions) decoded {
	return fromWire(wire.Decode(data, into, opt))
}

// decodeItem reads an item of a batch, in the units of the batch unless it states
// the same itself.
func decodeItem(item wire.Raw, into any, system unit.System) decoded {
	return fromWire(wire.DecodeRaw(item, into, wire.DecodeOptions{Inherit: system.String()}))
}

// decodeQuery reads a computation's members from flat query parameters.
func decodeQuery(values url.Values, into any) decoded {
	return fromWire(wire.DecodeQuery(values, into, wire.DecodeOptions{Reserved: beside}))
}

func fromWire(in wire.Input) decoded {
	return decoded{system: in.System, readable: in.Readable, faults: faultsFromWire(in.Faults)}
}

// faultsFromWire turns the faults of the decoder into the domain's.
func faultsFromWire(list []wire.InputFault) domain.Errors {
	if len(list) == 0 {
		return nil
	}
	out := make(domain.Errors, len(list))
	for i, f := range list {
		kind := domain.Unreadable
		if f.Kind == wire.Invalid {
			kind = domain.Invalid
		}
		out[i] = fault(kind, f.Code, f.Field, f.Message, f.Fix)
	}
	return out
}

// encodeJSON writes an answer as JSON in a unit system.
func encodeJSON(v any, system unit.System) ([]byte, error) { return wire.AppendJSON(nil, v, system) }

// encode writes an answer in the format and the units of the exchange, with only
// the fields asked for.
func (x *exchange) encode(v any) ([]byte, error) {
	switch x.format {
	case formatText:
		body, err := x.fields.AppendText(nil, v, x.system)
		if err != nil || x.route.kind == operating {
			return body, err
		}
		return wire.AppendTextClose(body, textStatus(v)), nil
	case formatValue:
		return x.value(v)
	case formatCSV:
		return x.fields.AppendCSV(nil, v, x.system, x.style.CSVStyle)
	}
	return x.fields.AppendJSON(nil, v, x.system)
}

// textStatus is the word by which a text says how an answer is to be taken: ok,
// warn where somebody must read it first, refused where it must not run.
func textStatus(answer any) string {
	switch a := answer.(type) {
	case *wire.Answer:
		for _, f := range a.Findings {
			if f.Severity == domain.Warning.String() && a.Verdict == string(domain.Yes) {
				return "warn"
			}
		}
		return statusOfVerdict(domain.Verdict(a.Verdict))
	case *wire.SpindleResults:
		worst := domain.Yes
		for i := range a.Results {
			worst = worse(worst, domain.Verdict(a.Results[i].Verdict))
		}
		return statusOfVerdict(worst)
	case *wire.Batch:
		switch {
		case a.Counts.Problems > 0:
			return "error"
		case a.Counts.No > 0:
			return statusOfVerdict(domain.No)
		case a.Counts.Conditional > 0:
			return statusOfVerdict(domain.Conditional)
		}
	}
	return "ok"
}

func worse(a, b domain.Verdict) domain.Verdict {
	if a == domain.No || b == domain.No {
		return domain.No
	}
	if a == domain.Conditional || b == domain.Conditional {
		return domain.Conditional
	}
	return domain.Yes
}

func statusOfVerdict(v domain.Verdict) string {
	switch v {
	case domain.No:
		return "refused"
	case domain.Conditional:
		return "warn"
	}
	return "ok"
}

// answers keeps the buffers of answers for later requests: a body has been written
// out when the handler returns.
var answers = sync.Pool{New: func() any { b := make([]byte, 0, 8<<10); return &b }}

// roughSize is about how many bytes a long answer takes as JSON, so that its buffer is made
// once; nought for a short one.
func roughSize(answer any) int {
	const perPair, perItem = 2_000, 3_000
	switch a := answer.(type) {
	case *wire.SpindleResults:
		return perPair * len(a.Results)
	case *wire.Batch:
		return perItem * len(a.Items)
	}
	return 0
}

// render writes an answer that nobody keeps.
func (x *exchange) render(status int, answer any) error {
	if x.format != formatJSON {
		body, err := x.encode(answer)
		if err != nil {
			return err
		}
		return x.send(status, x.format.contentType(), body)
	}
	buffer := answers.Get().(*[]byte)
	if n := roughSize(answer); n > cap(*buffer) {
		*buffer = make([]byte, 0, n)
	}
	body, err := x.fields.AppendJSON((*buffer)[:0], answer, x.system)
	if err == nil {
		err = x.send(status, x.format.contentType(), body)
	}
	if cap(body) <= largestKept {
		*buffer = body
		answers.Put(buffer)
	}
	return err
}

// conditional writes an answer to a read with its tag, or says that the caller's
// copy is still good.
func (x *exchange) conditional(answer any) error {
	if err := x.choose(answer); err != nil {
		return err
	}
	body, err := x.encode(answer)
	if err != nil {
		return err
	}
	h := x.Response().Header()
	tag := etag(x.format.contentType(), body)
	h.Set("ETag", tag)
	h.Set("Cache-Control", "no-cache")
	if notModified(x.Request(), tag) {
		x.Response().WriteHeader(http.StatusNotModified)
		return nil
	}
	return x.send(http.StatusOK, x.format.contentType(), body)
}
