package page

import (
	"bytes"
	"testing"
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
		{"a line end that is not one", "a\u2028b\u2029", "a\ufffdb\ufffd"},
		{"a byte that is no text", "a\x9b2Jb\xff", "a\ufffd2Jb\ufffd"},
		{"a soft break is not printed anyway", "a" + SoftBreak + "b", "a" + SoftBreak + "b"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := Visible(tt.text); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

// TestVisibleWriter: a character that is cut by the end of a write comes out whole with the
// next, and a byte that is no text never does.
func TestVisibleWriter(t *testing.T) {
	var out bytes.Buffer
	w := VisibleWriter(&out)
	for _, piece := range []string{"Bel\xc3", "\xa4ge \xe2\x94", "\x80 \x9b2J", "\xc3", "x\n"} {
		if n, err := w.Write([]byte(piece)); n != len(piece) || err != nil {
			t.Errorf("%q: %d, %v", piece, n, err)
		}
	}
	if got, want := out.String(), "Bel\u00e4ge \u2500 \ufffd2J\ufffdx\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestFormulasInCSVDoNoHarm(t *testing.T) {
	p := Page{{Table: Table{Columns: []string{"part", "gap"}, Rows: [][]string{
		{"=cmd|' /C calc'!A0", "-0.5 mm"}, {"@SUM(A1)", "+1.5"}, {"-2+3+cmd|x", "-"}, {"Tarnholt 1", "+0.1 mm to +0.3 mm"}}}}}
	var out bytes.Buffer
	if err := p.WriteCSV(&out); err != nil {
		t.Fatal(err)
	}
	want := "part,gap\n'=cmd|' /C calc'!A0,-0.5 mm\n'@SUM(A1),+1.5\n'-2+3+cmd|x,-\nTarnholt 1,+0.1 mm to +0.3 mm\n"
	if out.String() != want {
		t.Errorf("got\n%s\nwant\n%s", out.String(), want)
	}
}
