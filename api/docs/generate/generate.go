// Package generate makes the OpenAPI document: swag reads the comments of package api
// (Swagger 2), kin-openapi turns it into OpenAPI 3.0.3, and fix-ups here say what
// neither can: problem documents, other formats, units, words, required members.
package generate

import (
	"encoding/json"
	"fmt"
	"io"
	"log"
	"path/filepath"

	"github.com/getkin/kin-openapi/openapi2"
	"github.com/getkin/kin-openapi/openapi2conv"
	"github.com/getkin/kin-openapi/openapi3"
	"github.com/swaggo/swag"
)

// overrides tell swag how types that write themselves look on the wire.
var overrides = map[string]string{
	"swarf/domain/unit.Opt":     "number",
	"swarf/api/wire.Amount":     "number",
	"swarf/api/wire.MachineRef": "object",
	"swarf/api/wire.Raw":        "object",
}

// Document makes the document from the sources below a folder, which is that of
// package api.
func Document(folder string) ([]byte, error) {
	parser := swag.New(swag.SetDebugger(log.New(io.Discard, "", 0)), swag.SetOverrides(overrides), swag.SetParseDependency(0))
	parser.ParseInternal = true
	if err := parser.ParseAPIMultiSearchDir([]string{folder, filepath.Join(folder, "../domain/unit")}, "annotations.go", 10); err != nil {
		return nil, fmt.Errorf("swag: %w", err)
	}
	text, err := json.Marshal(parser.GetSwagger())
	if err != nil {
		return nil, err
	}
	var two openapi2.T
	if err := json.Unmarshal(text, &two); err != nil {
		return nil, err
	}
	three, err := openapi2conv.ToV3(&two)
	if err != nil {
		return nil, fmt.Errorf("to OpenAPI 3: %w", err)
	}
	// references are resolved anew after the schemas have been renamed
	if text, err = json.Marshal(three); err != nil {
		return nil, err
	}
	if three, err = openapi3.NewLoader().LoadFromData(rename(text)); err != nil {
		return nil, err
	}
	fix(three)
	out, err := json.MarshalIndent(three, "", " ")
	if err != nil {
		return nil, err
	}
	return append(out, '\n'), nil
}
