package main

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"runtime/debug"
	"strings"
	"testing"

	"github.com/CycloneDX/cyclonedx-go"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

// goOut is what the go command prints.
func goOut(t *testing.T, args ...string) string {
	t.Helper()
	command := exec.CommandContext(t.Context(), "go", args...)
	var errs bytes.Buffer
	command.Stderr = &errs
	out, err := command.Output()
	if err != nil {
		t.Fatalf("go %v: %v\n%s", args, err, errs.String())
	}
	return strings.TrimSpace(string(out))
}

// The bill of materials of a built binary fits the schema of CycloneDX, names every module
// that the go command finds in the binary and no other, each in the version of go.mod.
func TestSBOMOfTheBinary(t *testing.T) {
	binary := filepath.Join(t.TempDir(), "swarf")
	goOut(t, "build", "-o", binary, ".")
	text, err := exec.CommandContext(t.Context(), binary, "version", "-sbom").Output()
	if err != nil {
		t.Fatal(err)
	}
	fitsCycloneDX(t, text)
	var bom cyclonedx.BOM
	if err := json.Unmarshal(text, &bom); err != nil {
		t.Fatal(err)
	}
	if bom.Metadata.Component.Name != "swarf" || bom.Metadata.Component.Type != cyclonedx.ComponentTypeApplication {
		t.Errorf("%+v is not the program", bom.Metadata.Component)
	}
	got := map[string]string{}
	for _, c := range *bom.Components {
		if got[c.Name] != "" || c.PackageURL != "pkg:golang/"+c.Name+"@"+strings.ReplaceAll(c.Version, "+", "%2B") {
			t.Errorf("component %+v", c)
		}
		got[c.Name] = c.Version
	}
	if got["std"] != strings.TrimPrefix(runtime.Version(), "go") {
		t.Errorf("Go's library is %s", got["std"])
	}
	delete(got, "std")
	modules, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil {
		t.Fatal(err)
	}
	dep := regexp.MustCompile(`(?m)^\s*dep\s+(\S+)\s+(\S+)`)
	inBinary := dep.FindAllStringSubmatch(goOut(t, "version", "-m", binary), -1)
	for _, m := range inBinary {
		if got[m[1]] != m[2] || !strings.Contains(string(modules), m[1]+" "+m[2]) {
			t.Errorf("%s %s is in the binary; the bill says %q", m[1], m[2], got[m[1]])
		}
	}
	if len(inBinary) != len(got) || len(got) < 20 || got["github.com/labstack/echo/v4"] == "" {
		t.Errorf("%d modules in the binary, %d in the bill", len(inBinary), len(got))
	}
	again, err := exec.CommandContext(t.Context(), binary, "version", "-sbom").Output()
	if err != nil || !bytes.Equal(text, again) {
		t.Error("the same binary gives another bill")
	}
}

// fitsCycloneDX holds a text against the schema that the library brings along.
func fitsCycloneDX(t *testing.T, text []byte) {
	t.Helper()
	schemas := filepath.Join(goOut(t, "list", "-m", "-f", "{{.Dir}}", "github.com/CycloneDX/cyclonedx-go"), "schema")
	compiler := jsonschema.NewCompiler()
	for name, id := range map[string]string{"spdx.schema.json": "", "jsf-0.82.schemax.json": "jsf-0.82.schema.json", "bom-1.6.schema.json": ""} {
		file, err := os.Open(filepath.Join(schemas, name))
		if err != nil {
			t.Fatal(err)
		}
		schema, err := jsonschema.UnmarshalJSON(file)
		file.Close()
		if id == "" {
			id = name
		}
		if err == nil {
			err = compiler.AddResource("http://cyclonedx.org/schema/"+id, schema)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	schema, err := compiler.Compile("http://cyclonedx.org/schema/bom-1.6.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	bom, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	if err := schema.Validate(bom); err != nil {
		t.Error(err)
	}
	bom.(map[string]any)["components"].([]any)[0].(map[string]any)["type"] = "cutter"
	if schema.Validate(bom) == nil {
		t.Error("the schema takes anything")
	}
}

// A binary that says nothing of itself is an error, not an empty bill.
func TestSBOMOfNothing(t *testing.T) {
	var out bytes.Buffer
	if err := writeSBOM(&out, nil, false); err == nil || out.Len() != 0 {
		t.Errorf("%v %s", err, &out)
	}
	if err := writeSBOM(&out, &debug.BuildInfo{}, true); err == nil || out.Len() != 0 {
		t.Errorf("%v %s", err, &out)
	}
}
