// Typecheck checks that the whole project, tests too, is correct Go on other
// systems: names and types of every file that belongs to a system, against those of
// all it imports. Nothing is compiled, so that a system takes seconds.
//
//	go run ./.ci/typecheck windows/amd64 darwin/arm64
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

func main() {
	failed := len(os.Args) < 2
	for _, system := range os.Args[1:] {
		packages, err := list(system)
		if err == nil {
			err = check(system, packages)
		}
		if err != nil {
			failed = true
			fmt.Fprintf(os.Stderr, "%s:\n%v\n", system, err)
		}
	}
	if failed {
		os.Exit(1)
	}
}

// listed is what "go list" says of a package: what it imports comes before it.
type listed struct {
	ImportPath, Dir string
	GoFiles         []string
	ImportMap       map[string]string // what an import means, where it is something else
	Module          *struct {
		Main      bool
		GoVersion string
	}
}

// list gives the packages of the project for a system, with their tests and all that
// they import.
func list(system string) ([]listed, error) {
	goos, goarch, ok := strings.Cut(system, "/")
	if !ok {
		return nil, fmt.Errorf("%q is no system like windows/amd64", system)
	}
	cmd := exec.Command("go", "list", "-deps", "-test", "-json=ImportPath,Dir,GoFiles,ImportMap,Module", "./...")
	cmd.Env = append(os.Environ(), "GOOS="+goos, "GOARCH="+goarch, "CGO_ENABLED=0")
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, err
	}
	var packages []listed
	for dec := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		switch err := dec.Decode(&p); {
		case err == io.EOF:
			return packages, nil
		case err != nil:
			return nil, err
		}
		packages = append(packages, p)
	}
}

// check reads and checks all packages; of those that are not ours, no bodies of
// functions.
func check(system string, packages []listed) error {
	_, goarch, _ := strings.Cut(system, "/")
	done := map[string]*types.Package{"unsafe": types.Unsafe}
	var faults []error
	ours := 0
	for _, p := range packages {
		if p.ImportPath == "unsafe" || strings.HasSuffix(p.ImportPath, ".test") { // the latter is written by go test
			continue
		}
		own := p.Module != nil && p.Module.Main
		config := types.Config{Sizes: types.SizesFor("gc", goarch), IgnoreFuncBodies: !own, FakeImportC: true,
			Importer: importer{p.ImportMap, done}, Error: func(err error) {
				if own {
					faults = append(faults, err)
				}
			}}
		if p.Module != nil && p.Module.GoVersion != "" {
			config.GoVersion = "go" + p.Module.GoVersion
		}
		fset := token.NewFileSet()
		files, err := parse(fset, p)
		if err != nil {
			return err
		}
		// A package tested from outside is named "p_test [p.test]" where it is listed.
		path, _, _ := strings.Cut(p.ImportPath, " ")
		done[p.ImportPath], _ = config.Check(path, fset, files, nil)
		if own {
			ours++
		}
	}
	if ours < 20 {
		faults = append(faults, fmt.Errorf("only %d packages of this project were checked", ours))
	}
	return errors.Join(faults...)
}

func parse(fset *token.FileSet, p listed) ([]*ast.File, error) {
	var files []*ast.File
	for _, name := range p.GoFiles {
		if !filepath.IsAbs(name) {
			name = filepath.Join(p.Dir, name)
		}
		file, err := parser.ParseFile(fset, name, nil, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		files = append(files, file)
	}
	return files, nil
}

// importer finds what a package imports among those checked before it.
type importer struct {
	means map[string]string
	done  map[string]*types.Package
}

func (i importer) Import(path string) (*types.Package, error) {
	if other, ok := i.means[path]; ok {
		path = other
	}
	if p := i.done[path]; p != nil {
		return p, nil
	}
	return nil, fmt.Errorf("%s was not listed", path)
}
