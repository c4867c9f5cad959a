// Command vulns reads what `govulncheck -format json` found from standard input and holds it
// against the exceptions in a file:
//
//	govulncheck -format json ./... | vulns deploy/vulnerabilities.txt
//
// It exits with 1 when the program calls something that is known to be vulnerable and no
// exception names it, when an exception is past its date, or when one is for nothing any more.
package main

import (
	"errors"
	"fmt"
	"os"
	"time"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "vulns:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	if len(args) != 1 {
		return errors.New("say which file holds the exceptions")
	}
	file, err := os.Open(args[0]) // #nosec G304 G703 -- the file that who runs the command names
	if err != nil {
		return err
	}
	defer file.Close()
	exceptions, err := readExceptions(file)
	if err != nil {
		return err
	}
	found, err := readScan(os.Stdin)
	if err != nil {
		return err
	}
	return judge(os.Stdout, found, exceptions, time.Now())
}
