package main

import (
	"errors"
	"io"
	"runtime/debug"
	"strings"

	"github.com/CycloneDX/cyclonedx-go"
)

// writeSBOM writes what the binary is made of as a bill of materials (CycloneDX 1.6, JSON):
// every module that was compiled in and Go's own library, with version and package URL. The
// compiler writes no licences into a binary and no tree of who needs whom, so neither is
// stated. The same binary gives the same text.
//
// Errors: a binary that was not built from modules.
func writeSBOM(to io.Writer, info *debug.BuildInfo, ok bool) error {
	if !ok || info.Main.Path == "" {
		return errors.New("the binary does not say what it was built of")
	}
	bom := cyclonedx.NewBOM()
	bom.SpecVersion, bom.JSONSchema = cyclonedx.SpecVersion1_6, "http://cyclonedx.org/schema/bom-1.6.schema.json"
	main := cyclonedx.Component{BOMRef: "swarf", Type: cyclonedx.ComponentTypeApplication, Name: "swarf", Version: build().Version}
	properties := []cyclonedx.Property{{Name: "swarf:package", Value: info.Path}}
	for _, s := range info.Settings {
		if strings.HasPrefix(s.Key, "vcs.") || s.Key == "GOOS" || s.Key == "GOARCH" || s.Key == "CGO_ENABLED" {
			properties = append(properties, cyclonedx.Property{Name: "go:" + s.Key, Value: s.Value})
		}
	}
	main.Properties = &properties
	bom.Metadata = &cyclonedx.Metadata{Component: &main}
	library := goModule("std", strings.TrimPrefix(info.GoVersion, "go"), "")
	components, refs := []cyclonedx.Component{library}, []string{library.BOMRef}
	for _, m := range info.Deps {
		if m.Replace != nil {
			m = m.Replace
		}
		c := goModule(m.Path, m.Version, m.Sum)
		components, refs = append(components, c), append(refs, c.BOMRef)
	}
	bom.Components = &components
	bom.Dependencies = &[]cyclonedx.Dependency{{Ref: main.BOMRef, Dependencies: &refs}}
	return cyclonedx.NewBOMEncoder(to, cyclonedx.BOMFileFormatJSON).SetPretty(true).Encode(bom)
}

// goModule is a module as a component. Its sum is that of go.sum, over the tree of its files,
// and so no hash of a file.
func goModule(path, version, sum string) cyclonedx.Component {
	url := "pkg:golang/" + path + "@" + strings.ReplaceAll(version, "+", "%2B")
	c := cyclonedx.Component{BOMRef: url, Type: cyclonedx.ComponentTypeLibrary, Name: path, Version: version, PackageURL: url, Scope: cyclonedx.ScopeRequired}
	if sum != "" {
		c.Properties = &[]cyclonedx.Property{{Name: "go:sum", Value: sum}}
	}
	return c
}
