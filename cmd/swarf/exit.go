package main

import "errors"

// Exit codes, for scripts that can see nothing else. Whatever goes wrong here, such as a
// setting that cannot be read or a file that cannot be written, is 1.
const (
	exitFine        = 0
	exitFailed      = 1 // something went wrong here
	exitUsage       = 2 // the command line cannot be followed
	exitWarnings    = 3 // answered; somebody must read the findings first
	exitRefused     = 4 // the cut must not run so, or the request was refused
	exitUnreachable = 5 // no answer is to be had
)

// exitCodes tells people what they mean.
var exitCodes = []struct {
	code int
	what string
}{
	{exitFine, "answered, and nothing stands against it"},
	{exitFailed, "something went wrong here: a setting, a file, a missing key"},
	{exitUsage, "the command line cannot be followed"},
	{exitWarnings, "answered, with warnings or holds: somebody must read the findings before it runs"},
	{exitRefused, "refused: the verdict is no, or the request cannot be answered"},
	{exitUnreachable, "no answer: the server is out of reach or cannot answer now, or the snapshot is not to be trusted"},
}

// ending is an error with the exit code it ends with; without an error behind it nothing is
// printed.
type ending struct {
	code int
	err  error
}

func (e *ending) Error() string {
	if e.err == nil {
		return ""
	}
	return e.err.Error()
}

func (e *ending) Unwrap() error { return e.err }

// codeOf is the exit code of an error of a command.
func codeOf(err error) int {
	var e *ending
	switch {
	case err == nil:
		return exitFine
	case errors.As(err, &e):
		return e.code
	case errors.Is(err, errUsage):
		return exitUsage
	}
	return exitFailed
}
