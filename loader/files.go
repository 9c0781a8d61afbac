package loader

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"runtime"
	"strings"
	"sync"

	"matewell/graph/diag"
)

// dataFile is one file after the first pass: raw items with their places.
type dataFile struct {
	name   string // with the layer's name in front
	layer  int    // index of its layer
	index  int    // among all files
	folder string // last part of the layer's name
	faults diag.List
	// broken is true when something could not be read at all, so that names
	// may be missing that the file does define.
	broken bool
	// cut is true when rows of a list may be missing, such as what is fitted
	// where.
	cut bool
	// source is the default source of the file.
	source []word

	sources     []named[rawSource]
	brands      []named[rawBrand]
	kinds       []named[rawKind]
	models      []named[rawModel]
	patterns    []named[rawModel]
	parts       []rawPart
	findings    []rawFinding
	withdrawals []rawWithdrawal
	bikes       []named[rawBike]
	jobs        []named[rawJob]
	offers      []named[rawOffer]
	fitments    []rawFitment
	// body is the content of a file that is read later, or twice, so that few
	// of its items are in memory at a time: see stream.go.
	body []byte
	// blanked is true when bytes of body were reported and blanked.
	blanked bool
	// stripped is true when most positions of models were left out; body has them.
	stripped      bool
	supersessions []rawSupersession
	fasteners     []rawFastener
}

// maxFile is the largest file that is read, in bytes. A larger one is not
// hand-written.
const maxFile = 64 << 20

// fileName is a file of a layer before it is read.
type fileName struct {
	layer int
	path  string
}

// readLayers finds and reads the files of all layers, several at a time. The
// result is in the order of the layers, then of the paths; each file keeps its
// own faults.
func readLayers(ctx context.Context, g *grammar, layers []Layer, probs *diag.List) ([]*dataFile, error) {
	var names []fileName
	for i, layer := range layers {
		found, err := findFiles(layer.FS, func(p string, err error) {
			probs.Errorf(diag.Pos{File: layerPath(layer, p)}, "unreadable", "the folder can't be read: %s", why(err))
		}, func(p string) {
			probs.Warnf(diag.Pos{File: layerPath(layer, p)}, "linked-folder",
				"this is a link to a folder, which is not followed: what lies there is left out").Hint =
				"give that folder as data of its own, or put it here in place of the link"
		})
		if err != nil {
			return nil, fmt.Errorf("loader: read %s: %w", layerPath(layer, "."), err)
		}
		for _, p := range found {
			names = append(names, fileName{i, p})
		}
		if len(found) == 0 {
			probs.Errorf(diag.Pos{File: layerPath(layer, ".")}, "no-data", "there is no YAML or CSV file here")
		}
	}
	files := make([]*dataFile, len(names))
	errs := make([]error, len(names))
	eachAtOnce(ctx, len(names), func(i int) { files[i], errs[i] = readFile(g, layers, names[i]) })
	for _, err := range append(errs, ctx.Err()) {
		if err != nil {
			return nil, err
		}
	}
	return files, nil
}

// HasData reports whether a folder holds a file that would be read.
func HasData(files fs.FS) bool {
	found, err := findFiles(files, func(string, error) {}, func(string) {})
	return err != nil || len(found) > 0
}

// sayEmpty reports each folder whose files hold nothing at all.
func sayEmpty(layers []Layer, files []*dataFile, probs *diag.List) {
	holds, has := make([]bool, len(layers)), make([]bool, len(layers))
	for _, f := range files {
		has[f.layer] = true
		holds[f.layer] = holds[f.layer] || f.broken || f.cut || !f.holdsNothing() || f.faults.Len() > 0
	}
	for i, layer := range layers {
		if has[i] && !holds[i] {
			probs.Errorf(diag.Pos{File: layerPath(layer, ".")}, "no-data", "no file here holds anything")
		}
	}
}

// holdsNothing says whether a file is empty, or comments alone.
func (f *dataFile) holdsNothing() bool {
	return len(f.source)+len(f.sources)+len(f.brands)+len(f.kinds)+len(f.models)+len(f.patterns)+len(f.parts)+
		len(f.findings)+len(f.withdrawals)+len(f.bikes)+len(f.jobs)+len(f.offers)+len(f.fitments)+
		len(f.supersessions)+len(f.fasteners)+len(bytes.TrimSpace(f.body)) == 0
}

