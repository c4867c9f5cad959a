package api

import (
	"fmt"
	"strings"

	"swarf/api/tabular"
	"swarf/api/wire"
	"swarf/domain"
)

// csvParameters say how CSV is written for a spreadsheet that expects another country's.
var csvParameters = []string{"decimal", "delimiter", "bom"}

// csvStyle is what they come to.
type csvStyle struct{ wire.CSVStyle }

func (s csvStyle) table() tabular.Style {
	out := tabular.Style{Separator: rune(s.Separator), Comma: s.Comma, Mark: s.Mark}
	if s.Comma && s.Separator == 0 {
		out.Separator = ';'
	}
	return out
}

// String tells one style from another.
func (s csvStyle) String() string { return fmt.Sprintf("%c%t%t", s.Separator, s.Comma, s.Mark) }

// readStyle reads decimal, delimiter and bom. With another format they have no meaning, nor have
// the parameters of words: what would not be looked at is refused.
func (x *exchange) readStyle() domain.Errors {
	var faults domain.Errors
	for _, name := range csvParameters {
		if x.query.text(name) != "" && x.format != formatCSV {
			faults = append(faults, fault(domain.Invalid, "fields-conflict", name, name+" says how CSV is written, and the answer is "+x.format.String(), "ask for format=csv, or leave it out"))
		}
	}
	for _, name := range wordParameters {
		if x.query.text(name) != "" && x.format != formatWords {
			faults = append(faults, fault(domain.Invalid, "fields-conflict", name, name+" says how words of a program are written, and the answer is "+x.format.String(), "ask for format=words, or leave it out"))
		}
	}
	pick := func(name string, words ...string) string {
		text := x.query.text(name)
		for _, w := range words {
			if text == w || text == "" {
				return text
			}
		}
		faults = append(faults, fault(domain.Invalid, "value-out-of-range", name, name+" is "+quoteClipped(text), "one of "+strings.Join(words, ", ")))
		return ""
	}
	x.style.Comma = pick("decimal", "point", "comma") == "comma"
	switch pick("delimiter", "comma", "semicolon", "tab") {
	case "comma":
		if x.style.Separator = ','; x.style.Comma {
			faults = append(faults, fault(domain.Invalid, "fields-conflict", "delimiter", "decimal commas and commas between cells cannot be told apart", "take delimiter=semicolon or tab"))
		}
	case "semicolon":
		x.style.Separator = ';'
	case "tab":
		x.style.Separator = '\t'
	}
	mark, bad := x.query.flag("bom")
	if x.style.Mark = mark; bad != nil {
		faults = append(faults, bad)
	}
	return faults
}
