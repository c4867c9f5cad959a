package main

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"

	"swarf/api"
	"swarf/domain/estimate"
)

// version says what this program is, or what it is made of.
func version(_ context.Context, p *program, args []string) error {
	set := p.flags("version")
	sbom := set.Bool("sbom", false, "list every module in this binary as CycloneDX JSON")
	if err := parse(set, args); err != nil {
		return err
	}
	if *sbom {
		info, ok := debug.ReadBuildInfo()
		return writeSBOM(p.out, info, ok)
	}
	b := build()
	fmt.Fprintf(p.out, "swarf %s, model %s, %s", b.Version, estimate.ModelVersion, b.Go)
	if b.Commit != "" {
		fmt.Fprintf(p.out, ", commit %s", b.Commit)
	}
	fmt.Fprintln(p.out)
	return nil
}

// build reads what the compiler wrote into the binary.
func build() api.Build {
	b := api.Build{Version: "(devel)", Go: runtime.Version()}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return b
	}
	if info.Main.Version != "" {
		b.Version = info.Main.Version
	}
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			b.Commit = s.Value
		case s.Key == "vcs.modified" && s.Value == "true":
			b.Commit += " with changes"
		}
	}
	return b
}
