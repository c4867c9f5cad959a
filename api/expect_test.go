package api_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"swarf/testdata/reference"
)

// expectation is one line of a scenario; which members are set says which form of
// the assertion language it is (testdata/scenarios/scenarios.json, "forms").
type expectation struct {
	Path      string          `json:"path"`
	Value     *float64        `json:"value"`
	RelTol    *float64        `json:"rel_tol"`
	AbsTol    *float64        `json:"abs_tol"`
	Unit      string          `json:"unit"`
	Equals    json.RawMessage `json:"equals"`
	Min       *float64        `json:"min"`
	Max       *float64        `json:"max"`
	MinLength *int            `json:"min_length"`
	MaxLength *int            `json:"max_length"`
	Present   *bool           `json:"present"`
	Op        string          `json:"op"`
	Than      string          `json:"than"`
	Factor    *float64        `json:"factor"`

	ContainsFinding *findingForm    `json:"contains_finding"`
	AbsentFinding   *findingForm    `json:"absent_finding"`
	Status          json.RawMessage `json:"status"`
	ProblemCode     string          `json:"problem_code"`
	In              string          `json:"in"`
	ContainsFault   *faultForm      `json:"contains_fault"`
	Header          string          `json:"header"`
	BodyContains    string          `json:"body_contains"`
	OracleAgrees    []string        `json:"oracle_agrees"`
}

type findingForm struct {
	Code     string `json:"code"`
	Severity string `json:"severity"`
	In       string `json:"in"`
}

type faultForm struct {
	Field string `json:"field"`
	Code  string `json:"code"`
}

const defaultRelTol = 0.005

func (e expectation) text() string {
	text, _ := json.Marshal(e)
	var members map[string]any
	_ = json.Unmarshal(text, &members)
	for name, v := range members {
		if v == nil || v == "" {
			delete(members, name)
		}
	}
	text, _ = json.Marshal(members)
	return string(text)
}

// check holds an answer against the expectation.
func (e expectation) check(got reply, request map[string]any) error {
	switch {
	case e.Status != nil:
		return e.checkStatus(got)
	case e.Header != "":
		return e.checkHeader(got)
	case e.BodyContains != "":
		if !bytes.Contains(got.body, []byte(e.BodyContains)) {
			return fmt.Errorf("the body has no %q", e.BodyContains)
		}
		return nil
	case got.doc == nil:
		return fmt.Errorf("status %d with a body that is no JSON", got.status)
	case e.ContainsFinding != nil:
		return e.ContainsFinding.check(got, true)
	case e.AbsentFinding != nil:
		return e.AbsentFinding.check(got, false)
	case e.ProblemCode != "":
		return e.checkProblemCode(got)
	case e.ContainsFault != nil:
		return e.ContainsFault.check(got.doc)
	case len(e.OracleAgrees) > 0:
		return oracleAgrees(got.doc, request, e.OracleAgrees, defaultRelTol)
	case e.Path != "":
		return e.checkPath(got.doc)
	}
	return errors.New("no form of expectation")
}

func (e expectation) checkStatus(got reply) error {
	var list []int
	if err := json.Unmarshal(e.Status, &list); err != nil {
		var one int
		if err := json.Unmarshal(e.Status, &one); err != nil {
			return err
		}
		list = []int{one}
	}
	if !slices.Contains(list, got.status) {
		return fmt.Errorf("status %d, want %v", got.status, list)
	}
	return nil
}

// checkHeader compares what stands before any semicolon.
func (e expectation) checkHeader(got reply) error {
	if len(got.header.Values(e.Header)) == 0 {
		return fmt.Errorf("no header %s", e.Header)
	}
	if e.Equals == nil {
		return nil
	}
	var want string
	if err := json.Unmarshal(e.Equals, &want); err != nil {
		return err
	}
	value, _, _ := strings.Cut(got.header.Get(e.Header), ";")
	if strings.TrimSpace(value) != want {
		return fmt.Errorf("header %s is %q, want %q", e.Header, value, want)
	}
	return nil
}

// check looks for a finding. A problem document counts as a refusal with its own
// code and those of its faults.
func (f *findingForm) check(got reply, want bool) error {
	part, err := partOf(got.doc, f.In)
	if err != nil {
		return err
	}
	var seen []string
	found := false
	problem := problemCodes(part)
	for _, code := range problem {
		seen = append(seen, code+" (problem)")
		found = found || (f.Code == "" || f.Code == code) && (f.Severity == "" || f.Severity == "refusal")
	}
	findings, _ := find(part, "findings[*]")
	for _, n := range findings {
		code, severity := textOf(n.value, "code"), textOf(n.value, "severity")
		seen = append(seen, code+" ("+severity+")")
		found = found || (f.Code == "" || f.Code == code) && (f.Severity == "" || f.Severity == severity)
	}
	switch {
	case found != want:
		return fmt.Errorf("finding %s %s: found %v, want %v; there are %s", f.Code, f.Severity, found, want, strings.Join(seen, ", "))
	case !want && (problem != nil || got.status >= 300):
		return fmt.Errorf("the request was not answered: status %d, %s", got.status, strings.Join(seen, ", "))
	}
	return nil
}

