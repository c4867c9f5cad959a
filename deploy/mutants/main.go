// Mutants plants faults in swarf, one at a time and beside the tree, and holds that the
// suite notices each: the test that is named for it passes without and fails with it.
//
//	go run ./deploy/mutants [-list] [-find] [word of a name]...
package main

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"
)

func main() {
	only := flag.Bool("list", false, "list them and do nothing")
	find := flag.Bool("find", false, "name the tests of the package that fail, instead of running the one that must")
	flag.Parse()
	list := slices.DeleteFunc(all(), func(m mutant) bool {
		return flag.NArg() > 0 && !slices.ContainsFunc(flag.Args(), func(word string) bool { return strings.Contains(m.name, word) })
	})
	top, err := os.Getwd()
	if err == nil && *only {
		for _, m := range list {
			fmt.Printf("%s: %s (%s, %s)\n", m.file, m.name, m.of, m.test)
		}
		return
	}
	if err == nil && !*find {
		err = sound(top, list)
	}
	if err != nil || len(list) == 0 {
		fmt.Fprintln(os.Stderr, "no run:", err, len(list), "mutants")
		os.Exit(1)
	}
	alive := 0
	for _, m := range list {
		began := time.Now()
		if *find {
			fmt.Println(m.name+":", m.found(top))
			continue
		}
		verdict := "caught by " + m.test
		if err := m.kill(top); err != nil {
			alive++
			verdict = "NOT CAUGHT: " + err.Error()
		}
		fmt.Printf("%-60s %s (%d s)\n", m.name, verdict, int(time.Since(began).Seconds()))
	}
	if !*find {
		fmt.Printf("%d mutants, %d caught, %d not\n", len(list), len(list)-alive, alive)
	}
	if alive > 0 {
		os.Exit(1)
	}
}

// found names the tests of the package that fail with the fault.
func (m *mutant) found(top string) string {
	dir, err := os.MkdirTemp("", "swarf-mutant-")
	if err != nil {
		return err.Error()
	}
	defer os.RemoveAll(dir)
	overlay, err := m.overlay(top, dir)
	if err != nil {
		return err.Error()
	}
	out, err := tested(top, overlay, m.of, "")
	if err != nil || out.unbuilt {
		return fmt.Sprintf("%v %.2000s", err, out.text)
	}
	return strings.Join(out.failed, " ")
}
