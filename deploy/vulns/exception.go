package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"
)

// Exception is an advisory that somebody has looked at and found harmless here, for a while.
type Exception struct {
	ID     string    // of the Go vulnerability database
	Module string    // that it is about
	Until  time.Time // the last day on which it holds
	HeldBy string    // the test that proves it
	Why    string
}

// Past reports an exception that somebody must look at again.
func (e Exception) Past(now time.Time) bool { return now.After(e.Until.AddDate(0, 0, 1)) }

// readExceptions reads lines of five fields between bars; # begins a remark. Its error joins
// every fault.
func readExceptions(from io.Reader) ([]Exception, error) {
	var list []Exception
	var faults []error
	in := bufio.NewScanner(from)
	for n := 1; in.Scan(); n++ {
		line := strings.TrimSpace(in.Text())
		if line == "" || line[0] == '#' {
			continue
		}
		fields := strings.Split(line, "|")
		for i := range fields {
			fields[i] = strings.TrimSpace(fields[i])
		}
		if len(fields) != 5 || fields[4] == "" {
			faults = append(faults, fmt.Errorf("line %d is not id | module | until | held by | why", n))
			continue
		}
		until, err := time.Parse(time.DateOnly, fields[2])
		if err != nil {
			faults = append(faults, fmt.Errorf("line %d: %q is no date such as 2027-01-31", n, fields[2]))
		}
		list = append(list, Exception{fields[0], fields[1], until, fields[3], fields[4]})
	}
	return list, errors.Join(append(faults, in.Err())...)
}
