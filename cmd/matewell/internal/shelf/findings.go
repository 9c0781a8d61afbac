package shelf

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"slices"
	"syscall"
	"testing/fstest"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/disk"
	"matewell/graph/store"
	"matewell/loader"
)

// FindingsVariable names a findings file other than the usual one.
const FindingsVariable = "MATEWELL_FINDINGS"

// findingsPath is the user's own findings file, unless another is named; it need not
// exist.
func findingsPath(e desk.Env, named string) (string, error) {
	if named != "" {
		return named, nil
	}
	if path := e.Getenv(FindingsVariable); path != "" {
		return path, nil
	}
	dir, err := e.DataDir()
	return filepath.Join(dir, "findings.yaml"), err
}

// withFindings lays the user's own findings over a graph, so that what was
// recorded a moment ago counts at once. A finding with a fault is left out, and
// the answer says so; a file that can't be read is left out whole.
func withFindings(ctx context.Context, e desk.Env, o Opened, named string) (Opened, error) {
	path, err := findingsPath(e, named)
	if err != nil {
		return o, nil // no home, so nothing was recorded there
	}
	leave := func(why error) (Opened, error) {
		where := filepath.ToSlash(WithoutSecrets(path))
		fmt.Fprintf(e.Err, "matewell: your findings in %s are left out: %v\n", where, why)
		whole := LeftFinding{What: "all of " + where, Why: why.Error()}
		o.Left = o.Left.And(LeftOut{findings: []LeftFinding{whole}, Whole: true})
		return o, nil
	}
	if named == "" && IsShared(path) { // else it would be no file of that name, and nothing said
		return leave(errors.New(FindingsVariable + " names a file, and this is a store: ask it with --store"))
	}
	mine, err := ReadFindings(ctx, e, o.Store, path)
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR):
		return o, nil
	case err != nil && ctx.Err() == nil:
		return leave(desk.Reason(err))
	case err != nil:
		return o, errors.Join(err, o.Close())
	}
	return o.over(mine), nil
}

// OwnFindings are what a findings file says, and its text line by line; lines is nil
// for a file that is written in another way than ours.
type OwnFindings struct {
	*store.Store
	Lines *loader.FindingLines
	Left  LeftOut
	From  []OpenedStore // where what it says is kept
}

// ReadFindings reads the findings file over a graph.
func ReadFindings(ctx context.Context, e desk.Env, base graph.Reader, path string) (OwnFindings, error) {
	f := findingsOver{e: e, base: base, path: path, seen: lookAt(e, path)}
	if k, ok := f.kept(f.seen.Size); ok {
		if mine, ok, err := k.unchanged(ctx); ok {
			return mine, err
		}
	}
	var err error
	if f.content, err = desk.ReadInput(e, path, findingsLimit); err != nil {
		return OwnFindings{}, err
	}
	return f.read(ctx)
}

// findingsLimit is how large a findings file may be, in bytes.
const findingsLimit = disk.MaxPlain

// ReadFindingsText is ReadFindings for a file that was read already.
func ReadFindingsText(ctx context.Context, e desk.Env, base graph.Reader, path string, content []byte) (OwnFindings,
	error) {
	f := findingsOver{e: e, base: base, path: path, content: content}
	return f.read(ctx)
}

func (f *findingsOver) read(ctx context.Context) (OwnFindings, error) {
	if k, ok := f.kept(int64(len(f.content))); ok {
		if mine, err := k.read(ctx); err == nil || !errors.Is(err, errNotKept) {
			return mine, err
		}
	}
	upper, left, err := f.inMemory(ctx, func(add func(graph.Facts) error) ([]loader.Omitted, bool, error) {
		return loader.LoadFindings(ctx, f.base, f.name(), f.content, f.faults(), add)
	})
	lines, plain := loader.ScanFindings(f.content)
	if !plain {
		lines = nil
	}
	return OwnFindings{Store: upper, Lines: lines, Left: left}, err
}

// findingsOver is a findings file that is read over a graph.
type findingsOver struct {
	e       desk.Env
	base    graph.Reader
	path    string
	content []byte
	seen    fileSeen // before content was read; zero for what is no file
	probs   *diag.List
}

func (f *findingsOver) name() string { return filepath.ToSlash(filepath.Clean(f.path)) }

// faults is a new list of what is wrong with the file.
func (f *findingsOver) faults() *diag.List {
	f.probs = &diag.List{}
	return f.probs
}

// loading reads findings and hands them over; out are those that are left out, and
// with whole false nothing counts.
type loading func(add func(graph.Facts) error) (out []loader.Omitted, whole bool, err error)

// inMemory holds in memory what load hands over, and tells what was left out.
func (f *findingsOver) inMemory(ctx context.Context, load loading) (*store.Store, LeftOut, error) {
	s, err := store.Memory()
	if err != nil {
		return nil, LeftOut{}, err
	}
	var out []loader.Omitted
	err = s.ReplaceFrom(ctx, func(add func(graph.Facts) error) (err error) {
		out, err = f.checked(load(add))
		return err
	}, nil)
	if err != nil {
		return nil, LeftOut{}, errors.Join(err, s.Close())
	}
	left, err := f.tell(out)
	return s, left, err
}

