package loader_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"matewell/loader"
)

// Every code in the program's text is one that Codes explains, and is a word of
// the same form; so none is told that no fixture shows.
func TestCodesInTheText(t *testing.T) {
	known := map[string]bool{}
	for _, c := range loader.Codes() {
		known[c.Name] = true
		if c.Means == "" {
			t.Errorf("%s means nothing", c.Name)
		}
	}
	form := regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)
	used := map[string]bool{}
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, entry := range entries {
		if !strings.HasSuffix(entry.Name(), ".go") || strings.HasSuffix(entry.Name(), "_test.go") ||
			entry.Name() == "codes.go" {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), entry.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			for _, code := range codesIn(n) {
				if used[code] = true; !known[code] || !form.MatchString(code) {
					t.Errorf("%s: code %q is not in Codes", entry.Name(), code)
				}
			}
			return true
		})
	}
	for code := range known {
		if !used[code] {
			t.Errorf("%s is explained but never told", code)
		}
	}
}

// codesIn gives the codes that a call hands over: where they stand in the
// arguments depends on the function.
func codesIn(n ast.Node) []string {
	at := map[string]int{"Errorf": 1, "Warnf": 1, "unknown": 1, "refuse": 0, "patterned": 1, "rangeFault": 2, "check": 1}
	var args []ast.Expr
	var name string
	switch call := n.(type) {
	case *ast.CallExpr:
		args = call.Args
		switch fun := call.Fun.(type) {
		case *ast.SelectorExpr:
			name = fun.Sel.Name
			if pkg, ok := fun.X.(*ast.Ident); ok && pkg.Name == "fmt" {
				return nil
			}
		case *ast.Ident:
			name = fun.Name
		}
	case *ast.CompositeLit:
		if typ, ok := call.Type.(*ast.Ident); !ok || typ.Name != "partFault" {
			return nil
		}
		args, name = call.Elts, "refuse"
	}
	i, tells := at[name]
	if !tells || i >= len(args) {
		return nil
	}
	literal, ok := args[i].(*ast.BasicLit)
	if !ok || literal.Kind != token.STRING {
		return nil
	}
	code, err := strconv.Unquote(literal.Value)
	if err != nil {
		return nil
	}
	return []string{code}
}
