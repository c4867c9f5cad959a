package main

import (
	"flag"
	"io"
	"strings"
	"time"

	"swarf/api/wire"
	"swarf/domain/unit"
)

// outputs are the forms of an answer.
var outputs = []string{"text", "json", "value"}

// accepts is the media type that each form is made of.
var accepts = map[string]string{"text": "text/plain", "json": "application/json", "value": "text/plain"}

// beside are the parameters of a computation beside its members. The marks say which are
// true or false.
var beside = []struct {
	name, what string
	truth      bool
}{
	{"explain", "add the derivation, step by step", true},
	{"window", "add how far the overrides may go", true},
	{"as_of", "answer from the data as it stood at a revision or an RFC 3339 time", false},
	{"valid_at", "answer by the records in force at an RFC 3339 time of the floor's clock", false},
	{"fields", "only these members, dotted paths with commas; findings always come along", false},
}

// askFlags are the flags of a question: those of the command, and the flat members of the
// request by the names they have in a query.
func (p *program) askFlags(a *asking) *flag.FlagSet {
	set := flag.NewFlagSet("ask "+a.name, flag.ContinueOnError)
	set.SetOutput(io.Discard) // the answer stands alone where one is read
	set.StringVar(&a.server, "server", p.config.Server, "")
	set.BoolVar(&a.offline, "offline", false, "")
	set.StringVar(&a.snapshot, "snapshot", "", "")
	set.StringVar(&a.output, "output", "", "")
	set.StringVar(&a.field, "field", "", "")
	set.StringVar(&a.out, "out", "", "")
	set.DurationVar(&a.timeout, "timeout", 20*time.Second, "")
	if a.name == "read" {
		return set
	}
	set.StringVar(&a.request, "request", "", "")
	for _, b := range beside {
		a.parameter(set, b.name, b.truth)
	}
	for _, f := range flatMembers(a.shape) {
		a.parameter(set, f.Name, f.Truth)
	}
	return set
}

// parameter makes a flag that is sent as a parameter of the query.
func (a *asking) parameter(set *flag.FlagSet, name string, truth bool) {
	take := func(text string) error {
		if name == "fields" {
			text += ",findings"
		}
		a.values.Add(name, text)
		return nil
	}
	if truth {
		set.BoolFunc(name, "", take)
		return
	}
	set.Func(name, "", take)
}

// joined puts true and false onto the flag before them: "-through false" is what the API
// calls through=false, and "-through" alone is true.
func (a *asking) joined(args []string) []string {
	truths := map[string]bool{}
	for _, b := range beside {
		truths[b.name] = b.truth
	}
	for _, f := range flatMembers(a.shape) {
		truths[f.Name] = f.Truth
	}
	var out []string
	for i, word := range args {
		if i > 0 && (word == "true" || word == "false") && strings.HasPrefix(args[i-1], "-") && truths[strings.TrimLeft(args[i-1], "-")] {
			out[len(out)-1] += "=" + word
			continue
		}
		out = append(out, word)
	}
	return out
}

// splitRead takes the parameters of a read out of its words, whatever they are: the route
// knows which it has. What is left are the flags of the command.
func (a *asking) splitRead(args []string) []string {
	if a.name != "read" {
		return args
	}
	path, query, found := strings.Cut(a.path, "?")
	var rest []string
	if a.path = path; found {
		for pair := range strings.SplitSeq(query, "&") {
			name, value, _ := strings.Cut(pair, "=")
			a.values.Add(name, value)
		}
	}
	for i := 0; i < len(args); i++ {
		name, value, joined := strings.Cut(strings.TrimLeft(args[i], "-"), "=")
		switch {
		case !strings.HasPrefix(args[i], "-") || ownFlag(name):
			rest = append(rest, args[i])
		case joined:
			a.values.Add(name, value)
		case i+1 < len(args):
			i++
			a.values.Add(name, args[i])
		default:
			rest = append(rest, args[i])
		}
	}
	return rest
}

// own are the flags of the command with what they do.
var own = []struct{ name, value, what string }{
	{"server", "URL", "ask this server; SWARF_SERVER if left out"},
	{"offline", "", "answer from the snapshot file of SWARF_SNAPSHOT, without a network"},
	{"snapshot", "FILE", "answer from this snapshot file instead; implies -offline"},
	{"request", "FILE", "send this JSON as the request, - for standard input, instead of members"},
	{"output", "FORM", "text (the default): key=value lines; json; value: one bare number"},
	{"field", "NAME", "the number for -output value: a name that stands once in the answer, or its dotted path"},
	{"out", "FILE", "write the answer to this file, whole or not at all, also when it is a refusal"},
	{"timeout", "TIME", "give up after this time, such as 20s (the default)"},
}

func ownFlag(name string) bool {
	if name == "h" || name == "help" {
		return true
	}
	for _, f := range own {
		if f.name == name && name != "request" {
			return true
		}
	}
	return false
}

// describe says what a member takes.
func describe(f *wire.FlatMember) string {
	switch {
	case f.Words != nil:
		return strings.Join(f.Words, ", ")
	case f.Truth:
		return "true or false"
	case f.List:
		return "words with commas between"
	case f.Quantity != unit.None:
		return unitsOf(f)
	case f.Number:
		return "a number"
	}
	return "a word"
}