// eachAtOnce calls do for 0 to n-1, on as many goroutines as there are
// processors, until ctx is done.
func eachAtOnce(ctx context.Context, n int, do func(int)) {
	work := make(chan int)
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		wait.Go(func() {
			for i := range work {
				do(i)
			}
		})
	}
	for i := range n {
		if ctx.Err() != nil {
			break
		}
		work <- i
	}
	close(work)
	wait.Wait()
}

// layerPath is a path with the layer's name in front.
func layerPath(layer Layer, p string) string { return path.Join(layer.Name, p) }

// findFiles lists the data files of a folder, sorted by path. Links to files
// are followed; links to folders, which may lead round in a circle, are not, and go
// to linked. A folder in it that can't be read goes to unreadable.
func findFiles(fsys fs.FS, unreadable func(p string, err error), linked func(p string)) ([]string, error) {
	var found []string
	err := fs.WalkDir(fsys, ".", func(p string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil && p != ".":
			unreadable(p, err)
			return fs.SkipDir
		case err != nil:
			return err
		case p != "." && strings.HasPrefix(entry.Name(), "."):
			if entry.IsDir() {
				return fs.SkipDir
			}
		case isLinkedFolder(fsys, p, entry):
			linked(p)
		case !entry.IsDir() && isData(p):
			found = append(found, p)
		}
		return nil
	})
	return found, err
}

func isLinkedFolder(fsys fs.FS, p string, entry fs.DirEntry) bool {
	if entry.Type()&fs.ModeSymlink == 0 {
		return false
	}
	info, err := fs.Stat(fsys, p)
	return err == nil && info.IsDir()
}

func isData(p string) bool {
	switch strings.ToLower(path.Ext(p)) {
	case ".yaml", ".yml", ".csv":
		return true
	}
	return false
}

func readFile(g *grammar, layers []Layer, name fileName) (*dataFile, error) {
	layer := layers[name.layer]
	f := &dataFile{name: layerPath(layer, name.path), layer: name.layer, folder: path.Base(layer.Name)}
	info, err := fs.Stat(layer.FS, name.path)
	if err != nil {
		f.refuse("unreadable", "the file can't be read: %s", why(err))
		return f, nil
	}
	switch {
	case !info.Mode().IsRegular():
		f.refuse("not-a-file", "this is a device or a pipe, not a file")
		return f, nil
	case info.Size() > maxFile:
		f.refuse("too-large", "the file has %d bytes; more than %d are not read", info.Size(), maxFile)
		return f, nil
	}
	body, err := fs.ReadFile(layer.FS, name.path)
	if err != nil {
		f.refuse("unreadable", "the file can't be read: %s", why(err))
		return f, nil
	}
	if utf16(body) {
		f.refuse("not-utf8", "the file is UTF-16, not UTF-8").Hint = "save it anew, with UTF-8 chosen as its encoding"
		return f, nil
	}
	body = lineFeeds(body)
	switch csv := strings.EqualFold(path.Ext(name.path), ".csv"); {
	case csv:
		r := newReading(f, body)
		if g.later && readTwice(name.path) {
			f.body, f.blanked = body, r.blanked
		}
		g.readCSV(r, f, path.Base(name.path))
	case g.later && partsOnly(body):
		f.body = body
	default:
		r := newReading(f, body)
		g.readYAML(r, f)
		if g.later && len(f.models) > 0 {
			f.body, f.blanked, f.stripped = body, r.blanked, true
			strip(f.models)
		}
	}
	return f, nil
}

func newReading(f *dataFile, body []byte) reading {
	return reading{text: newText(f.name, body, &f.faults), List: &f.faults}
}

// why is an error without the path that the place of the fault names already.
func why(err error) string {
	var at *fs.PathError
	if errors.As(err, &at) {
		err = at.Err
	}
	return err.Error()
}

// refuse reports a file that is not read at all.
func (f *dataFile) refuse(code, format string, args ...any) *diag.Diagnostic {
	f.broken = true
	return f.faults.Errorf(diag.Pos{File: f.name}, code, format, args...)
}
