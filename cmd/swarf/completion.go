package main

import (
	"context"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"swarf/api"
	"swarf/api/wire"
	"swarf/db/data"
	"swarf/domain/cut"
)

// completions are the scripts by which shells ask swarf itself how a word may go on.
var completions = map[string]string{
	"bash": `_swarf() {
	local IFS=$'\n'
	COMPREPLY=($("${COMP_WORDS[0]}" completion words "${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null))
}
complete -o default -F _swarf swarf
`,
	"zsh": `#compdef swarf
_swarf() {
	local -a found
	found=("${(@f)$("${words[1]}" completion words "${(@)words[2,CURRENT]}" 2>/dev/null)}")
	if [[ -n "${found[1]}" ]]; then compadd -- "${found[@]}"; else _files; fi
}
if [[ "${funcstack[1]}" = _swarf ]]; then _swarf "$@"; else compdef _swarf swarf; fi
`,
	"fish": `function __swarf_words
	set -l said (commandline -opc) (commandline -ct)
	$said[1] completion words $said[2..-1] 2>/dev/null
end
complete -c swarf -a '(__swarf_words)'
`,
}

// completionUse is the page of the command.
const completionUse = `usage: swarf completion bash|zsh|fish

Prints a script by which the shell completes commands, members and their words:

  bash   source <(swarf completion bash)                          in ~/.bashrc
  zsh    swarf completion zsh >"${fpath[1]}/_swarf"               once
  fish   swarf completion fish >~/.config/fish/completions/swarf.fish   once
`

// completion prints the script of a shell, or answers what it asks.
func completion(_ context.Context, p *program, args []string) error {
	if len(args) > 0 && args[0] == "words" {
		for _, word := range wordsAfter(args[1:]) {
			fmt.Fprintln(p.out, word)
		}
		return nil
	}
	set := p.flags("completion")
	set.Usage = func() { fmt.Fprint(p.out, completionUse) }
	if len(args) > 0 && completions[args[0]] != "" {
		if err := parse(set, args[1:]); err != nil {
			return err
		}
		fmt.Fprint(p.out, completions[args[0]])
		return nil
	}
	if err := parse(set, args); err != nil {
		return err
	}
	return fmt.Errorf("%w: say bash, zsh or fish", errUsage)
}

// wordsAfter lists how the last of the words may go on.
func wordsAfter(said []string) []string {
	if len(said) == 0 {
		said = []string{""}
	}
	last, before := said[len(said)-1], said[:len(said)-1]
	var list []string
	switch {
	case len(before) == 0:
		for _, c := range commands() {
			list = append(list, c.name)
		}
	case before[0] == "snapshot" && len(before) == 1:
		list = []string{"export", "key", "verify"}
	case before[0] == "completion" && len(before) == 1:
		list = []string{"bash", "fish", "zsh"}
	case before[0] == "ask":
		list = askWords(before[1:])
	}
	list = slices.DeleteFunc(slices.Clone(list), func(word string) bool { return !strings.HasPrefix(word, last) })
	slices.Sort(list)
	return slices.Compact(list)
}

// askWords lists questions, then flags, and behind a flag its words.
func askWords(before []string) []string {
	var list []string
	if len(before) == 0 {
		for _, q := range questions {
			list = append(list, q.name)
		}
		return list
	}
	at := slices.IndexFunc(questions, func(q question) bool { return q.name == before[0] })
	if at < 0 {
		return nil
	}
	if before[0] == "read" && len(before) == 1 {
		for _, r := range api.Routes() {
			if r.Method == http.MethodGet && strings.HasPrefix(r.Path, "/v1/") && !strings.Contains(r.Path, "{") {
				list = append(list, r.Path)
			}
		}
		return list
	}
	members := flatMembers(questions[at].shape)
	if last := before[len(before)-1]; len(before) > 1 && strings.HasPrefix(last, "-") {
		if words, takes := wordsOfFlag(strings.TrimLeft(last, "-"), members); takes {
			return words
		}
	}
	for _, f := range own {
		list = append(list, "-"+f.name)
	}
	for _, b := range beside {
		list = append(list, "-"+b.name)
	}
	for _, f := range members {
		list = append(list, "-"+f.Name)
	}
	return list
}

// wordsOfFlag lists the words that a flag knows; takes says whether it has a value at all.
func wordsOfFlag(name string, members []wire.FlatMember) (words []string, takes bool) {
	switch name {
	case "output":
		return outputs, true
	case "operation":
		return cut.Names(), true
	case "class":
		embedded, err := data.Embedded()
		if err != nil {
			return nil, true // the shell has nothing to say it with
		}
		for i := range embedded.Classes {
			words = append(words, embedded.Classes[i].ID)
		}
		return words, true
	case "offline", "explain", "window":
		return nil, false
	}
	for i := range members {
		if members[i].Name == name {
			return members[i].Words, !members[i].Truth
		}
	}
	return nil, true
}
