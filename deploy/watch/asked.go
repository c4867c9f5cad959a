// Package watch reads what those who watch a running service ask Prometheus for.
package watch

import (
	"embed"
	"encoding/json"
	"testing"

	"github.com/prometheus/common/model"
	"github.com/prometheus/prometheus/promql/parser"
	"sigs.k8s.io/yaml"
)

//go:embed alerts.yaml dashboard.json runbook.md
var files embed.FS

// Expression is what a rule or a panel asks for: metrics, each with the labels it is
// chosen by.
type Expression struct {
	Where   string
	Metrics map[string][]string
	Grouped []string // labels that results are grouped by
}

// Alert is a rule.
type Alert struct {
	Alert       string            `json:"alert"`
	Expr        string            `json:"expr"`
	For         string            `json:"for"`
	Labels      map[string]string `json:"labels"`
	Annotations map[string]string `json:"annotations"`
}

type rules struct {
	Groups []struct {
		Name  string  `json:"name"`
		Rules []Alert `json:"rules"`
	} `json:"groups"`
}

type dashboard struct {
	Panels []struct {
		Title   string
		Targets []struct{ Expr string }
	}
}

// Alerts reads the rules, strictly.
func Alerts(t testing.TB) (list []Alert) {
	t.Helper()
	var r rules
	if err := yaml.UnmarshalStrict(text(t, "alerts.yaml"), &r); err != nil {
		t.Fatal(err)
	}
	for _, g := range r.Groups {
		list = append(list, g.Rules...)
	}
	return list
}

// Asked are the expressions of all rules and panels, read with Prometheus's own parser.
func Asked(t testing.TB) (list []Expression) {
	t.Helper()
	for _, a := range Alerts(t) {
		list = append(list, expression(t, "alert "+a.Alert, a.Expr))
	}
	var d dashboard
	if err := json.Unmarshal(text(t, "dashboard.json"), &d); err != nil {
		t.Fatal(err)
	}
	for _, p := range d.Panels {
		for _, target := range p.Targets {
			list = append(list, expression(t, "panel "+p.Title, target.Expr))
		}
	}
	return list
}

func text(t testing.TB, name string) []byte {
	t.Helper()
	data, err := files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func expression(t testing.TB, where, expr string) Expression {
	t.Helper()
	parsed, err := parser.NewParser(parser.Options{}).ParseExpr(expr)
	if err != nil {
		t.Fatalf("%s: %v", where, err)
	}
	out := Expression{Where: where, Metrics: map[string][]string{}}
	parser.Inspect(parsed, func(n parser.Node, _ []parser.Node) error {
		switch n := n.(type) {
		case *parser.VectorSelector:
			for _, m := range n.LabelMatchers {
				if m.Name != model.MetricNameLabel {
					out.Metrics[n.Name] = append(out.Metrics[n.Name], m.Name)
				} else if out.Metrics[n.Name] == nil {
					out.Metrics[n.Name] = []string{}
				}
			}
		case *parser.AggregateExpr:
			out.Grouped = append(out.Grouped, n.Grouping...)
		}
		return nil
	})
	for name := range out.Metrics {
		out.Metrics[name] = append(out.Metrics[name], out.Grouped...)
	}
	return out
}
