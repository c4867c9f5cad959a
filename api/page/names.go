package page

import (
	"html/template"
	"strconv"
	"strings"
)

// letters are the symbols of the trade beside a member's name (ISO 3002-1, ISO 3002-3 and
// ISO 3002-4; DIN 6580, DIN 6584).
var letters = map[string]string{
	"cutting_speed": "vc", "spindle_speed": "n", "feed_per_revolution": "f", "feed_per_tooth": "fz", "feed_rate": "vf",
	"thickness_mean": "hm", "thickness_max": "hmax", "specific_cutting_force": "kc", "cutting_force": "Fc", "feed_force": "Ff",
	"passive_force": "Fp", "torque": "M", "cutting_power": "Pc", "removal_rate": "Q", "depth_of_cut": "ap", "axial_depth": "ap", "radial_width": "ae",
}

// Letter is the symbol of a member, empty when it has none.
func (n *Node) Letter() string {
	if n == nil {
		return ""
	}
	return letters[n.Name]
}

// Label is the name of a member as people write it.
func (n *Node) Label() string { return label(n.Name) }

// label writes the name of a member as words.
func label(name string) string {
	words := strings.ReplaceAll(name, "_", " ")
	if words == "" {
		return words
	}
	return strings.ToUpper(words[:1]) + words[1:]
}

// plain writes a word of the wire, such as side-milling, as people do.
func plain(word string) string {
	return strings.ReplaceAll(strings.ReplaceAll(word, "-", " "), "_", " ")
}

// Plain is the text of a word of the wire as people write it.
func (n *Node) Plain() string {
	if n == nil {
		return ""
	}
	return label(plain(n.Text))
}

// severities are the severities from the gravest on, with what each asks of the reader.
var severities = []struct{ name, title, means string }{
	{"refusal", "Refusal", "do not run it"},
	{"hold", "Hold", "a named person must release it, with a reason"},
	{"warning", "Warning", "read it before the cut"},
	{"note", "Note", "to know"},
}

// Verdict is what an answer comes to, and what it asks of the reader.
type Verdict struct{ Sign, Title, Means string }

var verdicts = map[string]Verdict{
	"yes":         {"yes", "Yes", "Nothing that was checked speaks against it."},
	"conditional": {"hold", "Conditional", "Not before a named person has released the holds below."},
	"no":          {"refusal", "No", "Do not run it: the refusals below say why."},
}

// verdictOf is the verdict of an answer; nil when it has none. It names what else must be
// read: warnings, and what was not checked.
func verdictOf(n *Node) *Verdict {
	v, ok := verdicts[n.Word("verdict")]
	if !ok {
		return nil
	}
	warnings := 0
	for _, f := range findings(n) {
		if f.Severity == "warning" {
			warnings++
		}
	}
	var more []string
	if warnings > 0 {
		more = append(more, count(warnings, "warning", "warnings"))
	}
	if open := n.At("unchecked"); open != nil {
		more = append(more, count(len(open.Members), "check not made", "checks not made"))
	}
	if len(more) > 0 {
		v.Means += " " + strings.Join(more, ", ") + "."
	}
	return &v
}

// count writes how many there are of something.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// prose is a text in which backticks stand around what is written on the wire.
func prose(text string) template.HTML {
	var b strings.Builder
	for i, part := range strings.Split(text, "`") {
		if escaped := template.HTMLEscapeString(part); i%2 == 1 {
			b.WriteString("<code>" + escaped + "</code>")
		} else {
			b.WriteString(escaped)
		}
	}
	return template.HTML(b.String()) // #nosec G203 -- every part was escaped
}

// named are the operations whose words stand in another order than in their name.
var named = map[string]string{"boring-internal": "Internal boring", "boring-rotating": "Boring with a rotating tool"}

// Operation is the name of an operation as people write it.
func Operation(name string) string {
	if text, ok := named[name]; ok {
		return text
	}
	return label(plain(name))
}
