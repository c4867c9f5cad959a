package api

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// contractStatus is the status of every problem code of the contract, written
// down apart from the table it checks.
var contractStatus = map[string]int{
	"request-invalid": 400, "json-invalid": 400, "xml-invalid": 400, "unknown-field": 400, "unknown-parameter": 400, "field-missing": 400,
	"alternative-missing": 400, "fields-conflict": 422, "wrong-type": 400, "value-out-of-range": 422,
	"units-missing": 400, "units-unknown": 400, "operation-unknown": 422, "tool-class-unknown": 422,
	"machine-unknown": 422, "operation-not-available": 422, "tool-class-unfit": 422, "material-unknown": 422,
	"material-ambiguous": 422, "condition-unknown": 422, "hardness-scale-missing": 400, "hardness-scale-unknown": 422,
	"engagement-impossible": 422, "as-of-unknown": 422, "cursor-invalid": 400, "not-found": 404,
	"method-not-allowed": 405, "not-authenticated": 401, "not-permitted": 403, "precondition-required": 428,
	"precondition-failed": 412, "name-taken": 409, "idempotency-key-reused": 422, "idempotency-key-busy": 409, "body-too-large": 413,
	"batch-too-large": 413, "media-type-unsupported": 415, "not-acceptable": 406, "picture-impossible": 422, "too-many-requests": 429,
	"job-unfinished": 409, "table-unreadable": 400, "table-faulty": 422, "import-overtaken": 409,
	"held": 422, "no-value": 422, "no-words": 422, "url-too-long": 414,
	"evidence-missing": 422, "state-unfit": 409, "approver-is-author": 422, "storage-not-configured": 503, "data-not-ready": 503, "overloaded": 503, "headers-too-large": 431, "internal": 500,
}

func TestProblemCatalogueIsThatOfTheContract(t *testing.T) {
	for code, status := range contractStatus {
		k, ok := problemBySlug[code]
		if !ok {
			t.Errorf("%s is not in the catalogue", code)
			continue
		}
		if k.Status != status {
			t.Errorf("%s has status %d, the contract says %d", code, k.Status, status)
		}
	}
	seen := make(map[string]bool)
	for _, k := range problemKinds {
		if _, ok := contractStatus[k.Slug]; !ok {
			t.Errorf("%s is not in the contract", k.Slug)
		}
		if seen[k.Slug] {
			t.Errorf("%s stands twice in the catalogue", k.Slug)
		}
		seen[k.Slug] = true
		if k.Title == "" || k.When == "" || k.Fix == "" {
			t.Errorf("%s lacks a title, a when or a fix", k.Slug)
		}
	}
}

// TestEveryRaisedCodeIsInTheCatalogue reads the source of the service for the
// codes of faults and requires each in the catalogue.
func TestEveryRaisedCodeIsInTheCatalogue(t *testing.T) {
	found := 0
	for _, root := range []string{".", "../domain", "../db"} {
		err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			if err != nil {
				return err
			}
			for _, code := range raisedCodes(file) {
				found++
				if problemBySlug[code] == nil {
					t.Errorf("%s raises %q, which is not in the catalogue of problems", path, code)
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if found < 60 {
		t.Errorf("only %d codes found in the source: the search no longer fits it", found)
	}
}

// raisedCodes finds the codes of faults in a file: the Code of an Error, and the
// second argument of a function called fault.
func raisedCodes(file *ast.File) []string {
	var codes []string
	take := func(e ast.Expr) {
		if lit, ok := e.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			if text, err := strconv.Unquote(lit.Value); err == nil {
				codes = append(codes, text)
			}
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CallExpr:
			name := ""
			switch f := n.Fun.(type) {
			case *ast.Ident:
				name = f.Name
			case *ast.SelectorExpr:
				name = f.Sel.Name
			}
			if name == "fault" && len(n.Args) >= 4 {
				take(n.Args[1])
			}
		case *ast.CompositeLit:
			if !isErrorLiteral(n) {
				return true
			}
			for _, element := range n.Elts {
				if pair, ok := element.(*ast.KeyValueExpr); ok {
					if key, ok := pair.Key.(*ast.Ident); ok && key.Name == "Code" {
						take(pair.Value)
					}
				}
			}
		}
		return true
	})
	return codes
}

// isErrorLiteral recognises a domain Error by its members Kind and Code.
func isErrorLiteral(lit *ast.CompositeLit) bool {
	kind, code := false, false
	for _, element := range lit.Elts {
		if pair, ok := element.(*ast.KeyValueExpr); ok {
			if key, ok := pair.Key.(*ast.Ident); ok {
				kind = kind || key.Name == "Kind"
				code = code || key.Name == "Code"
			}
		}
	}
	return kind && code
}
