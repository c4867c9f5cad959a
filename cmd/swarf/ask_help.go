package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"swarf/api/wire"
	"swarf/domain/cut"
	"swarf/domain/unit"
)

// askIntro is the beginning of the page of swarf ask.
const askIntro = `swarf ask asks a server one question and ends with a code that says how it came out.
It is for post scripts, batch files and cells that can only start a program and read a file.

usage: swarf ask QUESTION [-MEMBER VALUE]... [-output FORM] [-field NAME] [-out FILE]
       swarf ask QUESTION -request FILE
       swarf ask read /v1/ROUTE [-PARAMETER VALUE]...

Members are those of the API, by the same names: a cut in metric units is

  swarf ask recommend -units metric -grade 1.4301 -operation side-milling \
      -class mill-end -cutting_diameter 12 -effective_edges 4 -tool_material HC \
      -axial_depth 10 -radial_width 3 -field spindle_speed

Numbers have a decimal point and no unit behind them; -units says which they are in.
`

// askCautions closes each page.
const askCautions = `
An answer is a recommendation for a person who knows the machine. The limits of machine,
tool and work holding, the rules of the shop and of the country come first. Never send a
number to a machine when the exit code is not 0, unless somebody has read the findings.
`

// askPage is the page of swarf ask.
func askPage(out io.Writer) {
	fmt.Fprint(out, askIntro, "\nQuestions\n\n")
	table := tabwriter.NewWriter(out, 0, 8, 2, ' ', 0)
	for _, q := range questions {
		fmt.Fprintf(table, "  %s\t%s\n", q.name, q.what)
	}
	table.Flush()
	fmt.Fprint(out, "\nswarf ask QUESTION -h lists the members of one.\n")
	ownPart(out)
	codePart(out)
	fmt.Fprint(out, `
Output

  text    key=value lines in a fixed order; the last two are status= and lines=, the number
          of all lines, so that a file cut short is noticed
  json    the answer as the API gives it
  value   the number alone, the digits of the other forms. Where there is none, the line
          begins with #ERR and a word: refused, unreachable, usage, or the code of a problem

A file of -out is replaced as a whole, by a refusal too: what stands there is never the answer
of last time. Beside -output value the findings go to the standard error.

Without a network

  swarf ask ... -offline answers from the signed snapshot file of SWARF_SNAPSHOT, with the
  same digits as a server of the same version; swarf snapshot -h tells how to make one.
`)
	fmt.Fprint(out, askCautions)
}

// questionPage is the page of one question: its members object by object.
func questionPage(out io.Writer, q question) {
	fmt.Fprintf(out, "swarf ask %s: %s\n", q.name, q.what)
	all := flatMembers(q.shape)
	members := slices.Clone(all)
	slices.SortStableFunc(members, func(a, b wire.FlatMember) int { return first(all, a.Parent()) - first(all, b.Parent()) })
	for i := range members {
		f := &members[i]
		if i == 0 || members[i-1].Parent() != f.Parent() {
			fmt.Fprintf(out, "\n%s\n\n", titled(cmp.Or(f.Parent(), "the request")))
		}
		fmt.Fprintf(out, "  -%-28s %s\n", f.Name, folded(cmp.Or(wordsFor(f), describe(f)), 32, columns))
	}
	if slices.ContainsFunc(members, func(f wire.FlatMember) bool { return f.Name == "operation" }) {
		needsPart(out)
	}
	if q.name == "read" {
		fmt.Fprint(out, "\nParameters are those of the route, as the page /docs of a server lists them.\n")
	} else {
		fmt.Fprint(out, "\nBeside the members\n\n")
		for _, b := range beside {
			fmt.Fprintf(out, "  -%-28s %s\n", b.name, folded(b.what, 32, columns))
		}
	}
	ownPart(out)
	codePart(out)
	fmt.Fprintf(out, "\nFor example\n\n  %s\n", strings.ReplaceAll(folded("swarf ask "+q.name+" "+q.example, 6, columns-2), "\n", " \\\n"))
	fmt.Fprint(out, askCautions)
}

// needsPart lists what the engagement of each operation must say.
func needsPart(out io.Writer) {
	fmt.Fprint(out, "\nWhat the engagement of each operation needs\n\n")
	for _, name := range cut.Names() {
		o, _ := cut.Find(name)
		needs := slices.Clone(o.Required)
		for _, list := range o.OneOf {
			needs = append(needs, strings.Join(list, " or "))
		}
		fmt.Fprintf(out, "  %-20s %s\n", name, folded(cmp.Or(strings.Join(needs, ", "), "nothing"), 23, columns))
	}
}

// first is where the members of an object begin in a list.
func first(list []wire.FlatMember, parent string) int {
	return slices.IndexFunc(list, func(f wire.FlatMember) bool { return f.Parent() == parent })
}

func ownPart(out io.Writer) {
	fmt.Fprint(out, "\nHow to ask and where to\n\n")
	for _, f := range own {
		fmt.Fprintf(out, "  -%-28s %s\n", strings.TrimSpace(f.name+" "+f.value), folded(f.what, 32, columns))
	}
}

func codePart(out io.Writer) {
	fmt.Fprint(out, "\nExit codes\n\n")
	for _, c := range exitCodes {
		fmt.Fprintf(out, "  %d  %s\n", c.code, folded(c.what, 5, columns))
	}
}

// titled begins a heading.
func titled(path string) string {
	return strings.ToUpper(path[:1]) + strings.NewReplacer("_", " ", ".", ", ").Replace(path[1:])
}

// columns is how wide a page is.
const columns = 100

// folded breaks a text into lines of so many columns, those after the first indented.
func folded(text string, indent, width int) string {
	var b strings.Builder
	column := indent
	for i, word := range strings.Fields(text) {
		switch {
		case i == 0:
		case column+1+len(word) > width:
			b.WriteString("\n" + strings.Repeat(" ", indent))
			column = indent
		default:
			b.WriteByte(' ')
			column++
		}
		b.WriteString(word)
		column += len(word)
	}
	return b.String()
}

// wordsFor are words that the shape does not list.
func wordsFor(f *wire.FlatMember) string {
	if f.Name == "operation" {
		return strings.Join(cut.Names(), ", ")
	}
	if f.Name == "class" {
		return "a tool class; swarf ask read /v1/tool-classes lists them"
	}
	if f.Name == "machine" {
		return "the id of a machine; swarf ask read /v1/machines lists them"
	}
	return ""
}

// unitsOf says in which units a number is given.
func unitsOf(f *wire.FlatMember) string {
	metric, inch := f.Quantity.Label(unit.Metric), f.Quantity.Label(unit.Inch)
	if metric == inch {
		return metric
	}
	return metric + "; inch: " + inch
}
