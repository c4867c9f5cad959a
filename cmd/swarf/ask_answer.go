package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"regexp"
	"slices"
	"strings"

	"swarf/api/client"
	"swarf/domain"
)

// outcome is what goes out, and how it came out.
type outcome struct {
	text string
	code int
	err  error // for people; nil when the text says it all
}

// outcomeOf reads an answer, or why there is none.
func (p *program) outcomeOf(a *asking, got *client.Answer, err error) (outcome, error) {
	var problem *client.Problem
	var lost *client.Unreachable
	switch {
	case errors.As(err, &problem):
		return problemOutcome(a, problem), nil
	case errors.As(err, &lost):
		return outcome{lostText(a, lost), exitUnreachable, lost}, nil
	case err != nil:
		return outcome{}, err
	}
	lines := linesOf(a, got.Body)
	out := outcome{text: string(got.Body), code: codeOfLines(lines)}
	if a.output == "value" {
		return valueOutcome(a, lines, out.code)
	}
	return out, nil
}

// problemOutcome is a request that was refused, or that the server cannot answer now.
func problemOutcome(a *asking, problem *client.Problem) outcome {
	out := outcome{text: string(problem.Body), code: exitRefused, err: problem}
	if problem.Status >= http.StatusInternalServerError || problem.Status == http.StatusTooManyRequests {
		out.code = exitUnreachable
	}
	code := problem.Code
	if code == "" {
		lines := linesOf(a, problem.Body)
		code = lines.value("code")
		if detail := lines.value("detail"); detail != "" {
			out.err = errors.New(code + ": " + detail)
		}
	}
	if code == "" {
		code = wordOf(out.code)
	}
	if a.output == "value" || len(problem.Body) == 0 {
		out.text = markedLine(code, "")
	}
	return out
}

// lostText is what goes out where nothing came, in the form that was asked for.
func lostText(a *asking, lost *client.Unreachable) string {
	switch a.output {
	case "json":
		text, err := json.Marshal(map[string]string{"code": "unreachable", "title": "No answer", "detail": lost.Error()})
		if err == nil {
			return string(text) + "\n"
		}
	case "text":
		return "code=unreachable\nstatus=error\nlines=3\n"
	}
	return markedLine("unreachable", "")
}

// markedLine is what stands where a number was wanted and there is none: no reader takes it
// for one.
func markedLine(code, why string) string {
	return strings.TrimSpace("#ERR "+code+" "+strings.Join(strings.Fields(why), " ")) + "\n"
}

// wordOf names an exit code.
func wordOf(code int) string {
	switch code {
	case exitUsage:
		return "usage"
	case exitRefused:
		return "refused"
	case exitUnreachable:
		return "unreachable"
	}
	return "failed"
}

// lines is an answer as paths and values, in its order.
type lines [][2]string

// linesOf flattens an answer: text as it is, JSON member by member.
func linesOf(a *asking, body []byte) lines {
	var out lines
	if a.output == "json" {
		var whole any
		if json.Unmarshal(body, &whole) == nil {
			flatten("", whole, &out)
		}
		return out
	}
	for line := range strings.Lines(string(body)) {
		if path, value, found := strings.Cut(strings.TrimRight(line, "\r\n"), "="); found {
			out = append(out, [2]string{path, value})
		}
	}
	return out
}

func flatten(path string, v any, out *lines) {
	switch v := v.(type) {
	case map[string]any:
		for name, inner := range v {
			flatten(strings.TrimPrefix(path+"."+name, "."), inner, out)
		}
	case []any:
		for i, inner := range v {
			flatten(fmt.Sprintf("%s[%d]", path, i), inner, out)
		}
	case string:
		*out = append(*out, [2]string{path, v})
	}
}

// value is that of a path; empty when there is none.
func (l lines) value(path string) string {
	for _, line := range l {
		if line[0] == path {
			return line[1]
		}
	}
	return ""
}

// verdictPath is that of the verdict on a cut, in an answer or a list of them; there are
// others within, on what would mend it and on a spot before a hole.
var verdictPath = regexp.MustCompile(`^((results|items|cuts)\[\d+\]\.(answer\.)?)?verdict$`)

// codeOfLines is the exit code of an answer: refused with any verdict no, warnings with any
// other that is not yes and with any finding that somebody must read.
func codeOfLines(l lines) int {
	code := exitFine
	for _, line := range l {
		switch {
		case verdictPath.MatchString(line[0]):
			if line[1] == string(domain.No) {
				return exitRefused
			} else if line[1] != string(domain.Yes) {
				code = exitWarnings
			}
		case strings.HasSuffix(line[0], ".severity"):
			switch line[1] {
			case domain.Refusal.String():
				return exitRefused
			case domain.Hold.String(), domain.Warning.String():
				code = exitWarnings
			}
		}
	}
	return code
}

// findings are those that somebody must read, for people.
func (l lines) findings() error {
	var all []error
	for _, line := range l {
		path, found := strings.CutSuffix(line[0], ".severity")
		if found && slices.Contains([]string{"refusal", "hold", "warning"}, line[1]) {
			all = append(all, errors.New(line[1]+": "+l.value(path+".code")+": "+l.value(path+".message")))
		}
	}
	return errors.Join(all...)
}

// valueOutcome is one bare number or word. A cut that must not run gives none.
func valueOutcome(a *asking, l lines, code int) (outcome, error) {
	if code == exitRefused {
		return outcome{markedLine("refused", ""), code, l.findings()}, nil
	}
	path, err := l.find(a.field)
	if err != nil {
		return outcome{}, err
	}
	return outcome{l.value(path) + "\n", code, l.findings()}, nil
}

// find is the path that a field means: itself, or the one path that ends so.
func (l lines) find(field string) (string, error) {
	var ends []string
	for _, line := range l {
		if line[0] == field {
			return field, nil
		}
		if strings.HasSuffix(line[0], "."+field) && !strings.Contains(line[0], "unit_of.") {
			ends = append(ends, line[0])
		}
	}
	switch len(ends) {
	case 1:
		return ends[0], nil
	case 0:
		return "", &ending{exitRefused, fmt.Errorf("the answer has no %s", field)}
	}
	return "", fmt.Errorf("%w: -field %s stands in the answer more than once: say %s", errUsage, field, strings.Join(ends, " or "))
}
