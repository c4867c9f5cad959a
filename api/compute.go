package api

import (
	"context"
	"net/http"
	"reflect"
	"strings"

	"swarf/api/mtconnect"
	"swarf/api/picture"
	"swarf/api/wire"
	"swarf/domain"
	"swarf/domain/catalog"
	"swarf/domain/cut"
	"swarf/domain/estimate"
	"swarf/domain/unit"
)

// ComputeOptions is what stands beside the members of a computation.
type ComputeOptions struct {
	Explain bool
	Window  bool
	// Draw asks for a picture, Picture says which: the answer is a *picture.Picture then.
	Draw    bool
	Picture string
	// Page asks for what a page shows beside the answer: Drawn is its picture then, where
	// there is one.
	Page  bool
	Drawn *picture.Picture
	// Codes asks for the tool with the symbols of its properties (ISO 13399).
	Codes bool
	// Asset asks for the tool with its process, as a document: a *mtconnect.CuttingTool then.
	Asset bool
	// System is the caller's units, for texts and for numbers with their unit beside
	// them; everything else is converted when it is written.
	System unit.System
	// Batch: the answer is an item of a batch, so units, unit_of, data_revision and
	// model_version stand once beside the items and are left out of the answer.
	Batch bool
	// Mend says which verdicts of a spindle check are told what would mend them.
	Mend mending
	// Strict: holds and refusals make a problem of the answer.
	Strict bool
	// Made is set by a computation of one cut: what its answer was laid out from.
	Made *estimate.Estimate
	// Faults holds what was wrong with the request as text: unknown members, words
	// for numbers. Add every further fault to it, so that the caller gets them all
	// at once; a request with any fault gets a problem and no answer.
	Faults *cut.Faults
}

// computeFunc computes one request that was decoded into metric. It is called even
// when decoding found faults (they are in opt.Faults), and must then still look
// for those of the domain. It returns the answer for the wire, still metric, and
// how many findings it has. The answer is not written when err is not nil or
// opt.Faults is not empty; err and opt.Faults are reported together.
type computeFunc[Req any] func(ctx context.Context, snap *catalog.Snapshot, req *Req, opt *ComputeOptions) (answer any, findings int, err error)

// computation makes the handler of one computation, by POST or QUERY with a JSON body or
// by GET with flat query parameters. To plug one in, write
//
//	computationRows("/v1/estimates", computation(estimateOne), batch(estimateOne, verdictOf))
//
// into computationRoutes, where estimateOne is a computeFunc[wire.Cut]. Format,
// units, as_of, explain and fields are dealt with here.
func computation[Req any](compute computeFunc[Req]) func(*exchange) error {
	return func(x *exchange) error {
		opt := x.computeOptions()
		req := new(Req)
		if x.route.flat() {
			if err := x.enter(0); err != nil {
				return err
			}
			// The query was parsed once already and can be.
			return run(x, compute, req, opt, decodeQuery(x.Request().URL.Query(), req))
		}
		return x.withBody(x.s.Limits.BodyBytes, func(data []byte) error {
			d := decodeBody(data, req, wire.DecodeOptions{RequireUnits: true})
			if len(d.faults) == 0 && len(opt.Faults.List) == 0 {
				if snap, err := x.now(); err == nil {
					x.locate(data, reflect.TypeFor[Req](), snap)
				}
			}
			return run(x, compute, req, opt, d)
		})
	}
}

// computeOptions reads the parameters that stand beside the members.
func (x *exchange) computeOptions() *ComputeOptions {
	opt := &ComputeOptions{Faults: new(cut.Faults), Mend: mendAll}
	flag := func(name string) bool {
		value, bad := x.query.flag(name)
		if bad != nil {
			opt.Faults.Any(bad)
		}
		return value
	}
	opt.Explain, opt.Window = flag("explain"), flag("window")
	opt.Codes = x.wantsCodes(opt.Faults) || x.format == formatB2MML
	opt.Asset = x.format == formatMTConnect
	opt.Strict = x.strict(opt.Faults)
	opt.Draw, opt.Page, opt.Picture = x.format.drawn(), x.format == formatHTML, x.query.text("picture")
	if opt.Page && x.query.text("explain") == "" {
		opt.Explain = true // a page is read by a person
	}
	if opt.Picture != "" && !opt.Draw && !opt.Page {
		opt.Faults.Conflict("picture", "picture says what is drawn, and the answer is no picture: ask for format=svg, png or html where the route offers them")
	}
	return opt
}

// run computes a decoded request and answers with what came of it.
func run[Req any](x *exchange, compute computeFunc[Req], req *Req, opt *ComputeOptions, d decoded) error {
	x.system, opt.System = d.system, d.system
	opt.Faults.List = append(opt.Faults.List, d.faults...)
	if !d.readable {
		return opt.Faults.List
	}
	snap, err := x.now()
	if err != nil {
		return combine(opt.Faults.List, err)
	}
	if err := x.charge(chargeOf(req) - 1); err != nil {
		return err
	}
	answer, findings, err := compute(x.Request().Context(), snap, req, opt)
	if err := combine(opt.Faults.List, err); err != nil {
		return err
	}
	x.findings = findings
	if opt.Strict {
		if err := holds(answer); err != nil {
			return err
		}
	}
	if x.format == formatWords {
		return x.words(answer.(*wire.Answer), opt)
	}
	switch answer := answer.(type) {
	case *picture.Picture:
		return x.draw(answer)
	case *mtconnect.CuttingTool:
		return x.asset(answer)
	}
	if err := x.choose(answer); err != nil {
		return err
	}
	if opt.Page {
		return x.show(req, answer, opt.Drawn)
	}
	if x.format == formatB2MML {
		return x.workMaster(answer)
	}
	return x.render(http.StatusOK, answer)
}

// combine joins faults found so far with an error. An error that is not a fault of
// the request stands alone.
func combine(faults domain.Errors, err error) error {
	if err == nil {
		return faults.OrNil()
	}
	more := domain.Faults(err)
	for _, e := range more {
		if e.Kind == domain.Internal || e.Kind == domain.Unavailable {
			return domain.Errors{e}
		}
	}
	all := append(append(domain.Errors{}, faults...), more...)
	return settle(all)
}

// choose reads which members of an answer the caller wants, all without fields.
func (x *exchange) choose(answer any) error {
	text := x.query.text("fields")
	if text == "" {
		return nil
	}
	paths := strings.Split(text, ",")
	for i := range paths {
		paths[i] = strings.TrimSpace(paths[i])
	}
	var bad []wire.InputFault
	x.fields, bad = wire.Select(paths, answer)
	return faultsFromWire(bad).OrNil()
}
