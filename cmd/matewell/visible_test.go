package main

import (
	"bytes"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"matewell/cmd/matewell/internal/desk"
)

// esc begins what a terminal obeys; csi is the same in one byte of Latin-1.
const (
	esc = "\x1b"
	csi = "\u009b"
)

// TestNothingTypedReachesTheTerminal: whatever is typed comes back in a message
// without what a terminal would obey.
func TestNothingTypedReachesTheTerminal(t *testing.T) {
	bad := "x" + esc + "]0;title\a" + csi + "31m\u202e"
	for _, args := range [][]string{
		{bad}, {"--" + bad}, {"fits", "--" + bad}, {"fits", "--format", bad}, {"check", bad}, {"load", bad}, {"import", bad},
		{"import", "list.csv", "--column", bad}, {"schema", bad}, {"help", bad}, {"completion", bad}, {"record", bad, "--by",
			bad, "--verdict", bad},
		{"check", "data"},
	} {
		var out, errs bytes.Buffer
		e := desk.Env{In: strings.NewReader(""), Out: &out, Err: &errs, Now: time.Now,
			Getenv: func(string) string { return "" }, DirFS: func(dir string) fs.FS {
				return fstest.MapFS{"list.csv": {Data: []byte("Number,What\nAB-123,x\n")},
					"data.yaml": {Data: []byte("nonsense: \"" + esc + "[1m\"\n")}}
			}}
		run(e, args)
		if text := out.String() + errs.String(); strings.ContainsAny(text, esc+"\a\u202e") ||
			strings.Contains(text, csi) {
			t.Errorf("%q: %q", args, text)
		}
		if out.Len()+errs.Len() == 0 {
			t.Errorf("%q: nothing said", args)
		}
	}
}
