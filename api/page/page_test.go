package page

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"swarf/api/wire"
	"swarf/domain/unit"
)

// Whatever stands in the data of a page is text in the page.
func TestTextIsEscaped(t *testing.T) {
	nasty := `</title><script>alert("1")</script><img src=x onerror=alert(2)> & 'so'`
	out, err := New(`{{define "main"}}<p title="{{.}}">{{.}}</p><p>{{prose .}}</p>{{end}}`).Write(nasty, nasty)
	if err != nil {
		t.Fatal(err)
	}
	if text := string(out); strings.Contains(text, "<script") || strings.Contains(text, "<img") || strings.Count(text, "&lt;/title&gt;&lt;script&gt;") != 4 {
		t.Errorf("not escaped: %s", text[strings.Index(text, "</head>"):])
	}
	if got := prose("send `units`, <b>"); got != "send <code>units</code>, &lt;b&gt;" {
		t.Error(got)
	}
}

// luminance is the relative luminance of a colour #rrggbb (WCAG 2.2, relative luminance).
func luminance(t *testing.T, colour string) float64 {
	t.Helper()
	v, err := strconv.ParseUint(strings.TrimPrefix(colour, "#"), 16, 32)
	if err != nil || len(colour) != 7 {
		t.Fatalf("colour %q", colour)
	}
	linear := func(c uint64) float64 {
		s := float64(c&0xff) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(v>>16) + 0.7152*linear(v>>8) + 0.0722*linear(v)
}

// Letters stand out from what is behind them by 4.5 to 1, those that matter most by 7 to 1,
// and what is drawn by 3 to 1 (WCAG 2.2, success criteria 1.4.3, 1.4.6 and 1.4.11).
func TestContrast(t *testing.T) {
	colours := map[string]string{}
	for _, m := range regexp.MustCompile(`--([a-z]+): (#[0-9a-f]{6});`).FindAllStringSubmatch(string(style), -1) {
		colours[m[1]] = m[2]
	}
	if loose := regexp.MustCompile(`#[0-9a-f]{3,8}\b`).FindAllString(string(style), -1); len(loose) != len(colours) {
		t.Errorf("colours outside the list of them: %v", loose)
	}
	ratio := func(a, b string) float64 {
		x, y := luminance(t, colours[a]), luminance(t, colours[b])
		return (max(x, y) + 0.05) / (min(x, y) + 0.05)
	}
	if black := (luminance(t, "#ffffff") + 0.05) / (luminance(t, "#000000") + 0.05); math.Abs(black-21) > 1e-9 {
		t.Fatalf("white on black is %g", black) // 21 as the recommendation says
	}
	for _, c := range []struct {
		front, behind string
		least         float64
	}{
		{"ink", "paper", 7}, {"ink", "shade", 7}, {"soft", "paper", 7}, {"soft", "shade", 4.5}, {"link", "paper", 7},
		{"used", "paper", 3}, {"stop", "paper", 3}, {"rule", "paper", 3},
	} {
		if got := ratio(c.front, c.behind); !(got >= c.least) {
			t.Errorf("%s on %s stands out by %.2f, less than %g", c.front, c.behind, got, c.least)
		}
	}
}

// Severities differ in the shape of their sign, in the stroke beside them and in words.
func TestSeveritiesWithoutColour(t *testing.T) {
	shapes, strokes, words := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, s := range severities {
		shapes[string(signs[s.name])], words[s.title] = true, true
		rule := regexp.MustCompile(`\.finding(?:\.`+s.name+`)? \{ border-left: ([^;]*) var`).FindAllStringSubmatch(string(style), -1)
		if len(rule) == 0 {
			t.Fatalf("no stroke of %s", s.name)
		}
		strokes[rule[len(rule)-1][1]] = true
	}
	if len(shapes) != len(severities) || len(strokes) != len(severities) || len(words) != len(severities) {
		t.Errorf("%d shapes, %v, %v", len(shapes), strokes, words)
	}
}

// A tree gives back what was in the leaves: lists, objects in them, units beside numbers.
func TestTree(t *testing.T) {
	root := Tree([]wire.Leaf{
		{Path: "machine.limits[0].limit", Value: "torque", Text: true}, {Path: "machine.limits[0].demand", Value: "51.5"}, {Path: "machine.limits[0].unit", Value: "N.m", Text: true},
		{Path: "machine.limits[1].limit", Value: "power", Text: true}, {Path: "machine.limits[1].demand", Value: "6.8"}, {Path: "machine.limits[1].unit", Value: "kW", Text: true},
		{Path: "tool.cutting_diameter", Value: "30", Unit: unit.Length}, {Path: "machines[0]", Value: "a", Text: true}, {Path: "machines[1]", Value: "b", Text: true},
	}, unit.Metric)
	limits := root.At("machine.limits")
	if !limits.List || len(limits.Members) != 2 || limits.Members[1].At("demand").Unit() != "kW" || limits.Members[0].At("demand").Unit() != "N·m" {
		t.Errorf("%+v", limits)
	}
	if d := root.At("tool.cutting_diameter"); d.Unit() != "mm" || d.Label() != "Cutting diameter" {
		t.Errorf("%+v", d)
	}
	if root.At("machine.nothing.at.all") != nil || root.Word("machine.nothing") != "" {
		t.Error("what is not there was found")
	}
	facts := root.Facts()
	if len(facts) != 2 || facts[0].Label != "Tool, cutting diameter" || facts[1].Value.Text != "a, b" {
		t.Errorf("%+v", facts)
	}
	tables := root.Tables()
	if len(tables) != 1 || tables[0].Caption != "Machine, limits" || strings.Join(tables[0].Heads, " ") != "Limit Demand" || !tables[0].Numeric(1) || tables[0].Numeric(0) {
		t.Errorf("%+v", tables)
	}
}

func TestPercent(t *testing.T) {
	for text, want := range map[string]string{"0.560478": "56.0478", "1": "100", "0.00848826": "0.848826", "12.5": "1250", "0": "0", "0.05": "5", "1.005": "100.5", "-0.02": "-2", "0.1": "10"} {
		if got := (&Node{Text: text}).Percent(); got != want {
			t.Errorf("%s is %s %%, want %s", text, got, want)
		}
	}
	if got := (&Node{Text: "0.0000004", Number: true}).Odds(); got != "under 0.000001" {
		t.Error(got)
	}
}

// Bars end where the limit is used, stop at the end of their room, and say when one is
// exceeded.
func TestBars(t *testing.T) {
	half, far := &Node{Text: "0.5"}, &Node{Text: "3"}
	if got := string(bar(half, nil)); !strings.Contains(got, `class="sharp" y="6" width="40.00%"`) || strings.Contains(got, "beyond") || strings.Contains(got, `class="worn"`) {
		t.Error(got)
	}
	if got := string(bar(half, far)); !strings.Contains(got, `class="worn" y="1" width="100.00%"`) || !strings.Contains(got, "beyond") {
		t.Error(got)
	}
	if over(half, nil) || !over(half, far) || over(&Node{Text: "1"}, nil) {
		t.Error("over")
	}
}