func (e expectation) checkProblemCode(got reply) error {
	part, err := partOf(got.doc, e.In)
	if err != nil {
		return err
	}
	if codes := problemCodes(part); !slices.Contains(codes, e.ProblemCode) {
		return fmt.Errorf("problem codes %v, want %s", codes, e.ProblemCode)
	}
	return nil
}

// check looks for a fault whose field is the one named or lies below it.
func (f *faultForm) check(doc any) error {
	faults, _ := find(doc, "faults[*]")
	var seen []string
	for _, n := range faults {
		field, code := textOf(n.value, "field"), textOf(n.value, "code")
		if code == f.Code && (field == f.Field || strings.HasPrefix(field, f.Field+".") || strings.HasPrefix(field, f.Field+"[")) {
			return nil
		}
		seen = append(seen, field+" "+code)
	}
	return fmt.Errorf("no fault %s %s; there are %q", f.Field, f.Code, seen)
}

// checkPath holds what stands at a path against value, equals, bounds, size,
// presence or another member.
func (e expectation) checkPath(doc any) error {
	nodes, err := find(doc, e.Path)
	if e.Present != nil {
		if there := err == nil && len(nodes) > 0; there != *e.Present {
			return fmt.Errorf("%s is there: %v, want %v", e.Path, there, *e.Present)
		}
		return nil
	}
	if err != nil {
		return err
	}
	if len(nodes) == 0 {
		return fmt.Errorf("nothing at %s", e.Path)
	}
	for _, n := range nodes {
		if err := e.checkNode(doc, n); err != nil {
			return fmt.Errorf("%s: %w", e.Path, err)
		}
	}
	return nil
}

func (e expectation) checkNode(doc any, n node) error {
	switch {
	case e.Equals != nil:
		var want any
		if err := json.Unmarshal(e.Equals, &want); err != nil {
			return err
		}
		if !reflect.DeepEqual(n.value, want) {
			return fmt.Errorf("got %v, want %v", n.value, want)
		}
		return nil
	case e.MinLength != nil || e.MaxLength != nil:
		size, err := sizeOf(n.value)
		if err == nil && (e.MinLength != nil && size < *e.MinLength || e.MaxLength != nil && size > *e.MaxLength) {
			err = fmt.Errorf("size %d", size)
		}
		return err
	}
	got, err := e.number(doc, n)
	if err != nil {
		return err
	}
	switch {
	case e.Op != "":
		return e.compare(doc, got)
	case e.Value != nil:
		tolerance := defaultRelTol * math.Abs(*e.Value)
		if e.RelTol != nil {
			tolerance = *e.RelTol * math.Abs(*e.Value)
		} else if e.AbsTol != nil {
			tolerance = 0
		}
		if e.AbsTol != nil {
			tolerance = max(tolerance, *e.AbsTol)
		}
		if !(math.Abs(got-*e.Value) <= tolerance) {
			return fmt.Errorf("got %v, want %v ± %v", got, *e.Value, tolerance)
		}
	case e.Min != nil || e.Max != nil:
		if e.Min != nil && !(got >= *e.Min*(1-edgeDigits)) || e.Max != nil && !(got <= *e.Max*(1+edgeDigits)) {
			return fmt.Errorf("got %v, outside its bounds", got)
		}
	default:
		return errors.New("a path with nothing expected of it")
	}
	return nil
}

// edgeDigits is what rounding to 6 significant digits may move a number by.
const edgeDigits = 5e-6

// number is the value of a node in the unit the expectation speaks.
func (e expectation) number(doc any, n node) (float64, error) {
	got, ok := n.value.(float64)
	if !ok {
		return 0, fmt.Errorf("%v is no number", n.value)
	}
	if e.Unit == "" {
		return got, nil
	}
	return reference.Convert(got, n.unit(doc), e.Unit)
}

// compare holds two members of one answer against each other: path op factor × than.
func (e expectation) compare(doc any, got float64) error {
	nodes, err := find(doc, e.Than)
	if err != nil {
		return err
	}
	if len(nodes) != 1 {
		return fmt.Errorf("%d members at %s", len(nodes), e.Than)
	}
	other, err := e.number(doc, nodes[0])
	if err != nil {
		return err
	}
	factor, slack := 1.0, 0.0
	if e.Factor != nil {
		factor = *e.Factor
	}
	if e.RelTol != nil {
		slack = *e.RelTol * math.Abs(factor*other)
	}
	want := factor * other
	holds, ok := map[string]bool{
		"==": math.Abs(got-want) <= slack, "<=": got <= want+slack, ">=": got >= want-slack, "<": got < want+slack, ">": got > want-slack,
	}[e.Op]
	if !ok {
		return fmt.Errorf("no comparison %q", e.Op)
	}
	if !holds {
		return fmt.Errorf("%v %s %v × %v does not hold", got, e.Op, factor, other)
	}
	return nil
}

func itoa(i int) string { return strconv.Itoa(i) }
