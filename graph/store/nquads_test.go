package store_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"

	"pgregory.net/rapid"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/disk/disktest"
	"matewell/graph/store"
	"matewell/graph/store/storetest"
)

func nquadsOf(t storetest.TB, s *store.Store) string {
	t.Helper()
	var out bytes.Buffer
	if err := s.WriteNQuads(context.Background(), &out); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// read reads N-Quads and wants neither faults nor warnings.
func read(t storetest.TB, text string) graph.Facts {
	t.Helper()
	var probs diag.List
	f, err := store.ReadNQuads(context.Background(), strings.NewReader(text), "facts.nq", &probs)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range probs.Sorted() {
		t.Errorf("unexpected: %s", d)
	}
	return f
}

func TestNQuadsRoundTrip(t *testing.T) {
	text := nquadsOf(t, memory(t, storetest.Sample()))
	got := read(t, text)
	storetest.Same(t, got, storetest.Sample())
	if again := nquadsOf(t, memory(t, got)); again != text {
		t.Error("writing what was read gives another text")
	}
}

func TestRandomNQuadsRoundTrip(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		f := storetest.Random().Draw(rt, "facts")
		storetest.Same(rt, read(rt, nquadsOf(rt, memory(t, f))), f)
	})
}

// Shells on Windows write what a program says with a byte order mark, in UTF-16
// too, and end lines with two bytes.
func TestNQuadsAsWindowsWritesThem(t *testing.T) {
	f := oneModel("größe-1")
	lines := strings.ReplaceAll(nquadsOf(t, memory(t, f)), "\n", "\r\n")
	for _, order := range []binary.ByteOrder{binary.LittleEndian, binary.BigEndian} {
		var wide bytes.Buffer
		if err := binary.Write(&wide, order, utf16.Encode([]rune("\ufeff"+lines))); err != nil {
			t.Fatal(err)
		}
		storetest.Same(t, read(t, wide.String()), f)
	}
	storetest.Same(t, read(t, "\ufeff"+lines), f)
}

func TestNQuadsAreTheSameFromEveryStore(t *testing.T) {
	root := disktest.Folder(t)
	build(t, root, storetest.Sample())
	want := nquadsOf(t, memory(t, storetest.Sample()))
	if got := nquadsOf(t, openCurrent(t, root)); got != want {
		t.Error("LevelDB and memory write different N-Quads")
	}
	lines := strings.Split(strings.TrimSpace(want), "\n")
	lines = lines[1 : len(lines)-1] // between two comments
	for i := 1; i < len(lines); i++ {
		if lines[i-1] >= lines[i] {
			t.Fatalf("statement %d is not after the one before it:\n%s\n%s", i+1, lines[i-1], lines[i])
		}
	}
}

// The suite and its manifest are the W3C's, see testdata/rdf/README.md. That
// there are 41 and 29 of them is stated there too, so that a lost file shows.
func TestW3CSuite(t *testing.T) {
	dir := filepath.Join("..", "..", "testdata", "rdf", "rdf11-n-triples")
	manifest, err := os.ReadFile(filepath.Join(dir, "manifest.ttl"))
	if err != nil {
		t.Fatal(err)
	}
	entry := regexp.MustCompile(`(?s)rdft:TestNTriples(Positive|Negative)Syntax\s*;.*?mf:action\s+<([^>]+)>`)
	count := map[string]int{}
	for _, found := range entry.FindAllStringSubmatch(string(manifest), -1) {
		kind, file := found[1], found[2]
		count[kind]++
		t.Run(file, func(t *testing.T) {
			data, err := os.ReadFile(filepath.Join(dir, file))
			if err != nil {
				t.Fatal(err)
			}
			var probs diag.List
			if _, err := store.ReadNQuads(context.Background(), bytes.NewReader(data), file, &probs); err != nil {
				t.Fatal(err)
			}
			if refused := probs.Err() != nil; refused != (kind == "Negative") {
				t.Errorf("refused: %t, but it is a %s test: %v", refused, kind, probs.Sorted())
			}
		})
	}
	if count["Positive"] != 41 || count["Negative"] != 29 {
		t.Errorf("ran %d positive and %d negative tests, want 41 and 29", count["Positive"], count["Negative"])
	}
}

