// Package worked holds one cut of every operation as a worked example: the page of
// examples and the OpenAPI document both show them, and a test sends each.
package worked

import (
	"net/url"
	"strings"

	"swarf/api/wire"
)

// Example is one cut with its parameters, as flat members of a query.
type Example struct {
	Operation string
	Says      string // what is cut, in a line
	Asks      string // its members, name=value with blanks between, as people write them
}

// Member is one member of an example.
type Member struct{ Name, Value string }

// Members are the members in their order.
func (e *Example) Members() []Member {
	var out []Member
	for part := range strings.FieldsSeq(e.Asks) {
		name, value, _ := strings.Cut(part, "=")
		out = append(out, Member{name, value})
	}
	return out
}

// Query is the example as query parameters.
func (e *Example) Query() url.Values {
	values := url.Values{}
	for _, m := range e.Members() {
		values.Set(m.Name, m.Value)
	}
	return values
}

// Body is the example as a JSON body.
func (e *Example) Body() []byte {
	var c wire.Cut
	in := wire.DecodeQuery(e.Query(), &c, wire.DecodeOptions{})
	body, err := wire.AppendJSON(nil, &c, in.System)
	if err != nil || len(in.Faults) > 0 {
		panic(e.Operation) // a test sends each
	}
	return body
}

// given are the members by which an example says what is run; without them it asks what to
// run.
var given = []string{"cutting_speed", "spindle_speed", "feed_per_revolution", "feed_per_tooth", "feed_rate"}

// Open is the example without what a recommendation chooses.
func (e *Example) Open() url.Values {
	values := e.Query()
	for _, name := range given {
		values.Del(name)
	}
	return values
}
