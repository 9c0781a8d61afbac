package diag_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"matewell/graph/diag"
)

func TestPrint(t *testing.T) {
	file := "part,model\nTNH-520,\n\tä,x\r\n" + strings.Repeat("a", 100) + "HERE" + strings.Repeat("b",
		200) + "\nred \x1b[31m\n\n"
	sources := func(name string) []byte {
		switch name {
		case "f.csv":
			return []byte(file)
		case "bom.csv":
			return []byte("\xef\xbb\xbfpart\n")
		}
		return nil
	}
	tests := []struct {
		name string
		d    diag.Diagnostic
		want string
	}{
		{
			"with source and caret",
			diag.Diagnostic{Pos: diag.Pos{File: "f.csv", Line: 2, Col: 9}, Code: "no-model",
				Message: `part "TNH-520" names no model`},
			"f.csv:2:9: error: part \"TNH-520\" names no model [no-model]\n    TNH-520,\n            ^\n",
		},
		{
			"hint and related places",
			diag.Diagnostic{Pos: diag.Pos{File: "f.csv", Line: 2, Col: 1}, Severity: diag.Warning, Code: "twice", Message: "m",
				Hint: "drop one", Related: []diag.Pos{{File: "f.csv", Line: 1, Col: 1}, {File: "g.csv", Line: 7}}},
			"f.csv:2:1: warning: m [twice]\n    hint: drop one\n    TNH-520,\n    ^\n    see f.csv:1:1\n    see g.csv:7\n",
		},
		{
			"tab kept, runes counted, CR dropped",
			// tab 1 byte, ä 2, comma at 4
			diag.Diagnostic{Pos: diag.Pos{File: "f.csv", Line: 3, Col: 5}, Code: "c", Message: "m"},
			"f.csv:3:5: error: m [c]\n    \tä,x\n    \t  ^\n",
		},
		{
			"column inside a letter",
			diag.Diagnostic{Pos: diag.Pos{File: "f.csv", Line: 3, Col: 3}, Code: "c", Message: "m"},
			"f.csv:3:3: error: m [c]\n    \tä,x\n    \t^\n",
		},
		{
			"column beyond the line",
			diag.Diagnostic{Pos: diag.Pos{File: "f.csv", Line: 2, Col: 99}, Code: "c", Message: "m"},
			"f.csv:2:99: error: m [c]\n    TNH-520,\n            ^\n",
		},
		{
			"no column",
			diag.Diagnostic{Pos: diag.Pos{File: "f.csv", Line: 2}, Code: "c", Message: "m"},
			"f.csv:2: error: m [c]\n    TNH-520,\n",
		},
		{
			"long line is cut around the column",
			diag.Diagnostic{Pos: diag.Pos{File: "f.csv", Line: 4, Col: 101}, Code: "c", Message: "m"},
			"f.csv:4:101: error: m [c]\n    …" + strings.Repeat("a", 60) + "HERE" + strings.Repeat("b",
				96) + "…\n    " + strings.Repeat(" ", 61) + "^\n",
		},
		{
			"escape made visible",
			diag.Diagnostic{Pos: diag.Pos{File: "f.csv", Line: 5, Col: 5}, Code: "c", Message: "m\x1b[2J", Hint: "h\x07"},
			"f.csv:5:5: error: m\uFFFD[2J [c]\n    hint: h\uFFFD\n    red \uFFFD[31m\n        ^\n",
		},
		{
			"empty line",
			diag.Diagnostic{Pos: diag.Pos{File: "f.csv", Line: 6, Col: 1}, Code: "c", Message: "m"},
			"f.csv:6:1: error: m [c]\n",
		},
		{
			"line beyond the file",
			diag.Diagnostic{Pos: diag.Pos{File: "f.csv", Line: 70, Col: 1}, Code: "c", Message: "m"},
			"f.csv:70:1: error: m [c]\n",
		},
		{
			"byte order mark is no column",
			diag.Diagnostic{Pos: diag.Pos{File: "bom.csv", Line: 1, Col: 1}, Code: "c", Message: "m"},
			"bom.csv:1:1: error: m [c]\n    part\n    ^\n",
		},
		{
			"file that is not there",
			diag.Diagnostic{Pos: diag.Pos{File: "none.csv", Line: 1, Col: 1}, Code: "c", Message: "m"},
			"none.csv:1:1: error: m [c]\n",
		},
		{
			"nowhere, no code",
			diag.Diagnostic{Message: "m"},
			"-: error: m\n",
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var list diag.List
			list.Add(tt.d)
			var out bytes.Buffer
			if err := diag.Print(&out, &list, sources); err != nil {
				t.Fatal(err)
			}
			if out.String() != tt.want {
				t.Errorf("got\n%q\nwant\n%q", out.String(), tt.want)
			}
		})
	}
}

func TestPrintReadsEachFileOnce(t *testing.T) {
	var list diag.List
	for line := 1; line <= 3; line++ {
		list.Errorf(diag.Pos{File: "f.csv", Line: line, Col: 1}, "c", "m")
	}
	reads := 0
	var out bytes.Buffer
	err := diag.Print(&out, &list, func(string) []byte { reads++; return []byte("a\nb\nc\n") })
	if err != nil || reads != 1 {
		t.Errorf("%d reads, %v, want 1", reads, err)
	}
	if err := diag.Print(&out, &list, nil); err != nil {
		t.Errorf("without sources: %v", err)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWritersReportTheirError(t *testing.T) {
	var list diag.List
	list.Errorf(diag.Pos{}, "c", "m")
	if err := diag.Print(full{}, &list, nil); err == nil {
		t.Error("Print lost the error")
	}
}

// Whatever a file holds and wherever a fault points, printing does not panic
// and the caret stands below the line.
func FuzzPrint(f *testing.F) {
	f.Add("a,b\n\tc", 2, 2)
	f.Add("\xff\xfe", 1, 2)
	f.Add("ä", 1, -5)
	f.Fuzz(func(t *testing.T, content string, line, col int) {
		var list diag.List
		list.Errorf(diag.Pos{File: "f", Line: line, Col: col}, "c", "m")
		var out bytes.Buffer
		if err := diag.Print(&out, &list, func(string) []byte { return []byte(content) }); err != nil {
			t.Fatal(err)
		}
		if strings.ContainsAny(out.String(), "\x1b\r\a\x00") {
			t.Errorf("control character in %q", out.String())
		}
		lines := strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n")
		if len(lines) == 3 {
			text, caret := []rune(lines[1]), []rune(lines[2])
			if len(caret) > len(text)+1 {
				t.Errorf("caret at %d below a line of %d", len(caret), len(text))
			}
		}
	})
}
