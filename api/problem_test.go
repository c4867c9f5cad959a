package api

import (
	"errors"
	"strings"
	"testing"

	"swarf/domain"
	"swarf/domain/unit"
)

func bad(code string) *domain.Error {
	return fault(domain.Unreadable, code, code, "a message", "a fix")
}

func wrong(code string) *domain.Error { return fault(domain.Invalid, code, code, "a message", "a fix") }

func TestStatusAndCodeOfTheWhole(t *testing.T) {
	for _, c := range []struct {
		name   string
		faults domain.Errors
		code   string
		status int
	}{
		{"one unreadable", domain.Errors{bad("field-missing")}, "field-missing", 400},
		{"one invalid", domain.Errors{wrong("engagement-impossible")}, "engagement-impossible", 422},
		{"two alike", domain.Errors{wrong("value-out-of-range"), wrong("value-out-of-range")}, "value-out-of-range", 422},
		{"two invalid", domain.Errors{wrong("value-out-of-range"), wrong("fields-conflict")}, requestInvalid, 422},
		{"invalid, then unreadable", domain.Errors{wrong("value-out-of-range"), bad("unknown-field")}, requestInvalid, 400},
		{"unreadable, then invalid", domain.Errors{bad("units-missing"), wrong("material-unknown")}, requestInvalid, 400},
		{"a fault of ours among others", domain.Errors{bad("units-missing"), {Kind: domain.Internal, Code: "internal"}}, "internal", 500},
		{"a code without a row goes by its kind", domain.Errors{{Kind: domain.NotFound, Code: "made-up"}}, "made-up", 404},
	} {
		code, status := overall(c.faults)
		if code != c.code || status != c.status {
			t.Errorf("%s: %s %d, want %s %d", c.name, code, status, c.code, c.status)
		}
	}
}

func TestProblemStatesMeasuresInTheUnitsOfTheCaller(t *testing.T) {
	e := &domain.Error{Kind: domain.Invalid, Code: "engagement-impossible", Field: "engagement.radial_width",
		Msg: "the width is {value} and the cutter {limit}", Fix: "stay under {limit}", Value: unit.Of(unit.Length, 50.8), Limit: unit.Of(unit.Length, 25.4)}
	p := newProblem(domain.Errors{e}, unit.Inch)
	if got := p.Faults[0].Message; !strings.Contains(got, "2") || strings.Contains(got, "50.8") || strings.Contains(got, "{") {
		t.Errorf("message %q", got)
	}
	if p.Type != "/problems/engagement-impossible" || p.Status != 422 || p.Title == "" {
		t.Errorf("problem %+v", p)
	}
}

func TestProblemOfOursHidesItsCause(t *testing.T) {
	secret := "password in the connection string"
	p := newProblem(domain.Faults(errors.New(secret)), unit.Metric)
	if p.Status != 500 || p.Code != "internal" {
		t.Errorf("problem %+v", p)
	}
	contentType, body := problemBody(&p, formatJSON)
	if strings.Contains(string(body), secret) || contentType != problemType {
		t.Errorf("%s: %s", contentType, body)
	}
}

func TestAMemberThatCouldNotBeReadIsNotMissingAsWell(t *testing.T) {
	faults := settle(domain.Errors{
		fault(domain.Unreadable, "wrong-type", "engagement.depth", "is text", "send a number"),
		fault(domain.Unreadable, "field-missing", "engagement.depth", "is required", "add it"),
		fault(domain.Unreadable, "unknown-field", "tool.diametre", "there is no such member", "remove it"),
		fault(domain.Unreadable, "field-missing", "tool", "is required", "add it"),
		fault(domain.Unreadable, "field-missing", "operation", "is required", "add it"),
	})
	var fields []string
	for _, e := range faults {
		fields = append(fields, e.Code+" "+e.Field)
	}
	want := "wrong-type engagement.depth, unknown-field tool.diametre, field-missing tool, field-missing operation"
	if got := strings.Join(fields, ", "); got != want {
		t.Errorf("faults %s, want %s", got, want)
	}
}

func TestProblemAsLines(t *testing.T) {
	p := newProblem(domain.Errors{fault(domain.Invalid, "fields-conflict", "parameters", "two speeds\nat once", "keep one")}, unit.Metric)
	p.RequestID = "abc"
	contentType, body := problemBody(&p, formatText)
	first, last := "code=fields-conflict\nhttp_status=422\n", "status=error\nlines=11\n"
	if !strings.HasPrefix(string(body), first) || !strings.HasSuffix(string(body), last) || contentType != formatText.contentType() {
		t.Errorf("%s:\n%s", contentType, body)
	}
	for line := range strings.SplitSeq(strings.TrimSuffix(string(body), "\n"), "\n") {
		if !strings.Contains(line, "=") {
			t.Errorf("line %q is no key=value", line)
		}
	}
}
