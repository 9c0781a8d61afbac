package main

import (
	"go/ast"
	"go/build/constraint"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestMethodsStandByTheirType: who reads a type finds all that it can do in the same
// file, however long. Only what each system does its own way stands in that system's
// file, and only tests add methods in files of tests.
func TestMethodsStandByTheirType(t *testing.T) {
	folders := goFiles(t, "../..")
	if len(folders) < 30 {
		t.Fatalf("%d folders with Go files: was the house read?", len(folders))
	}
	for _, files := range folders {
		for _, m := range methodsApart(t, files) {
			t.Errorf("%s: method %s stands apart from its type in %s: put it there", m.file, m.name, m.typeIn)
		}
	}
}

// goFiles are the texts of all Go files under root that every system reads, by folder
// and path.
func goFiles(t *testing.T, root string) map[string]map[string]string {
	t.Helper()
	all := map[string]map[string]string{}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && path != root && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata"):
			return filepath.SkipDir
		case d.IsDir() || filepath.Ext(path) != ".go":
			return nil
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		dir := filepath.Dir(path)
		if all[dir] == nil {
			all[dir] = map[string]string{}
		}
		all[dir][path] = string(text)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// methodApart is a method that does not stand in the file of its type.
type methodApart struct{ name, file, typeIn string }

func methodsApart(t *testing.T, files map[string]string) []methodApart {
	t.Helper()
	typeIn := map[string]string{}
	var methods []methodApart
	for path, text := range files {
		if ofOneSystem(path, text) {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, text, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range f.Decls {
			switch d := d.(type) {
			case *ast.GenDecl:
				for _, s := range d.Specs {
					if s, ok := s.(*ast.TypeSpec); ok {
						typeIn[f.Name.Name+"."+s.Name.Name] = path
					}
				}
			case *ast.FuncDecl:
				if of := receiver(d); of != "" {
					methods = append(methods, methodApart{name: of + "." + d.Name.Name, file: path, typeIn: f.Name.Name + "." + of})
				}
			}
		}
	}
	var apart []methodApart
	for _, m := range methods {
		m.typeIn = typeIn[m.typeIn]
		if m.typeIn != "" && m.typeIn != m.file && (!isTest(m.file) || isTest(m.typeIn)) {
			apart = append(apart, m)
		}
	}
	return apart
}

// receiver is the name of the type that d is a method of, without its star and its
// parameters; none for a function.
func receiver(d *ast.FuncDecl) string {
	if d.Recv == nil {
		return ""
	}
	of := d.Recv.List[0].Type
	for {
		switch at := of.(type) {
		case *ast.StarExpr:
			of = at.X
		case *ast.IndexExpr:
			of = at.X
		case *ast.IndexListExpr:
			of = at.X
		case *ast.Ident:
			return at.Name
		default:
			return ""
		}
	}
}

func isTest(path string) bool { return strings.HasSuffix(path, "_test.go") }

// ofOneSystem tells whether only some systems read a file: its name says so, or a line
// before its package.
func ofOneSystem(path, text string) bool {
	base := strings.TrimSuffix(strings.TrimSuffix(filepath.Base(path), ".go"), "_test")
	for _, system := range []string{"_windows", "_darwin", "_linux"} {
		if strings.HasSuffix(base, system) {
			return true
		}
	}
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "package ") {
			return false
		}
		if constraint.IsGoBuild(line) {
			return true
		}
	}
	return false
}

func TestMethodsApart(t *testing.T) {
	const typed, system = "package p\ntype a struct{}\n", "//go:build windows\n\npackage p\n"
	for name, c := range map[string]struct {
		files map[string]string
		want  string
	}{
		"together": {map[string]string{"a.go": typed + "func (a) b() {}\n"}, ""},
		"apart":    {map[string]string{"a.go": typed, "b.go": "package p\nfunc (*a) b() {}\n"}, "a.b"},
		"of any": {map[string]string{"a.go": "package p\ntype a[T any] int\n",
			"b.go": "package p\nfunc (*a[T]) b() {}\n"}, "a.b"},
		"of a system":  {map[string]string{"a.go": typed, "b.go": system + "func (a) b() {}\n"}, ""},
		"by its name":  {map[string]string{"a.go": typed, "b_windows.go": "package p\nfunc (a) b() {}\n"}, ""},
		"for a test":   {map[string]string{"a.go": typed, "b_test.go": "package p\nfunc (a) b() {}\n"}, ""},
		"tests' apart": {map[string]string{"a_test.go": typed, "b_test.go": "package p\nfunc (a) b() {}\n"}, "a.b"},
	} {
		t.Run(name, func(t *testing.T) {
			got := ""
			for _, m := range methodsApart(t, c.files) {
				got += m.name
			}
			if got != c.want {
				t.Errorf("apart: %q, want %q", got, c.want)
			}
		})
	}
}
