package main

import (
	"go/ast"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// unitSuffix ends the name of every exported number of domain: the unit, or what
// kind of pure number it is.
var unitSuffix = regexp.MustCompile(`(?:` + strings.Join([]string{
	"MM", "MM2", "UM", // length, area, roughness
	"MPerMin", "MMPerMin", "PerMin", "CM3PerMin", "MPerS2", "DegPerMM", "DegPerMin", // rates
	"N", "Nm", "KW", "KWh", "NPerMM2", "JPerMM3", "Bar", "GPa", "Kg", "KgPerM3", "Celsius", "PerMK", // mechanics
	"Deg", "Rad", "Minutes", "Seconds", "Turns", // angle and time
	"HBW", "HV", "HRC", "HRB", // hardness
	"Ratio", "Exp", "Count", "Factor", "Percent", "Confidence", "Probability", // pure numbers
	"Cost", // in the caller's one currency
}, "|") + `)$`)

// bare reports a float64 or an optional one, with no unit in its type. A list of
// them counts too.
func bare(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name == "float64"
	case *ast.StarExpr:
		return bare(e.X)
	case *ast.ArrayType:
		return bare(e.Elt)
	case *ast.Ellipsis:
		return bare(e.Elt)
	case *ast.SelectorExpr:
		on, ok := e.X.(*ast.Ident)
		return ok && on.Name == "unit" && e.Sel.Name == "Opt"
	}
	return false
}

// saysUnit reports a struct that carries its quantity or scale beside the number.
func saysUnit(s *ast.StructType) bool {
	return slices.ContainsFunc(s.Fields.List, func(f *ast.Field) bool {
		return slices.ContainsFunc(f.Names, func(n *ast.Ident) bool { return n.Name == "Quantity" || n.Name == "Scale" })
	})
}

// domainFiles are the files of domain that are no tests; domain/unit is about
// numbers of any unit.
func domainFiles(t *testing.T) []source {
	t.Helper()
	return slices.DeleteFunc(sources(t), func(s source) bool {
		return !in(s.pkg, "swarf/domain") || s.pkg == "swarf/domain/unit" || s.test
	})
}

func TestNumbersNameTheirUnit(t *testing.T) {
	for _, s := range domainFiles(t) {
		ast.Inspect(s.syntax, func(n ast.Node) bool {
			spec, ok := n.(*ast.TypeSpec)
			if !ok || !spec.Name.IsExported() {
				return true
			}
			fields, ok := spec.Type.(*ast.StructType)
			if !ok || saysUnit(fields) {
				return true
			}
			for _, f := range fields.Fields.List {
				for _, name := range f.Names {
					if name.IsExported() && bare(f.Type) && !unitSuffix.MatchString(name.Name) {
						t.Errorf("%s: %s.%s is a number without a unit in its name", s.at(name), spec.Name.Name, name.Name)
					}
				}
			}
			return true
		})
	}
}

// Two bare numbers side by side can be swapped unseen: named structs cannot.
func TestFunctionsTakeOneBareNumber(t *testing.T) {
	for _, s := range domainFiles(t) {
		for _, d := range s.syntax.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || !f.Name.IsExported() {
				continue
			}
			n := 0
			for _, p := range f.Type.Params.List {
				if bare(p.Type) {
					n += max(len(p.Names), 1)
				}
			}
			if n > 1 {
				t.Errorf("%s: %s takes %d bare numbers; use a struct with named fields", s.at(f.Name), f.Name.Name, n)
			}
		}
	}
}

// A formula says where it holds, how it fails and where it comes from.
func TestFormulasAreDocumented(t *testing.T) {
	formulas := 0
	for _, s := range domainFiles(t) {
		if !slices.Contains([]string{"swarf/domain/kinematics", "swarf/domain/force", "swarf/domain/life"}, s.pkg) {
			continue
		}
		for _, d := range s.syntax.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || !f.Name.IsExported() {
				continue
			}
			formulas++
			for _, part := range []string{"Range:", "Errors:", "Source:"} {
				if !strings.Contains(f.Doc.Text(), part) {
					t.Errorf("%s: the comment of %s has no %q", s.at(f.Name), f.Name.Name, part)
				}
			}
		}
	}
	if formulas < 10 {
		t.Errorf("only %d formulas found; are the package names still right?", formulas)
	}
}

// The checks above see what they must: names with and without a unit.
func TestUnitSuffix(t *testing.T) {
	for name, want := range map[string]bool{
		"CuttingDiameterMM": true, "SpeedMPerMin": true, "TorqueNm": true, "ChipThicknessExp": true, "EdgesCount": true,
		"HardnessHBW": true, "RoughnessUM": true, "Diameter": false, "Speed": false, "TimeMin": false, "FeedMmpm": false,
	} {
		if got := unitSuffix.MatchString(name); got != want {
			t.Errorf("%s has a unit: %v, want %v", name, got, want)
		}
	}
}