func TestReadNQuadsFaults(t *testing.T) {
	const ok = "<a:s> <a:p> <a:o> .\n"
	tests := []struct {
		name string
		text string
		want []string // the errors, in order
	}{
		{"nothing", "", nil},
		{"comments and blank lines", "# one\n\n \t \n" + ok, nil},
		{"carriage returns end lines", "<a:s> <a:p> <a:o> .\r\n<a:s> <a:p> <a:o2> .\r<a:s> <a:p> .\r\n",
			[]string{`f.nq:3:13: error: expected an object, as <IRI>, _:name or "literal", found "." [bad-nquads]`}},
		{"relative IRI", ok + "<s> <a:p> <a:o> .\n",
			[]string{`f.nq:2:1: error: expected a subject, as <IRI> or _:name, found "<s>" [bad-nquads]`}},
		{"literal as subject", "\"s\" <a:p> <a:o> .\n",
			[]string{`f.nq:1:1: error: expected a subject, as <IRI> or _:name, found "\"s\"" [bad-nquads]`}},
		{"literal as source", "<a:s> <a:p> <a:o> \"l\" .\n",
			[]string{`f.nq:1:19: error: expected "." or a source, as <IRI> or _:name, found "\"l\"" [bad-nquads]`}},
		{"no stop", "<a:s> <a:p> <a:o> <a:l>\n",
			[]string{`f.nq:1:24: error: expected the "." that ends a statement [bad-nquads]`}},
		{"ends early", "<a:s> <a:p>\n",
			[]string{`f.nq:1:12: error: the line ends before an object, as <IRI>, _:name or "literal" [bad-nquads]`}},
		{"more behind the stop", "<a:s> <a:p> <a:o> . <a:s>\n",
			[]string{`f.nq:1:21: error: only a comment may follow the "." [bad-nquads]`}},
		{"surrogate", `<a:s> <a:p> "x\uD800" .` + "\n",
			[]string{`f.nq:1:15: error: this escape stands for no character [bad-nquads]`}},
		{"not UTF-8", "<a:s> <a:p> \"\xff\" .\n", []string{`f.nq:1:14: error: this is not UTF-8 [bad-nquads]`}},
		{"all faults at once", "x\ny\n",
			[]string{`f.nq:1:1: error: expected a subject, as <IRI> or _:name, found "x" [bad-nquads]`,
				`f.nq:2:1: error: expected a subject, as <IRI> or _:name, found "y" [bad-nquads]`}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var probs diag.List
			if _, err := store.ReadNQuads(context.Background(), strings.NewReader(tt.text), "f.nq", &probs); err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, d := range probs.Sorted() {
				if d.Severity == diag.Error {
					got = append(got, d.String())
				}
			}
			storetest.Same(t, got, tt.want)
		})
	}
}

func TestReadNQuadsWarnsOfWhatIsNotKept(t *testing.T) {
	text := nquadsOf(t, memory(t, oneModel("skerry-620"))) + "<a:s> <a:p> <a:o> .\n" +
		"<https://matewell.example/id/model/skerry-620> <https://matewell.example/terms#colour-of-sky> \"blue\" .\n"
	var probs diag.List
	f, err := store.ReadNQuads(context.Background(), strings.NewReader(text), "f.nq", &probs)
	if err != nil || probs.Err() != nil {
		t.Fatal(err, probs.Err())
	}
	storetest.Same(t, f, oneModel("skerry-620"))
	var lines []int
	for _, d := range probs.Sorted() {
		lines = append(lines, d.Pos.Line)
		if d.Code != "not-kept" {
			t.Errorf("code %q, want not-kept", d.Code)
		}
	}
	storetest.Same(t, lines, []int{4, 5}) // behind one statement between two comments
}

func TestNQuadsEscapesInIRIs(t *testing.T) {
	text := `<https://matewell.example/id/model/skerry\u002D620> <http://www.w3.org/1999/02/22-rdf-syntax-ns#type> <https://matewell.example/terms#Model> .`
	storetest.Same(t, read(t, text), oneModel("skerry-620"))
}

func TestNQuadsTrouble(t *testing.T) {
	var probs diag.List
	broken := errors.New("broken pipe")
	if _, err := store.ReadNQuads(context.Background(), failing{broken}, "f.nq", &probs); !errors.Is(err, broken) {
		t.Errorf("ReadNQuads = %v, want the reader's error", err)
	}
	if err := memory(t, storetest.Sample()).WriteNQuads(context.Background(), failing{broken}); !errors.Is(err, broken) {
		t.Errorf("WriteNQuads = %v, want the writer's error", err)
	}
	long := "<a:s> <a:p> \"" + strings.Repeat("x", 1<<20) + "\" .\n"
	if _, err := store.ReadNQuads(context.Background(), strings.NewReader(long), "f.nq", &probs); err != nil {
		t.Error(err)
	}
	if faults := probs.Sorted(); len(faults) != 1 || faults[0].Code != "long-line" || faults[0].Pos.Line != 1 {
		t.Errorf("a line of more than a megabyte: %v", faults)
	}
}

