package main

import (
	"bytes"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"io/fs"
)

// esc begins what a terminal obeys; csi is the same in one byte of Latin-1.
const (
	esc = "\x1b"
	csi = "\u009b"
)

func TestVisible(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"plain text stays", "Bremsbeläge, 27 mm\n\tx", "Bremsbeläge, 27 mm\n\tx"},
		{"an escape", "a" + esc + "[2Jb", "a\ufffd[2Jb"},
		{"the same in one character", "a" + csi + "2Jb", "a\ufffd2Jb"},
		{"a carriage return would write over the line", "fits\rdoes not", "fits\ufffddoes not"},
		{"text that runs backwards", "a\u202eb", "a\ufffdb"},
		{"a soft break is not printed anyway", "a" + softBreak + "b", "a" + softBreak + "b"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := visible(tt.text); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

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
		e := env{In: strings.NewReader(""), Out: &out, Err: &errs, Now: time.Now, Getenv: func(string) string { return "" },
			DirFS: func(dir string) fs.FS {
				return fstest.MapFS{"list.csv": {Data: []byte("Number,What\nAB-123,x\n")},
					"data.yaml": {Data: []byte("nonsense: \"" + esc + "[1m\"\n")}}
			}}
		run(e, args)
		if text := out.String() + errs.String(); strings.ContainsAny(text, esc+"\a\u202e") || strings.Contains(text, csi) {
			t.Errorf("%q: %q", args, text)
		}
		if out.Len()+errs.Len() == 0 {
			t.Errorf("%q: nothing said", args)
		}
	}
}

func TestFormulasInCSVDoNoHarm(t *testing.T) {
	p := page{{Table: table{Columns: []string{"part", "gap"}, Rows: [][]string{
		{"=cmd|' /C calc'!A0", "-0.5 mm"}, {"@SUM(A1)", "+1.5"}, {"-2+3+cmd|x", "-"}, {"Tarnholt 1", "+0.1 mm to +0.3 mm"}}}}}
	var out bytes.Buffer
	if err := p.writeCSV(&out); err != nil {
		t.Fatal(err)
	}
	want := "part,gap\n'=cmd|' /C calc'!A0,-0.5 mm\n'@SUM(A1),+1.5\n'-2+3+cmd|x,-\nTarnholt 1,+0.1 mm to +0.3 mm\n"
	if out.String() != want {
		t.Errorf("got\n%s\nwant\n%s", out.String(), want)
	}
}
