package loader_test

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"matewell/graph/diag"
	"matewell/loader"
)

const goodBrand = "source: notes\nsources: {notes: {kind: report, title: Notes}}\nbrands: {Tarnholt: }\n"

// codesOf are the codes and places of all faults, one a line.
func codesOf(probs *diag.List) string {
	var lines []string
	for _, d := range probs.Sorted() {
		lines = append(lines, d.Pos.String()+" "+d.Code)
	}
	return strings.Join(lines, "\n")
}

func TestWhichFilesAreRead(t *testing.T) {
	fsys := fstest.MapFS{
		"a/brand.yaml":        {Data: []byte(goodBrand)},
		"upper.YML":           {Data: []byte("wrong: 1\n")},
		".hidden.yaml":        {Data: []byte("wrong: 1\n")},
		".git/config.yaml":    {Data: []byte("wrong: 1\n")},
		"README.md":           {Data: []byte("wrong: 1\n")},
		"a/photo.jpg":         {Data: []byte("\xff\xd8")},
		"empty.yaml":          {},
		"only-comment.yaml":   {Data: []byte("# nothing yet\n")},
		"fitments-empty.csv":  {},
		"only-a-bom.yaml":     {Data: []byte("\xef\xbb\xbf")},
		"a/b/c/d/deeper.yaml": {Data: []byte("wrong: 1\n")},
	}
	facts, probs := load(t, "my set", fsys)
	want := "my set/a/b/c/d/deeper.yaml:1:1 unknown-key\nmy set/upper.YML:1:1 unknown-key"
	if got := codesOf(probs); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if len(facts.Brands) > 0 {
		t.Error("a set with errors was loaded in part")
	}
}

func TestNoData(t *testing.T) {
	for _, name := range []string{"", "mine"} {
		_, probs := load(t, name, fstest.MapFS{"README.md": {}})
		if got, want := codesOf(probs), max(name, ".")+" no-data"; got != want {
			t.Errorf("got %q, want %q", got, want)
		}
		if probs.Err() == nil {
			t.Error("an empty folder was taken for data")
		}
	}
}

// TestNothingInFiles: files of comments alone are no data; beside others they are.
func TestNothingInFiles(t *testing.T) {
	for want, files := range map[string]fstest.MapFS{
		"mine no-data": {"a.yaml": {Data: []byte("# nothing yet\n")}, "fitments.csv": {}},
		"":             {"a.yaml": {Data: []byte("# nothing yet\n")}, "brand.yaml": {Data: []byte(goodBrand)}},
	} {
		if _, probs := load(t, "mine", files); codesOf(probs) != want {
			t.Errorf("got %q, want %q", codesOf(probs), want)
		}
	}
}

// A byte order mark and CRLF change neither facts nor places.
func TestByteOrderMarkAndCRLF(t *testing.T) {
	dir := filepath.Join(fixtures, "everything.good")
	plain, dressed := overlay(t, dir), overlay(t, dir)
	for name, file := range dressed {
		body := strings.ReplaceAll(strings.TrimPrefix(string(file.Data), "\xef\xbb\xbf"), "\r\n", "\n")
		plain[name] = &fstest.MapFile{Data: []byte(body)}
		dressed[name] = &fstest.MapFile{Data: []byte("\xef\xbb\xbf" + strings.ReplaceAll(body, "\n", "\r\n"))}
	}
	want, probs := load(t, "", plain)
	if probs.Len() > 0 {
		t.Fatal(report(t, plain, probs))
	}
	got, probs := load(t, "", dressed)
	if probs.Len() > 0 {
		t.Fatal(report(t, dressed, probs))
	}
	if text(t, got) != text(t, want) {
		t.Errorf("got\n%s\nwant\n%s", text(t, got), text(t, want))
	}
}

func TestLinks(t *testing.T) {
	dir, elsewhere := t.TempDir(), t.TempDir()
	write := func(path, body string) {
		if err := os.WriteFile(path, []byte(body), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write(filepath.Join(elsewhere, "brand.yaml"), goodBrand)
	for _, link := range [][2]string{{filepath.Join(elsewhere, "brand.yaml"), "brand.yaml"}, {dir, "loop.yaml"},
		{elsewhere, "folder"}} {
		if err := os.Symlink(link[0], filepath.Join(dir, link[1])); err != nil {
			t.Skip("no links here: ", err)
		}
	}
	facts, probs := load(t, "", os.DirFS(dir))
	const want = "folder linked-folder\nloop.yaml linked-folder"
	if got := codesOf(probs); got != want || len(facts.Brands) != 1 {
		t.Errorf("%q, want %q\n%d brands", got, want, len(facts.Brands))
	}
}

// bigFile claims a size without having it.
type bigFile struct{ fs.FileInfo }

func (bigFile) Size() int64 { return 1 << 40 }

// oddFS gives one file an odd answer.
type oddFS struct {
	fstest.MapFS
	big    string
	broken string
}

func (o oddFS) Stat(name string) (fs.FileInfo, error) {
	info, err := o.MapFS.Stat(name)
	if name == o.big {
		return bigFile{info}, err
	}
	return info, err
}

func (o oddFS) ReadFile(name string) ([]byte, error) {
	if name == o.broken {
		return nil, &fs.PathError{Op: "read", Path: name, Err: fs.ErrPermission}
	}
	return o.MapFS.ReadFile(name)
}

func TestTooLarge(t *testing.T) {
	files := fstest.MapFS{"brand.yaml": {Data: []byte(goodBrand)}, "parts.yaml": {}}
	_, probs := load(t, "", oddFS{MapFS: files, big: "parts.yaml"})
	if got, want := codesOf(probs), "parts.yaml too-large"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// A file that can't be read is a fault like others, and the rest is checked all
// the same; a set that is not there at all is none.
func TestUnreadableFile(t *testing.T) {
	files := fstest.MapFS{"brand.yaml": {Data: []byte("wrong: 1\n")}, "parts.yaml": {}}
	var probs diag.List
	_, err := loader.Load(context.Background(), []loader.Layer{{Name: "set", FS: oddFS{MapFS: files,
		broken: "parts.yaml"}}}, &probs)
	if got, want := codesOf(&probs), "set/brand.yaml:1:1 unknown-key\nset/parts.yaml unreadable"; err != nil ||
		got != want {
		t.Errorf("got %q, %v, want %q", got, err, want)
	}
	if _, err = loader.Load(context.Background(), []loader.Layer{{Name: "gone", FS: os.DirFS("/no such folder")}},
		&probs); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("got %v", err)
	}
}

func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var probs diag.List
	files := fstest.MapFS{"brand.yaml": {Data: []byte(goodBrand)}}
	if _, err := loader.Load(ctx, []loader.Layer{{FS: files}}, &probs); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}
