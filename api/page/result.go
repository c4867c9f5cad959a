package page

import (
	"cmp"
	"slices"
	"strings"
)

// Link leads to the same answer in another form.
type Link struct{ Text, Href string }

// Result is the answer to a computation as a page.
type Result struct {
	Asked  *Node // the request, in the units of the answer
	Answer *Node
	Figure *Figure // nil: no picture
	Links  []Link  // the same answer in other forms
	Again  string  // the address that gives this answer again; empty: sent as a body
}

// kinds are the computations by a member that only their answer has, with the template of
// each; an answer without any is that of a cut.
var kinds = []struct {
	member string
	page   *Template
	title  func(*Result) string
}{
	{"results", load("spindles"), func(r *Result) string { return "Spindle check" }},
	{"cuts", load("plan"), func(r *Result) string { return "Plan" }},
	{"correction", load("correction"), func(r *Result) string { return "Correction of the " + r.Answer.Word("correction.register") }},
	{"causes", load("diagnosis"), func(r *Result) string { return "Reading of a meter" }},
	{"", load("answer"), func(r *Result) string { return r.Title() }},
}

// load makes a page of a template file.
func load(name string) *Template {
	return New(`{{define "main"}}{{template "` + name + `.html" .}}{{end}}{{define "links"}}{{template "forms" .}}{{end}}`)
}

// Write lays the answer out.
func (r *Result) Write() ([]byte, error) {
	for _, k := range kinds {
		if k.member == "" || r.Answer.At(k.member) != nil {
			title := k.title(r)
			if ref := r.Answer.Word("ref"); ref != "" {
				title = ref + ": " + title
			}
			return k.page.Write(title, r)
		}
	}
	return nil, nil // the last kind takes all
}

// Policy is the content security policy of the page.
func (r *Result) Policy() string {
	if r.Figure == nil || r.Figure.font == "" {
		return Policy
	}
	return strings.Replace(Policy, "; font-src", " "+hashOf(r.Figure.font)+"; font-src", 1)
}

// Title says what was cut.
func (r *Result) Title() string {
	parts := []string{Operation(r.Answer.Word("operation")), cmp.Or(r.Answer.Word("material.name"), r.Answer.Word("material.id"))}
	if group := r.Answer.Word("material.group"); group != "" && parts[1] == "" {
		parts[1] = "ISO 513 group " + group
	}
	parts = append(parts, plain(r.Answer.Word("material.condition")))
	parts = slices.DeleteFunc(parts, func(p string) bool { return p == "" })
	return cmp.Or(strings.Join(parts, ", "), "Answer")
}

// Finding is one finding with how grave it is.
type Finding struct {
	*Node
	Severity, Title, Means string
}

// findings are those of a node, the gravest first.
func findings(n *Node) []Finding {
	var out []Finding
	list := n.At("findings")
	if list == nil {
		return nil
	}
	for _, s := range severities {
		for _, f := range list.Members {
			if f.Word("severity") == s.name {
				out = append(out, Finding{f, s.name, s.title, s.means})
			}
		}
	}
	return out
}

// shown are the members of an answer that have a place of their own on the page.
var shown = []string{"ref", "units", "data_revision", "model_version", "verdict", "material", "operation", "engagement", "parameters", "edge_state",
	"loads", "loads_worn", "loads_sharp", "bound_by", "machine", "findings", "assumed", "unchecked", "sources", "explain"}

// Rest are the members of an answer that have no place of their own.
func Rest(n *Node) []*Node {
	var out []*Node
	for _, m := range n.Members {
		if !slices.Contains(shown, m.Name) {
			out = append(out, m)
		}
	}
	return out
}

// Load is one load with a sharp and with a worn edge, and its interval.
type Load struct{ Sharp, Worn, Interval *Node }

// Name is the node that names the load.
func (l Load) Name() *Node { return cmp.Or(l.Sharp, l.Worn) }

// loads pairs the loads of both states of the edge.
func loads(answer *Node) []Load {
	sharp, worn := answer.At("loads"), answer.At("loads_worn")
	if other := answer.At("loads_sharp"); other != nil {
		sharp, worn = other, cmp.Or(answer.At("loads_worn"), sharp)
	}
	var out []Load
	for _, n := range []*Node{sharp, worn} {
		if n == nil {
			continue
		}
		for _, m := range n.Members {
			if !m.Number || slices.ContainsFunc(out, func(l Load) bool { return l.Name().Name == m.Name }) {
				continue
			}
			l := Load{Sharp: sharp.At(m.Name), Worn: worn.At(m.Name)}
			for _, from := range []*Node{answer.At("loads"), worn, sharp} {
				l.Interval = cmp.Or(l.Interval, from.At("interval."+m.Name))
			}
			out = append(out, l)
		}
	}
	return out
}