// failing is a stream that gives an error.
type failing struct{ err error }

func (f failing) Read([]byte) (int, error)  { return 0, f.err }
func (f failing) Write([]byte) (int, error) { return 0, f.err }

// FuzzReadNQuads looks for text that breaks the reader. Facts that come out
// of it must survive being written and read again.
func FuzzReadNQuads(f *testing.F) {
	f.Add("<a:s> <a:p> \"\\u00e5\"@en-gb <a:l> . # why")
	f.Add("_:a <a:p> \"1\"^^<http://www.w3.org/2001/XMLSchema#integer> .\r\n")
	f.Add(`<https://matewell.example/id/run/a> <http://www.w3.org/1999/02/22-rdf-syntax-ns#type> <https://matewell.example/terms#Run> .` + "\n" +
		`<https://matewell.example/id/run/a> <https://matewell.example/terms#need/left/extended> "610 mm" <https://matewell.example/id/source/b> .` + "\n")
	f.Fuzz(func(t *testing.T, text string) {
		var probs diag.List
		facts, err := store.ReadNQuads(context.Background(), strings.NewReader(text), "f.nq", &probs)
		if err != nil || probs.Err() != nil {
			return
		}
		storetest.Same(t, read(t, nquadsOf(t, memory(t, facts))), facts)
	})
}

// TestLongLine: a file without an end of line, such as one full of zeros, is told by its
// name, the line and the limit.
func TestLongLine(t *testing.T) {
	text := "<http://example.com/a> <http://example.com/b> \"c\" .\n" + strings.Repeat("\x00", 3<<20)
	var probs diag.List
	if _, err := store.ReadNQuads(context.Background(), strings.NewReader(text), "sparse.nq", &probs); err != nil {
		t.Fatal(err)
	}
	var told []string
	for _, d := range probs.Sorted() {
		told = append(told, d.Pos.String()+" "+d.Message)
	}
	want := "sparse.nq:2 this line is longer than 1 MB"
	if len(told) != 1 || !strings.HasPrefix(told[0], want) || probs.Err() == nil {
		t.Errorf("got %q, want one that begins with %q", told, want)
	}
}

// TestCutOffExportIsRefused: an export of which lines are missing is known by the comments around
// it, wherever it was cut; what others wrote has none.
func TestCutOffExportIsRefused(t *testing.T) {
	whole := nquadsOf(t, memory(t, storetest.Sample()))
	lines := strings.SplitAfter(strings.TrimSuffix(whole, "\n"), "\n")
	n := len(lines)
	less := func(from, to int) string { return strings.Join(lines[:from], "") + strings.Join(lines[to:], "") + "\n" }
	for name, test := range map[string]struct {
		text string
		want bool
	}{
		"whole":                          {whole, false},
		"without its last line":          {less(n-1, n), true},
		"without its last third":         {less(n*2/3, n), true},
		"with nothing but its head":      {less(1, n), true},
		"without a line in the middle":   {less(n/2, n/2+1), true},
		"with a line twice":              {less(n/2, n/2-1), true},
		"written by others":              {less(0, 1), false},
		"two, one behind the other":      {whole + whole, false},
		"one cut off, one behind it":     {less(n-1, n) + whole, true},
		"one whole, one cut off behind":  {whole + less(n-1, n), true},
		"with lines as on other systems": {strings.ReplaceAll(whole, "\n", "\r\n"), false},
	} {
		var probs diag.List
		if _, err := store.ReadNQuads(context.Background(), strings.NewReader(test.text), "facts.nq", &probs); err != nil {
			t.Fatal(err)
		}
		got := slices.ContainsFunc(probs.Sorted(), func(d diag.Diagnostic) bool {
			return d.Code == "cut-off" && d.Severity == diag.Error
		})
		if got != test.want {
			t.Errorf("%s: refused %v, want %v: %v", name, got, test.want, probs.Sorted())
		}
	}
}
