package api

import (
	"slices"

	"swarf/api/wire"
	"swarf/domain"
)

// wholeFormats are those of which no members can be chosen.
var wholeFormats = []format{formatValue, formatWords, formatSVG, formatPNG, formatXLSX}

// readField checks that a value that is asked for is named, and only then.
func (x *exchange) readField() domain.Errors {
	field := x.query.text("field")
	switch {
	case x.query.text("fields") != "" && slices.Contains(wholeFormats, x.format):
		return domain.Errors{fault(domain.Invalid, "fields-conflict", "fields", "fields chooses members, and the answer is "+x.format.String(), "leave it out, or ask for format=json, text or csv")}
	case x.format == formatValue && field == "":
		return domain.Errors{fault(domain.Unreadable, "field-missing", "field", "format=value is one value of the answer, and field does not say which", "add field, such as field=spindle_speed; format=text shows all")}
	case x.format != formatValue && field != "":
		return domain.Errors{fault(domain.Invalid, "fields-conflict", "field", "field names the one value of format=value, and the answer is "+x.format.String(), "ask for format=value, or take fields to choose members")}
	}
	return nil
}

// value writes the one value of an answer that the parameter field names.
func (x *exchange) value(answer any) ([]byte, error) {
	field := x.query.text("field")
	body, there, bad := wire.AppendValue(nil, answer, x.system, field)
	if bad != nil {
		return nil, faultsFromWire([]wire.InputFault{*bad})
	}
	if !there {
		why := "it does not apply, or has no record"
		if textStatus(answer) == "refused" {
			why = "the cut is refused"
		}
		return nil, fault(domain.Invalid, "no-value", "field", "the answer has no "+clip(field)+": "+why, "ask for format=text, which says why; a member of a list needs its place, as in results[0].verdict")
	}
	return body, nil
}
