package main

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The tests of this file hold the shape of the house: which way packages depend,
// what stands where, and how long a file may be. Each names the file that breaks it.

const root = "../.."

// source is one Go file of the project, parsed.
type source struct {
	path   string // slash-separated, from the top
	pkg    string // import path of its folder
	test   bool
	lines  int
	syntax *ast.File
	set    *token.FileSet
}

func (s source) at(n ast.Node) string {
	return s.path + ":" + strconv.Itoa(s.set.Position(n.Pos()).Line)
}

// sources parses every Go file under the top of the project.
func sources(t *testing.T) []source {
	t.Helper()
	var all []source
	err := filepath.WalkDir(root, func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && strings.HasPrefix(d.Name(), ".") && file != root {
			return fs.SkipDir
		}
		if d.IsDir() || !strings.HasSuffix(file, ".go") {
			return nil
		}
		text, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		rel, _ := filepath.Rel(root, file)
		rel = filepath.ToSlash(rel)
		set := token.NewFileSet()
		syntax, err := parser.ParseFile(set, rel, text, parser.ParseComments|parser.SkipObjectResolution)
		all = append(all, source{rel, "swarf/" + path.Dir(rel), strings.HasSuffix(rel, "_test.go"), bytes.Count(text, []byte("\n")), syntax, set})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 20 {
		t.Fatalf("only %d Go files found under %s", len(all), root)
	}
	return all
}

// in reports whether a package or file is a folder or lies under it.
func in(name, folder string) bool { return name == folder || strings.HasPrefix(name, folder+"/") }

// domainStd is the part of the standard library that domain may use: no I/O, no
// clock, no log.
var domainStd = strings.Fields("cmp crypto/sha256 crypto/subtle encoding/json errors fmt hash/crc32 iter maps math math/bits slices sort strconv strings sync sync/atomic unicode unicode/utf8")

// domainOrder is the one way in which data flows: a package of domain imports only
// those before it. A new package gets its place here.
var domainOrder = strings.Fields("unit seek kinematics thread stiffness domain access material tool machine force life cut cuttest catalog smell estimate finding word recommend override region ways plan correction evidence calibrate diagnose")

// place is where a package of domain stands in the order, -1 when it has no place.
func place(pkg string) int { return slices.Index(domainOrder, path.Base(pkg)) }

// forbidden says why a file may not import a package; empty when it may.
func forbidden(s source, imported string) string {
	ours, third := in(imported, "swarf"), strings.Contains(strings.Split(imported, "/")[0], ".")
	// Tests may read the embedded reference data and the printed results they are
	// held against from anywhere: both are constants.
	if s.test && (imported == "swarf/db/data" || in(imported, "swarf/testdata")) {
		return ""
	}
	switch {
	case in(s.pkg, "swarf/domain"):
		switch {
		case ours && !in(imported, "swarf/domain"):
			return "domain imports nothing of ours but domain"
		case ours && !s.test && (place(s.pkg) < 0 || place(imported) < 0):
			return "a package has no place in domainOrder"
		case ours && !s.test && place(imported) >= place(s.pkg):
			return "in domain data flows one way: " + strings.Join(domainOrder, ", ")
		case third && !s.test && !in(imported, "gonum.org/v1/gonum"):
			return "domain imports no library but gonum"
		case !ours && !third && !s.test && !slices.Contains(domainStd, imported):
			return "domain imports of the standard library only " + strings.Join(domainStd, ", ")
		}
	case s.pkg == "swarf/api/wire":
		if ours && imported != "swarf/domain/unit" && !(s.test && imported == s.pkg) {
			return "api/wire imports nothing of ours but domain/unit"
		}
	case in(s.pkg, "swarf/api"):
		if in(imported, "swarf/db") || in(imported, "swarf/migrations") || in(imported, "swarf/cmd") || in(imported, "github.com/jackc") {
			return "api never sees the database"
		}
	case in(s.pkg, "swarf/db"), in(s.pkg, "swarf/migrations"):
		if in(imported, "swarf/api") || in(imported, "swarf/cmd") || in(imported, "github.com/labstack") || imported == "net/http" {
			return "db never sees HTTP"
		}
	}
	return ""
}

func TestImports(t *testing.T) {
	for _, s := range sources(t) {
		for _, spec := range s.syntax.Imports {
			imported, _ := strconv.Unquote(spec.Path.Value)
			if why := forbidden(s, imported); why != "" {
				t.Errorf("%s imports %s: %s", s.at(spec), imported, why)
			}
		}
	}
}

// The rules themselves, so that a change that lets everything through fails.
func TestImportRules(t *testing.T) {
	for _, c := range []struct {
		pkg, imported string
		test, allowed bool
	}{
		{"swarf/domain/force", "swarf/domain/kinematics", false, true},
		{"swarf/domain/force", "gonum.org/v1/gonum/integrate/quad", false, true},
		{"swarf/domain/force", "swarf/api/wire", false, false},
		{"swarf/domain/kinematics", "swarf/domain/force", false, false},
		{"swarf/domain/kinematics", "swarf/domain/force", true, true},
		{"swarf/domain/novelty", "swarf/domain/unit", false, false},
		{"swarf/domain/force", "swarf/db/data", false, false},
		{"swarf/domain/force", "swarf/db/data", true, true},
		{"swarf/domain/force", "swarf/testdata/reference", true, true},
		{"swarf/domain/force", "swarf/testdata/reference", false, false},
		{"swarf/domain/force", "swarf/db", true, false},
		{"swarf/domain/force", "os", false, false},
		{"swarf/domain/force", "time", false, false},
		{"swarf/domain/force", "os", true, true},
		{"swarf/domain/force", "github.com/google/go-cmp/cmp", false, false},
		{"swarf/api", "swarf/domain/estimate", false, true},
		{"swarf/api", "swarf/db", false, false},
		{"swarf/api", "github.com/jackc/pgx/v5", true, false},
		{"swarf/api/wire", "swarf/domain/unit", false, true},
		{"swarf/api/wire", "swarf/domain/cut", false, false},
		{"swarf/db", "swarf/domain/catalog", false, true},
		{"swarf/db", "swarf/api", false, false},
		{"swarf/db/dbtest", "github.com/labstack/echo/v4", false, false},
		{"swarf/cmd/swarf", "swarf/db", false, true},
		{"swarf/cmd/swarf", "swarf/api", false, true},
	} {
		why := forbidden(source{pkg: c.pkg, test: c.test}, c.imported)
		if (why == "") != c.allowed {
			t.Errorf("%s importing %s (test %v): allowed %v, want %v", c.pkg, c.imported, c.test, why == "", c.allowed)
		}
	}
}

func TestFilesAreShort(t *testing.T) {
	const most = 350
	for _, s := range sources(t) {
		if s.lines > most && !generated(s) {
			t.Errorf("%s has %d lines; a file is one thing in at most %d", s.path, s.lines, most)
		}
	}
}

func generated(s source) bool { return ast.IsGenerated(s.syntax) || in(s.path, "api/docs") }

// A skipped test is a test that did not run. Only the database helper may skip, and
// it fails instead where CI is set.
func TestNothingSkips(t *testing.T) {
	for _, s := range sources(t) {
		if in(s.pkg, "swarf/db/dbtest") {
			continue
		}
		ast.Inspect(s.syntax, func(n ast.Node) bool {
			call, ok := n.(*ast.SelectorExpr)
			if ok && slices.Contains([]string{"Skip", "Skipf", "SkipNow"}, call.Sel.Name) {
				if on, ok := call.X.(*ast.Ident); ok && slices.Contains([]string{"t", "b", "f", "tb"}, on.Name) {
					t.Errorf("%s skips", s.at(call))
				}
			}
			return true
		})
	}
}

// tracked lists the project's files as git knows them, or as they lie in the
// folder where there is no git.
func tracked(t *testing.T) []string {
	t.Helper()
	list := exec.Command("git", "ls-files", "-z", "--cached")
	list.Dir = root
	if out, err := list.Output(); err == nil && len(out) > 0 {
		return strings.Split(strings.TrimSuffix(string(out), "\x00"), "\x00")
	}
	var files []string
	err := filepath.WalkDir(root, func(file string, d fs.DirEntry, err error) error {
		if err == nil && d.Name() == ".git" {
			return fs.SkipDir
		}
		if err == nil && !d.IsDir() {
			rel, _ := filepath.Rel(root, file)
			files = append(files, filepath.ToSlash(rel))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func TestTopLevelEntries(t *testing.T) {
	allowed := strings.Fields("cmd api domain db migrations deploy testdata go.mod go.sum Dockerfile README.md DEVELOPERS.md .ci .gitignore .dockerignore .gitattributes")
	for _, file := range tracked(t) {
		if top, _, _ := strings.Cut(file, "/"); !slices.Contains(allowed, top) {
			t.Errorf("%s: nothing named %s stands at the top", file, top)
		}
	}
}

// A path into somebody's home, or into the folder this clone lies in, works on one
// machine only.
func TestNoMachinePaths(t *testing.T) {
	home := regexp.MustCompile(`(^|[\s"'=:(])/(` + "home|root|Users|work" + `)/[\w.-]`)
	for _, file := range tracked(t) {
		if in(file, "api/docs/ui") || file == "go.sum" {
			continue
		}
		text, err := os.ReadFile(filepath.Join(root, file))
		if os.IsNotExist(err) {
			continue // deleted here, not yet in git
		}
		if err != nil {
			t.Error(err)
			continue
		}
		n := 0
		for line := range bytes.Lines(text) {
			n++
			if home.Match(line) {
				t.Errorf("%s:%d names a path of one machine: %s", file, n, bytes.TrimSpace(line))
			}
		}
	}
}
