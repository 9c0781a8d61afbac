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
)

// code is one sort of fault.
type code struct {
	Name string // stable: "unknown-part"
	// Warning is true when the fault never fails a load.
	Warning bool
	Means   string
}

// codes lists every sort of fault that Load reports, sorted by name.
func codes() []code {
	return []code{
		{"bad-csv", false, "a line of a list breaks the rules of RFC 4180"},
		{"bad-date", false, "a date is no date"},
		{"bad-frames", false, "frame numbers can't be read"},
		{"bad-name", false, "a name has letters that names don't have"},
		{"bad-number", false, "a part number is not written as its brand writes numbers"},
		{"bad-value", false, "a value can't be read, or is none of those allowed"},
		{"bad-yaml", false, "a file is not YAML"},
		{"bad-year", false, "a year is no model year"},
		{"cannot-meet", false, "a joint joins two features that never meet"},
		{"covers-nothing", false, "what is said holds on no variant"},
		{"duplicate", false, "one identity is given twice, or one source says one thing twice"},
		{"duplicate-key", false, "a key or a column is given twice"},
		{"empty-value", false, "a key has no value"},
		{"frame-outside", false, "a frame number does not belong to its variant"},
		{"frames-overlap", false, "two variants of one model and market share frame numbers"},
		{"impossible-feature", false, "two sizes of a feature that no part can have together"},
		{"impossible-value", false, "a value that no part can have"},
		{"invisible-character", false, "a file holds a character that can't be seen"},
		{"joint-without-feature", false, "no part at a position has the feature"},
		{"kit-contains-itself", false, "a kit contains itself, directly or in another kit"},
		{"left-out", true, "a model has not taken over what holds on none of its variants"},
		{"like-cycle", false, "a model or pattern is like itself, directly or over others"},
		{"linked-folder", true, "a link to a folder, which is not followed"},
		{"misplaced-offer", false, "an offer stands in a data set, where it would be asked with"},
		{"missing-dimension", true, "a feature lacks a dimension that its joints need"},
		{"missing-feature", true, "a part lacks a feature that its kind has"},
		{"missing-key", false, "a key or a column that must be given is not"},
		{"no-data", false, "a folder holds no data file, or its files hold nothing"},
		{"no-rule", true, "a joint joins two features that no rule judges"},
		{"no-source", false, "an item names no source, and neither does its file"},
		{"not-a-file", false, "a device or a pipe stands where a file should be"},
		{"not-an-offer", false, "a file of offers holds something else, or none"},
		{"not-utf8", false, "a file holds bytes that are not UTF-8"},
		{"order-cycle", false, "positions each come after the other"},
		{"other-kind", true, "a part fits at a position that is for another kind of part"},
		{"other-meaning", true, "a kind of part has the feature as another sort of feature in another set"},
		{"other-sizes", false, "a bearing whose number says other sizes than are given"},
		{"outside-years", false, "years in which the model was not made"},
		{"reversed-range", false, "a range ends before it starts"},
		{"same-number", false, "one part number is written in two ways"},
		{"several-documents", false, "a YAML file holds more than one document"},
		{"source-cycle", false, "sources are each other's origin"},
		{"splits-variant", false, "frame numbers cut through a variant"},
		{"supersedes-itself", false, "a part supersedes itself"},
		{"supersession-cycle", false, "numbers supersede each other in a circle"},
		{"terminal-escape", false, "a file holds characters that could steer a terminal"},
		{"thick-thread", true, "a thread is thicker than the shaft it is cut on"},
		{"too-large", false, "a file is too large to be hand-written"},
		{"two-currencies", false, "offers are given in more than one currency"},
		{"two-values", false, "one source gives one quantity two values"},
		{"unknown-bike", false, "nothing defines the bike"},
		{"unknown-brand", false, "nothing defines the brand"},
		{"unknown-dimension", false, "the sort of feature has no such dimension"},
		{"unknown-feature", false, "the kind of part has no such feature"},
		{"unknown-feature-kind", false, "there is no such sort of feature"},
		{"unknown-finding", false, "nothing defines the finding that is taken back"},
		{"unknown-key", false, "there is no such key or column"},
		{"unknown-kind", false, "nothing defines the kind of part"},
		{"unknown-list", false, "a CSV file is none of the lists, by its name"},
		{"unknown-mark", false, "no variant of the model has the mark"},
		{"unknown-market", false, "no variant of the model has the market"},
		{"unknown-model", false, "nothing defines the model"},
		{"unknown-part", false, "nothing defines the part"},
		{"unknown-pattern", false, "a model is like something that nothing defines"},
		{"unknown-position", false, "the model has no such position"},
		{"unknown-scheme", false, "the variants were not sold in the colour scheme"},
		{"unknown-source", false, "nothing defines the source"},
		{"unknown-variant", false, "nothing defines the variant"},
		{"unlikely-value", true, "a value that hardly any part of a motorcycle has"},
		{"unreadable", false, "a file or folder can't be read"},
		{"unused-source", true, "nothing cites the source"},
		{"wrong-column-count", false, "a row has more or fewer values than the first line names"},
		{"wrong-feature-kind", false, "the feature is of another sort than its place asks for"},
		{"wrong-shape", false, "a list stands where a mapping should, or the like"},
		{"wrong-unit", false, "a unit of another quantity"},
		{"yaml-anchor", false, "YAML anchors, aliases and merged mappings are not read"},
		{"yaml-tag", false, "YAML tags are not read"},
		{"zero-quantity", false, "a quantity of nothing"},
	}
}

// Every code in the program's text is one that codes explains, and is a word of
// the same form; so none is told that no fixture shows.
func TestCodesInTheText(t *testing.T) {
	known := map[string]bool{}
	for _, c := range codes() {
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
		if !strings.HasSuffix(entry.Name(), ".go") || strings.HasSuffix(entry.Name(), "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), entry.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			for _, code := range codesIn(n) {
				if used[code] = true; !known[code] || !form.MatchString(code) {
					t.Errorf("%s: code %q is not in codes", entry.Name(), code)
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
