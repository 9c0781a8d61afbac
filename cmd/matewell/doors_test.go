package main

import (
	"encoding/json"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// shownAlone are the names that a package shows though nobody else uses them, and why.
var shownAlone = map[string]string{
	"queries/swap.MadeFirst":      "the rule for what is made before anyone rides, tried alone by the tests from outside",
	"queries/examine.Place":       "the rule by which a place earns its verdict, tried alone by the tests from outside",
	"queries/examine.Place.Judge": "the rule by which a place earns its verdict, tried alone by the tests from outside",
}

// TestNarrowDoors: a name is exported only where another package uses it, or uses what
// it is a part of: the type of a field or result, a method that an interface asks for, a
// constant of a list of which another is used. What only the package's own tests use is
// used by nobody.
func TestNarrowDoors(t *testing.T) {
	h := houseOf(t)
	if len(h.shown) < 1000 || len(h.asked) < 50 {
		t.Fatalf("%d names and %d interfaces in %d packages: was the house read?", len(h.shown), len(h.asked), len(h.own))
	}
	known := map[string]bool{}
	for _, o := range h.shown {
		name := nameOf(o)
		if known[name] || h.isNeeded(o) {
			continue
		}
		known[name] = true
		if shownAlone[name] == "" {
			t.Errorf("%s: no other package uses %s: unexport it", h.files.Position(o.Pos()), name)
		}
	}
	for name := range shownAlone {
		if !known[name] {
			t.Errorf("%s is used or gone: take its reason away", name)
		}
	}
}

// spot is where a name stands. A package is type-checked once for itself and again for
// its tests, and the spot is the same.
type spot struct {
	file string
	at   int
}

// house is all packages of this program, type-checked with their tests.
type house struct {
	files  *token.FileSet
	parsed map[string]*ast.File
	own    map[string]*types.Package
	others types.Importer           // what is not ours, as it was compiled
	shown  []types.Object           // what is exported, methods too
	asked  []*types.Interface       // all interfaces of ours and of what we import
	usedIn map[spot]map[string]bool // the packages that use a name
	lists  map[spot][]spot          // the constants that stand in one list
	part   map[types.Type]bool      // the types that were gone through
	needed map[spot]bool            // the types that what is used is made of
}

func houseOf(t *testing.T) *house {
	h := &house{files: token.NewFileSet(), parsed: map[string]*ast.File{}, own: map[string]*types.Package{},
		usedIn: map[spot]map[string]bool{}, lists: map[spot][]spot{}, part: map[types.Type]bool{},
		needed: map[spot]bool{}}
	list := exec.Command("go", "list", "-export", "-deps", "-test",
		"-json=ImportPath,Dir,Export,GoFiles,ImportMap,Module", "./...")
	list.Dir = filepath.Join("..", "..")
	list.Stderr = os.Stderr
	out, err := list.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	exports := map[string]string{}
	h.others = importer.ForCompiler(h.files, "gc", func(path string) (io.ReadCloser, error) {
		return os.Open(exports[path])
	})
	for dec := json.NewDecoder(strings.NewReader(string(out))); dec.More(); {
		var p compiled
		if err := dec.Decode(&p); err != nil {
			t.Fatal(err)
		}
		if p.Module == nil || !p.Module.Main {
			exports[p.ImportPath] = p.Export
		} else if !strings.HasSuffix(p.ImportPath, ".test") { // written by go test
			h.read(t, p)
		}
	}
	h.gather()
	return h
}

// compiled is what "go list -export" says of a package: what it imports comes before it.
type compiled struct {
	ImportPath, Dir, Export string
	GoFiles                 []string
	ImportMap               map[string]string // what an import means, where it is something else
	Module                  *struct{ Main bool }
}

// read type-checks a package and notes what it uses.
func (h *house) read(t *testing.T, p compiled) {
	var files []*ast.File
	for _, name := range p.GoFiles {
		if !filepath.IsAbs(name) {
			name = filepath.Join(p.Dir, name)
		}
		if h.parsed[name] == nil {
			file, err := parser.ParseFile(h.files, name, nil, parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			h.parsed[name] = file
		}
		files = append(files, h.parsed[name])
	}
	// A package tested from outside is named "p_test [p.test]" where it is listed.
	path, _, _ := strings.Cut(p.ImportPath, " ")
	info := types.Info{Uses: map[*ast.Ident]types.Object{}, Types: map[ast.Expr]types.TypeAndValue{}}
	config := types.Config{Importer: importing{h, p.ImportMap}}
	checked, err := config.Check(path, h.files, files, &info)
	if err != nil {
		t.Fatal(err)
	}
	h.own[p.ImportPath] = checked
	for _, o := range info.Uses {
		h.use(o, path)
	}
	for at, is := range info.Types {
		if _, ok := at.(*ast.InterfaceType); ok {
			h.ask(is.Type)
		}
	}
}

// importing finds what a package imports.
type importing struct {
	*house
	means map[string]string
}

func (i importing) Import(path string) (*types.Package, error) {
	if other, ok := i.means[path]; ok {
		path = other
	}
	if p := i.own[path]; p != nil {
		return p, nil
	}
	return i.others.Import(path)
}

// spotOf is where an object is declared.
func (h *house) spotOf(o types.Object) spot {
	switch generic := o.(type) {
	case *types.Func:
		o = generic.Origin()
	case *types.Var:
		o = generic.Origin()
	}
	return h.spotAt(o.Pos())
}

func (h *house) spotAt(pos token.Pos) spot {
	p := h.files.Position(pos)
	return spot{p.Filename, p.Offset}
}

func (h *house) use(o types.Object, path string) {
	if o.Pkg() == nil || !o.Exported() {
		return
	}
	at := h.spotOf(o)
	if h.usedIn[at] == nil {
		h.usedIn[at] = map[string]bool{}
	}
	h.usedIn[at][path] = true
}

func (h *house) ask(t types.Type) {
	if i, ok := t.Underlying().(*types.Interface); ok && i.NumMethods() > 0 {
		h.asked = append(h.asked, i)
	}
}

// gather finds what is exported, which interfaces there are, and what goes together.
func (h *house) gather() {
	seen := map[*types.Package]bool{}
	for _, p := range h.own {
		h.askAll(p, seen)
		if p.Name() != "main" && !strings.HasSuffix(p.Name(), "_test") && !strings.Contains(p.Path(), "/testdata/") {
			h.show(p)
		}
	}
	h.ask(types.Universe.Lookup("error").Type())
	for _, file := range h.parsed {
		for _, d := range file.Decls {
			if g, ok := d.(*ast.GenDecl); ok && g.Tok == token.CONST {
				h.list(g)
			}
		}
	}
	for _, o := range h.shown {
		if h.isUsed(h.spotOf(o), o) {
			h.reach(o.Type())
		}
	}
}

// askAll takes the interfaces of a package and of all that it imports.
func (h *house) askAll(p *types.Package, seen map[*types.Package]bool) {
	if seen[p] {
		return
	}
	seen[p] = true
	for _, name := range p.Scope().Names() {
		o, ok := p.Scope().Lookup(name).(*types.TypeName)
		if !ok {
			continue
		}
		if n, ok := o.Type().(*types.Named); ok && n.TypeParams().Len() == 0 {
			h.ask(n)
		}
	}
	for _, imported := range p.Imports() {
		h.askAll(imported, seen)
	}
}

// show takes what a package exports, outside of its tests.
func (h *house) show(p *types.Package) {
	show := func(o types.Object) {
		if o.Exported() && !strings.HasSuffix(h.files.Position(o.Pos()).Filename, "_test.go") {
			h.shown = append(h.shown, o)
		}
	}
	for _, name := range p.Scope().Names() {
		o := p.Scope().Lookup(name)
		show(o)
		if n, ok := o.Type().(*types.Named); ok && o == types.Object(n.Obj()) && !types.IsInterface(n) {
			for m := range n.Methods() {
				show(m)
			}
		}
	}
}

// list notes which constants stand in one list.
func (h *house) list(g *ast.GenDecl) {
	var all []spot
	for _, s := range g.Specs {
		for _, name := range s.(*ast.ValueSpec).Names {
			all = append(all, h.spotAt(name.Pos()))
		}
	}
	for _, at := range all {
		h.lists[at] = all
	}
}

// isUsed reports whether another package uses a name, or the tests of another.
func (h *house) isUsed(at spot, o types.Object) bool {
	for path := range h.usedIn[at] {
		if path != o.Pkg().Path() && path != o.Pkg().Path()+"_test" {
			return true
		}
	}
	return false
}

// isNeeded reports whether a name must be exported.
func (h *house) isNeeded(o types.Object) bool {
	at := h.spotOf(o)
	switch o := o.(type) {
	case *types.Const:
		return h.isUsed(at, o) || slices.ContainsFunc(h.lists[at], func(s spot) bool { return h.isUsed(s, o) })
	case *types.TypeName:
		return h.isUsed(at, o) || h.needed[at]
	case *types.Func:
		return h.isUsed(at, o) || receiverOf(o) != nil && h.isAsked(receiverOf(o), o.Name())
	}
	return h.isUsed(at, o)
}

// isAsked reports whether an interface that a type fulfils asks for a method; package
// errors and the writer of schemas look for some without one.
func (h *house) isAsked(n *types.Named, method string) bool {
	if method == "Is" || method == "Unwrap" || strings.HasPrefix(method, "JSONSchema") {
		return true
	}
	return slices.ContainsFunc(h.asked, func(i *types.Interface) bool {
		has, _, _ := types.LookupFieldOrMethod(i, false, n.Obj().Pkg(), method)
		return has != nil && (types.Implements(n, i) || types.Implements(types.NewPointer(n), i))
	})
}

// reach goes through all that a type shows of itself.
func (h *house) reach(t types.Type) {
	if h.part[t] {
		return
	}
	h.part[t] = true
	switch t := t.(type) {
	case *types.Named:
		for arg := range t.TypeArgs().Types() {
			h.reach(arg)
		}
		if p := t.Obj().Pkg(); p != nil && strings.HasPrefix(p.Path(), mod) {
			h.needed[h.spotOf(t.Obj())] = true
			h.reach(t.Origin().Underlying())
		}
	case *types.Alias:
		h.needed[h.spotOf(t.Obj())] = true
		h.reach(types.Unalias(t))
	case *types.Map:
		h.reach(t.Key())
		h.reach(t.Elem())
	case interface{ Elem() types.Type }:
		h.reach(t.Elem())
	case *types.Struct:
		for f := range t.Fields() {
			if f.Exported() {
				h.reach(f.Type())
			}
		}
	case *types.Signature:
		for v := range t.Params().Variables() {
			h.reach(v.Type())
		}
		for v := range t.Results().Variables() {
			h.reach(v.Type())
		}
	case *types.Interface:
		for m := range t.Methods() {
			h.reach(m.Type())
		}
	}
}

// receiverOf is the type that a method belongs to; nil for any other function.
func receiverOf(f *types.Func) *types.Named {
	receiver := f.Signature().Recv()
	if receiver == nil {
		return nil
	}
	t := receiver.Type()
	if p, ok := t.(*types.Pointer); ok {
		t = p.Elem()
	}
	return t.(*types.Named)
}

// nameOf is a name as one finds it: "queries/examine.Place.Judge".
func nameOf(o types.Object) string {
	name := o.Name()
	if f, ok := o.(*types.Func); ok && receiverOf(f) != nil {
		name = receiverOf(f).Obj().Name() + "." + name
	}
	return fmt.Sprintf("%s.%s", strings.TrimPrefix(o.Pkg().Path(), mod), name)
}
