package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"os"
	"reflect"
	"slices"
	"strings"
	"time"

	"swarf/api/client"
	"swarf/api/wire"
	"swarf/db/snapshot"
)

// question is something that can be asked for.
type question struct {
	name    string
	what    string
	path    string
	shape   any    // of the request; nil where it has no flat members
	bodied  bool   // it is asked with a body alone
	example string // words that a page shows, which work
}

// questions are what swarf ask takes, in the order of its page.
var questions = []question{
	{"recommend", "what should I run?", "/v1/recommendations", wire.Cut{}, false,
		"-units metric -grade 1.4301 -condition annealed -operation side-milling -class mill-end -cutting_diameter 12 -effective_edges 4 -tool_material HC -axial_depth 10 -radial_width 3 -machine vmc-40"},
	{"estimate", "I will run these parameters: what do they load?", "/v1/estimates", wire.Cut{}, false,
		"-units metric -grade C45E -operation drilling -class drill-twist-hss -cutting_diameter 10 -hole_depth 25 -through true -cutting_speed 25 -feed_per_revolution 0.2 -output value -field loads.torque"},
	{"check", "which of these machines can run it?", "/v1/spindle-checks", wire.SpindleCheck{}, false,
		"-units inch -grade A96061 -operation slot-milling -class mill-end -cutting_diameter 0.5 -effective_edges 3 -axial_depth 0.25 -cutting_speed 900 -feed_per_tooth 0.003 -machines vmc-40,vmc-50"},
	{"correct", "what do I add to the register after measuring?", "/v1/corrections", wire.CorrectionRequest{}, false,
		"-units metric -feature internal -sides_cut 2 -programmed 40 -measured 39.98 -register radius -field correction.value"},
	{"diagnose", "why does the meter read something else?", "/v1/diagnoses", wire.DiagnosisRequest{}, false,
		"-units metric -grade 1.4301 -operation turning -class turning-external -corner_radius 0.8 -work_diameter 60 -depth_of_cut 2 -cutting_speed 140 -feed_per_revolution 0.25 -machine lathe-200 -power 7 -point motor"},
	{"plan", "which machine runs which cut, and how long does it take? (needs -request)", "/v1/plans", nil, true,
		"-request routing.json -output json -out routing-planned.json"},
	{"read", "reference and shop data: swarf ask read /v1/materials -q 1.4301", "", nil, false,
		"/v1/materials -q 1.4301 -output json"},
}

// asking is one question with everything that was said about it.
type asking struct {
	question
	path     string
	values   url.Values // members and parameters, flat
	server   string
	offline  bool
	snapshot string
	request  string // file with the body
	output   string
	field    string
	out      string
	timeout  time.Duration
}

// ask asks a server, or a snapshot, and ends with a code that says how it came out.
func ask(ctx context.Context, p *program, args []string) error {
	out := outOf(args)
	a, err := p.readQuestion(args)
	if errors.Is(err, flag.ErrHelp) {
		return err
	}
	var got outcome
	if err == nil {
		got, err = p.answer(ctx, a)
	}
	if err != nil {
		got = outcome{code: codeOf(err), err: err, text: markedLine(wordOf(codeOf(err)), err.Error())}
	}
	if out == "" {
		fmt.Fprint(p.out, got.text)
	} else if failed := snapshot.Write(out, []byte(got.text)); failed != nil {
		return errors.Join(got.err, fmt.Errorf("the answer could not be written: %w", failed))
	}
	if got.code == exitFine {
		return nil
	}
	return &ending{got.code, got.err}
}

// leaveWord puts the reason into the file for the answer when nothing could be asked.
func leaveWord(args []string, reason error) error {
	if out := outOf(args); out != "" {
		return snapshot.Write(out, []byte(markedLine(wordOf(exitFailed), reason.Error())))
	}
	return nil
}

// outOf finds the file for the answer even in a command line that cannot be followed, so
// that an answer of last time never stands there as if it were new.
func outOf(args []string) string {
	for i, word := range args {
		name, value, joined := strings.Cut(strings.TrimPrefix(word, "-"), "=")
		switch name = strings.TrimPrefix(name, "-"); {
		case name != "out" || !strings.HasPrefix(word, "-"):
		case joined:
			return value
		case i+1 < len(args):
			return args[i+1]
		}
	}
	return ""
}

