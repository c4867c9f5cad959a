// Command swarf serves sourced cutting data over HTTP and computes what cuts load.
// `swarf help` lists what it does and the settings it reads.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/signal"
	"sync/atomic"
	"syscall"
	"text/tabwriter"

	"swarf/api"
	"swarf/domain"
)

func main() {
	// The first signal stops gracefully; the second ends the process at once.
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop)
	os.Exit(run(ctx, os.Args[1:], os.Environ(), os.Stdout, os.Stderr))
}

// program is what a command works with.
type program struct {
	config Config
	out    io.Writer // what was asked for
	log    *slog.Logger
	server atomic.Pointer[api.Server] // while it serves
	traces *traces                    // nil: none
}

// command is one thing swarf does.
type command struct {
	name string
	what string
	run  func(ctx context.Context, p *program, args []string) error
}

// commands lists them in the order of help.
func commands() []command {
	return []command{
		{"serve", "serve HTTP until told to stop", serve},
		{"migrate", "bring the database to the schema of this program", migrate},
		{"load", "put the embedded reference data into the database", load},
		{"key", "make, list, rotate and revoke the keys of callers", keys},
		{"audit", "verify: hold the history in the database against its seals", audit},
		{"check", "check settings, embedded data and, where there is one, the database", check},
		{"ask", "ask a server, or a snapshot file, for what to run or what it loads", ask},
		{"snapshot", "write all data into a signed file for machines without a network, or check one", snapshotFile},
		{"completion", "print the script by which a shell completes all this", completion},
		{"healthcheck", "ask a running service whether it is ready; exit 1 when not", healthcheck},
		{"version", "say what this program is", version},
	}
}

// errUsage is a command line that cannot be followed; it exits with 2.
var errUsage = errors.New("wrong usage")

// run is the whole program without its process: it returns the exit code.
func run(ctx context.Context, args, environ []string, out, errs io.Writer) int {
	if len(args) == 0 || args[0] == "help" || args[0] == "-h" || args[0] == "--help" {
		help(out)
		return exitFine
	}
	for _, c := range commands() {
		if c.name != args[0] {
			continue
		}
		config, err := parseConfig(environ)
		if err == nil {
			log, flush := newLog(errs, config.LogLevel)
			err = c.run(ctx, &program{config: config, out: out, log: log}, args[1:])
			flush()
		} else if c.name == "ask" {
			err = errors.Join(err, leaveWord(args[1:], err))
		}
		if err == nil || errors.Is(err, flag.ErrHelp) {
			return exitFine
		}
		if text := told(err); text != "" {
			fmt.Fprintf(errs, "swarf %s: %s\n", c.name, text)
		}
		return codeOf(err)
	}
	fmt.Fprintf(errs, "swarf: there is no command %q; swarf help lists them\n", args[0])
	return exitUsage
}

// told is an error with what to do about it, where that is known.
func told(err error) string {
	text := err.Error()
	for _, fault := range domain.Faults(err) {
		if fault.Kind != domain.Internal && fault.Fix != "" {
			text += "; " + fault.Fix
		}
	}
	return text
}

// help lists commands and settings.
func help(out io.Writer) {
	fmt.Fprint(out, "swarf computes what a cut loads, from sourced cutting data, over HTTP.\n\nusage: swarf <command>\n\n")
	table := tabwriter.NewWriter(out, 0, 8, 2, ' ', 0)
	for _, c := range commands() {
		fmt.Fprintf(table, "  %s\t%s\n", c.name, c.what)
	}
	table.Flush()
	fmt.Fprint(out, "\nswarf <command> -h tells more. Settings come from the environment:\n\n")
	for _, s := range settings() {
		fmt.Fprintf(table, "  %s\t%s\t%s\n", s.Name, s.Default, s.What)
	}
	table.Flush()
}

// flags makes the flag set of a command; its faults and help go to the command's
// output.
func (p *program) flags(name string) *flag.FlagSet {
	set := flag.NewFlagSet(name, flag.ContinueOnError)
	set.SetOutput(p.out)
	return set
}

// parse reads the flags and refuses words that are none.
func parse(set *flag.FlagSet, args []string) error {
	if err := set.Parse(args); errors.Is(err, flag.ErrHelp) {
		return err
	} else if err != nil {
		return fmt.Errorf("%w: %w", errUsage, err)
	}
	if set.NArg() > 0 {
		return fmt.Errorf("%w: %q is not expected", errUsage, set.Arg(0))
	}
	return nil
}
