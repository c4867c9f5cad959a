package api

import (
	"net/url"
	"slices"
	"strconv"
	"strings"

	"swarf/domain"
	"swarf/domain/unit"
)

// parameters are the query parameters of a request, each given once.
type parameters map[string]string

func (p parameters) text(name string) string { return p[name] }

// readQuery reads the query string as the row of the route says: no unknown names,
// nothing twice, nothing empty. It settles format and unit system on the way.
func (x *exchange) readQuery() error {
	r := x.Request()
	var faults domain.Errors
	if r.URL.RawQuery != "" && !x.route.flat() {
		x.query, faults = readParameters(r.URL.RawQuery, x.known)
	} else if r.URL.RawQuery != "" {
		// The members of the request stand in the query too; the decoder of the
		// wire reads those and refuses what it does not know.
		x.query, faults = reservedParameters(r.URL.RawQuery, x.known)
	}
	if text := x.query.text("units"); text != "" {
		system, ok := unit.ParseSystem(text)
		if !ok && !x.route.flat() {
			faults = append(faults, fault(domain.Unreadable, "units-unknown", "units", "units are "+strconv.Quote(clip(text)), "say metric or inch"))
		}
		x.system = system
	}
	if len(x.route.offers) > 0 {
		if len(x.route.offers) > 1 {
			x.Response().Header()["Vary"] = varyAccept
			if x.route.ofCuts() {
				x.Response().Header()["Vary"] = varyPrefer
			}
		}
		var err error
		if x.format, err = negotiate(x.query.text("format"), strings.Join(r.Header.Values("Accept"), ","), x.route.offers); err != nil {
			return err
		}
	}
	if len(x.query) > 0 {
		faults = append(faults, x.readStyle()...)
	}
	faults = append(faults, x.readField()...)
	return faults.OrNil()
}

func unreadableQuery() domain.Errors {
	return domain.Errors{fault(domain.Unreadable, "wrong-type", "", "the query string cannot be read", "encode reserved characters with percent signs; separate parameters by &")}
}

// readParameters reads a query string strictly.
func readParameters(raw string, known []string) (parameters, domain.Errors) {
	values, err := url.ParseQuery(raw)
	if err != nil {
		return nil, unreadableQuery()
	}
	var faults domain.Errors
	query := make(parameters, len(values))
	names := make([]string, 0, len(values))
	for name := range values {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		list := values[name]
		switch {
		case !slices.Contains(known, name):
			faults = append(faults, unknownParameter(name, known))
		case len(list) > 1:
			faults = append(faults, fault(domain.Unreadable, "wrong-type", name, "the parameter is given "+strconv.Itoa(len(list))+" times", "give it once"))
		case list[0] == "":
			faults = append(faults, fault(domain.Unreadable, "wrong-type", name, "the parameter is empty", "give a value or leave it out"))
		default:
			query[name] = list[0]
		}
	}
	return query, faults
}

// reservedParameters reads only the parameters that stand beside a computation's
// own members; whatever else is there is left to the decoder.
func reservedParameters(raw string, known []string) (parameters, domain.Errors) {
	values, err := url.ParseQuery(raw)
	if err != nil {
		return nil, unreadableQuery()
	}
	reserved := make(url.Values, len(known)+1)
	for _, name := range beside {
		if list, ok := values[name]; ok {
			reserved[name] = list
		}
	}
	query, faults := readParameters(reserved.Encode(), known)
	if list := values["units"]; len(list) == 1 {
		query["units"] = list[0]
	}
	return query, faults
}

func unknownParameter(name string, known []string) *domain.Error {
	fix := "remove it"
	if near := nearest(name, known); near != "" {
		fix = "remove it or spell it as " + near
	} else if len(known) > 0 {
		fix = "remove it; the route knows " + strings.Join(known, ", ")
	}
	return fault(domain.Unreadable, "unknown-parameter", clip(name), "there is no parameter "+strconv.Quote(clip(name)), fix)
}

// whole reads a whole number between two ends.
func (p parameters) whole(name string, low, high, absent int64) (int64, *domain.Error) {
	text, given := p[name]
	if !given {
		return absent, nil
	}
	n, err := strconv.ParseInt(text, 10, 64)
	span := strconv.FormatInt(low, 10) + " to " + strconv.FormatInt(high, 10)
	if !isDigits(text) {
		return absent, fault(domain.Unreadable, "wrong-type", name, name+" is "+strconv.Quote(clip(text))+", not a whole number", "send a whole number from "+span)
	}
	if err != nil || n < low || n > high {
		return absent, fault(domain.Invalid, "value-out-of-range", name, name+" is "+clip(text)+"; allowed are "+span, "stay within "+span)
	}
	return n, nil
}

func isDigits(text string) bool {
	text = strings.TrimPrefix(text, "-")
	return text != "" && !strings.ContainsFunc(text, func(r rune) bool { return r < '0' || r > '9' })
}

// flag reads true or false.
func (p parameters) flag(name string) (bool, *domain.Error) {
	switch text := p[name]; text {
	case "", "false":
		return false, nil
	case "true":
		return true, nil
	default:
		return false, fault(domain.Unreadable, "wrong-type", name, name+" is "+strconv.Quote(clip(text)), "send true or false")
	}
}
