// Command tally reads the events of `go test -json` from standard input, prints the
// output of what failed and one line per package, and closes with
// "N passed, N failed, N skipped". It exits with 1 when a test failed, was skipped,
// a package did not build, or no test ran at all. With -figures it prints what tests that
// passed said as well.
package main

import (
	"flag"
	"fmt"
	"os"
)

func main() {
	figures := flag.Bool("figures", false, "print what tests that passed said as well")
	flag.Parse()
	t, err := read(os.Stdin, os.Stdout, *figures)
	if err != nil {
		fmt.Fprintln(os.Stderr, "tally:", err)
		os.Exit(1)
	}
	if !t.report(os.Stdout) {
		os.Exit(1)
	}
}
