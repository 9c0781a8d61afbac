package loader_test

import (
	"bytes"
	"context"
	"io/fs"
	"path"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"unicode"

	"matewell/graph/diag"
	"matewell/loader"
)

// FuzzLoad reads any bytes as a file of each sort, over the good set "common".
// It must not panic; every fault must have a place that is in the file; and a
// set with an error must give no facts.
func FuzzLoad(f *testing.F) {
	dirs, err := filepath.Glob(filepath.Join(fixtures, "*.bad"))
	if err != nil || len(dirs) == 0 {
		f.Fatalf("no seeds (%v)", err)
	}
	var t testing.T
	common := overlay(&t, filepath.Join(fixtures, "common"))
	names := []string{"z.yaml", "fitments-z.csv", "supersessions-z.csv", "fasteners-z.csv"}
	for _, dir := range append(dirs, filepath.Join(fixtures, "everything.good")) {
		for name, file := range overlay(&t, dir) {
			for i, z := range names {
				if strings.HasPrefix(path.Base(name), strings.TrimSuffix(z, "-z.csv")) || path.Ext(name) == path.Ext(z) && i == 0 {
					f.Add(byte(i), file.Data)
				}
			}
		}
	}
	f.Fuzz(func(t *testing.T, sort byte, body []byte) {
		files := fstest.MapFS{}
		for name, file := range common {
			files[name] = file
		}
		files[names[int(sort)%len(names)]] = &fstest.MapFile{Data: body}
		var probs diag.List
		facts, err := loader.Load(context.Background(), []loader.Layer{{FS: files}}, &probs)
		if err != nil {
			t.Fatal(err)
		}
		if probs.Err() != nil && len(facts.Sources)+len(facts.Parts)+len(facts.Models) > 0 {
			t.Error("a set with an error gave facts")
		}
		if probs.Err() == nil && len(facts.Models) == 0 {
			t.Error("a good set gave no facts")
		}
		for _, d := range probs.Sorted() {
			checkFault(t, files, d)
		}
	})
}

func checkFault(t *testing.T, files fstest.MapFS, d diag.Diagnostic) {
	t.Helper()
	for _, pos := range append(d.Related, d.Pos) {
		body, err := fs.ReadFile(files, pos.File)
		if err != nil {
			t.Fatalf("%v: no file %q", d, pos.File)
		}
		end := []byte("\n")
		if !bytes.Contains(body, end) {
			end = []byte("\r")
		}
		lines := bytes.Split(bytes.TrimPrefix(body, []byte("\xef\xbb\xbf")), end)
		if pos.Line < 0 || pos.Line > len(lines) || pos.Line > 0 && (pos.Col < 0 || pos.Col > len(lines[pos.Line-1])+1) {
			t.Errorf("%v: no place %d:%d", d, pos.Line, pos.Col)
		}
	}
	if strings.ContainsFunc(d.Message+d.Hint, unicode.IsControl) {
		t.Errorf("%q %q has a control character", d.Message, d.Hint)
	}
}

// FuzzOffers reads any text as an offer typed in one line, and any bytes as a file of
// offers: what is typed and taken is a file that is read, and none has a price below zero.
func FuzzOffers(f *testing.F) {
	for _, seed := range []string{"front-wheel,fork of skerry-620/2003/eu; 180 EUR; 25 EUR; to inspect",
		"2 x Tarnholt 945.1251, Tarnholt 207.7008; 12 EUR", "; ;", "x;y", "a of ; 1 EUR",
		"offers:\n  gift: {price: 0 EUR, parts: [Tarnholt 207.4418c]}\n", "offers: 3\n", "\r", ""} {
		f.Add(seed)
	}
	var t testing.T
	base := below(&t)
	read := func(t *testing.T, body string) {
		var probs diag.List
		offers, err := loader.LoadOffers(context.Background(), base,
			[]loader.Layer{{FS: fstest.MapFS{"o.yaml": {Data: []byte(body)}}}},
			&probs)
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range offers {
			if o.Price.Hundredths < 0 || o.Postage.Hundredths < 0 || o.Price.Currency == "" {
				t.Errorf("%q gives %+v", body, o)
			}
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		read(t, text)
		written, err := loader.OfferText("one", text, func(number string) (string, error) { return number, nil })
		if err == nil {
			read(t, written)
		}
	})
}