// checked turns a file of which nothing counts into an error that says so, once its
// faults are printed.
func (f *findingsOver) checked(out []loader.Omitted, whole bool, err error) ([]loader.Omitted, error) {
	if err != nil || whole {
		return out, err
	}
	if err := f.print(f.e.Err); err != nil {
		return nil, err
	}
	return nil, errors.New(CountFaults(f.probs))
}

// text is that of the file, to show where a fault stands in it: read now, where it was not
// before.
func (f *findingsOver) text(string) []byte {
	if f.content == nil {
		f.content, _ = desk.ReadInput(f.e, f.path, findingsLimit) // gone meanwhile: the fault is told without its line
	}
	return f.content
}

func (f *findingsOver) print(to io.Writer) error {
	return diag.Print(to, f.probs, f.text)
}

// tell prints what findings were left out, and why, and gives them for the answer.
func (f *findingsOver) tell(out []loader.Omitted) (LeftOut, error) {
	left, err := f.left(out)
	if err != nil {
		return LeftOut{}, err
	}
	return left.tell(f.e, f.path)
}

// leftFindings are those that a findings file has and an answer does not know.
type leftFindings struct {
	Said string        `json:"said,omitempty"` // their faults, as printed
	Left []LeftFinding `json:"left,omitempty"`
	// Elsewhere are those that speak of what this data has not.
	Elsewhere []string `json:"elsewhere,omitempty"`
}

// left sorts what was left out, and puts the faults into words.
func (f *findingsOver) left(out []loader.Omitted) (l leftFindings, err error) {
	if len(out) == 0 {
		return l, nil
	}
	elsewhere := map[int]bool{} // lines
	for _, o := range out {
		if !o.Elsewhere {
			l.Left = append(l.Left, LeftFinding{What: o.ID, Why: o.Why, At: o.Pos.String()})
			continue
		}
		l.Elsewhere = append(l.Elsewhere, o.ID)
		for line := o.From; line <= o.To; line++ {
			elsewhere[line] = true
		}
	}
	var here diag.List
	for _, d := range f.probs.Sorted() {
		if !elsewhere[d.Pos.Line] {
			here.Add(d)
		}
	}
	var said bytes.Buffer
	err = diag.Print(&said, &here, f.text)
	l.Said = said.String()
	return l, err
}

// kept is where the file of a size in bytes is kept; ok is false for one that is small, or
// over a graph that may change.
func (f findingsOver) kept(size int64) (k keptFindings, ok bool) {
	below, isStore := f.base.(*store.Store)
	if !isStore || below.Identity() == "" || size <= FewFindings {
		return k, false
	}
	dir, err := f.e.CacheDir()
	if err != nil {
		return k, false
	}
	sum := sha256.New()
	fmt.Fprintf(sum, "%s\n%s\n%s\n", f.e.Program, below.Identity(), f.name())
	return keptFindings{f, below, filepath.Join(dir, FindingsFolder, hex.EncodeToString(sum.Sum(nil))[:24])}, true
}

// and are these findings together with others.
func (l leftFindings) and(more leftFindings) leftFindings {
	return leftFindings{l.Said + more.Said, slices.Concat(l.Left, more.Left), slices.Concat(l.Elsewhere, more.Elsewhere)}
}

// tell says what is left out. What concerns no question to this data is only counted: the
// answer lacks nothing.
func (l leftFindings) tell(e desk.Env, path string) (LeftOut, error) {
	var err error
	if n := len(l.Left); n > 0 {
		_, err = fmt.Fprintf(e.Err, "%smatewell: %d of your findings in %s %s left out\n", l.Said, n, filepath.ToSlash(path),
			page.Plural(n, "is", "are"))
	}
	if n := len(l.Elsewhere); n > 0 && err == nil {
		names := page.List(l.Elsewhere[:min(n, mostElsewhere)])
		if n > mostElsewhere {
			names += " ..."
		}
		_, err = fmt.Fprintf(e.Err, "matewell: %d of your findings %s of what this data has not: %s\n", n,
			page.Plural(n, "speaks", "speak"), names)
	}
	return LeftOut{findings: l.Left}, err
}

// mostElsewhere is how many findings are named that speak of what the data has not.
const mostElsewhere = 3

// CheckTyped checks the text of findings that nobody has written to a file yet.
// Faults are printed where a person typed what is wrong; the error then says how
// many there are.
func CheckTyped(ctx context.Context, e desk.Env, base graph.Reader, text string, from TypedAt) error {
	layer := loader.Layer{Name: ".", FS: fstest.MapFS{CheckedAs: {Data: []byte("findings:\n" + text)}}}
	var probs diag.List
	_, err := loader.LoadOver(ctx, base, []loader.Layer{layer}, &probs)
	if err != nil || probs.Err() == nil {
		return err
	}
	moved := from.moved(&probs)
	if err := diag.Print(e.Err, moved, func(string) []byte { return from.Text }); err != nil {
		return err
	}
	return fmt.Errorf("%s, nothing recorded", CountFaults(moved))
}

// findingsFile is the file to add findings to, by its name if it has one.
func findingsFile(e desk.Env, to string) (loader.FindingFile, error) {
	path, err := findingsPath(e, to)
	if err == nil {
		err = CheckPlace(path)
	}
	if err == nil && filepath.Ext(path) != ".yaml" && filepath.Ext(path) != ".yml" {
		err = desk.Usagef("the name of a findings file ends in .yaml, and %s does not", path)
	}
	return loader.FindingFile{Path: path}, err
}