// readQuestion reads the command line.
func (p *program) readQuestion(args []string) (*asking, error) {
	if len(args) == 0 || slices.Contains([]string{"-h", "-help", "--help"}, args[0]) {
		askPage(p.out)
		return nil, flag.ErrHelp
	}
	at := slices.IndexFunc(questions, func(q question) bool { return q.name == args[0] })
	if at < 0 {
		return nil, fmt.Errorf("%w: there is no question %q; swarf ask -h lists them", errUsage, args[0])
	}
	a := &asking{question: questions[at], path: questions[at].path, values: url.Values{}}
	rest := args[1:]
	if a.name == "read" && len(rest) > 0 && !strings.HasPrefix(rest[0], "-") {
		a.path, rest = rest[0], rest[1:]
	}
	set := p.askFlags(a)
	if err := parse(set, a.joined(a.splitRead(rest))); errors.Is(err, flag.ErrHelp) {
		questionPage(p.out, a.question)
		return nil, err
	} else if err != nil {
		return nil, err
	}
	return a, a.check()
}

// check refuses what does not go together.
func (a *asking) check() error {
	usage := func(text string) error { return fmt.Errorf("%w: %s", errUsage, text) }
	if a.field != "" && a.output == "" {
		a.output = "value"
	}
	if a.output == "" {
		a.output = "text"
	}
	if a.snapshot != "" {
		a.offline = true
	}
	members := false
	for _, f := range flatMembers(a.shape) {
		members = members || a.values.Has(f.Name)
	}
	switch {
	case !slices.Contains(outputs, a.output):
		return usage("-output " + a.output + " is none of " + strings.Join(outputs, ", "))
	case (a.output == "value") != (a.field != ""):
		return usage("-output value and -field go together: -field names the number that is wanted")
	case a.name == "read" && !strings.HasPrefix(a.path, "/"):
		return usage("say what to read, such as swarf ask read /v1/materials -q 1.4301")
	case a.bodied && a.request == "":
		return usage(a.name + " needs -request FILE with the request as JSON")
	case a.request != "" && members:
		return usage("the request stands in the -request; leave its members out of the command line")
	case a.timeout <= 0:
		return usage("-timeout is not above 0s")
	}
	return nil
}

// answer asks and makes of what comes an outcome.
func (p *program) answer(ctx context.Context, a *asking) (outcome, error) {
	c, err := p.asker(a)
	if err != nil {
		return outcome{}, err
	}
	r := client.Request{Method: http.MethodGet, Path: a.path, Query: a.values, Header: http.Header{}, Repeatable: true}
	if a.request != "" {
		if r.Body, err = bodyFrom(a.request); err != nil {
			return outcome{}, err
		}
		r.Method = http.MethodPost
		r.Header.Set("Content-Type", "application/json")
	}
	r.Header.Set("Accept", accepts[a.output])
	ctx, cancel := context.WithTimeout(ctx, a.timeout)
	defer cancel()
	got, err := c.Send(ctx, r)
	return p.outcomeOf(a, got, err)
}

// asker is the client of a server, or of a snapshot that is served in this process.
func (p *program) asker(a *asking) (*client.Client, error) {
	if a.offline {
		return p.offline(a.snapshot)
	}
	c, err := client.New(a.server, client.Options{Key: p.config.Key.Reveal()})
	if err != nil {
		return nil, fmt.Errorf("%w; SWARF_SERVER or -server names it", err)
	}
	return c, nil
}

// bodyFrom reads a request from a file, - for standard input.
func bodyFrom(name string) ([]byte, error) {
	if name == "-" {
		return io.ReadAll(os.Stdin)
	}
	return os.ReadFile(name) // #nosec G304 G703 -- the file that who runs the command names
}

// flatMembers are the members of a request that flags can set.
func flatMembers(shape any) []wire.FlatMember {
	if shape == nil {
		return nil
	}
	return wire.FlatMembers(reflect.TypeOf(shape))
}
