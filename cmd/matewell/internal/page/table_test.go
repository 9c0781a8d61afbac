package page

import (
	"bytes"
	"strings"
	"testing"

	"github.com/olekukonko/tablewriter/pkg/twwidth"
	"pgregory.net/rapid"
)

func demoTable() Table {
	t := Table{Columns: []string{"position", "part", "verdict", "why"}}
	t.Add(Hard("front-brake/caliper-left"), Hard("Tarnholt 207.4418b/kr"), "fits with changes",
		"the hose is 40 mm too short at full lock and must be replaced by a longer one")
	t.Add(Hard("front-brake/hose-upper"), Hard("Tarnholt 311.0042a"), "unknown", "measure the thread")
	return t
}

func TestTableWrite(t *testing.T) {
	tests := []struct {
		name    string
		width   int
		colours bool
		want    string
	}{
		{"piped: one line a row, nothing drawn", 0, false, `
position                  part                   verdict            why
front-brake/caliper-left  Tarnholt 207.4418b/kr  fits with changes  the hose is 40 mm too short at full lock and must be replaced by a longer one
front-brake/hose-upper    Tarnholt 311.0042a     unknown            measure the thread
`},
		{"80 columns: wraps, numbers whole", 80, false, `
position                  part                   verdict    why
──────────────────────────────────────────────────────────────────────────
front-brake/caliper-left  Tarnholt 207.4418b/kr  fits with  the hose is 40
                                                 changes    mm too short
                                                            at full lock
                                                            and must be
                                                            replaced by a
                                                            longer one
front-brake/hose-upper    Tarnholt 311.0042a     unknown    measure the
                                                            thread
`},
		{"a bit too narrow for the numbers: the last column below", 60, false, `
position                  part                   verdict
──────────────────────────────────────────────────────────
front-brake/caliper-left  Tarnholt 207.4418b/kr  fits with
                                                 changes
      why: the hose is 40 mm too short at full lock and must
        be replaced by a longer one
front-brake/hose-upper    Tarnholt 311.0042a     unknown
      why: measure the thread
`},
		{"too narrow for the numbers: one after another", 30, false, `
position:
  front-brake/caliper-left
part:
  Tarnholt 207.4418b/kr
verdict:
  fits with changes
why:
  the hose is 40 mm too short
  at full lock and must be
  replaced by a longer one

position:
  front-brake/hose-upper
part:
  Tarnholt 311.0042a
verdict:
  unknown
why:
  measure the thread
`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var buf bytes.Buffer
			if err := demoTable().write(&buf, tt.width, tt.colours); err != nil {
				t.Fatal(err)
			}
			if got, want := buf.String(), strings.TrimPrefix(tt.want, "\n"); got != want {
				t.Errorf("got:\n%s\nwant:\n%s", got, want)
			}
		})
	}
}

func TestTableColours(t *testing.T) {
	var plain, coloured bytes.Buffer
	if err := demoTable().write(&plain, 80, false); err != nil {
		t.Fatal(err)
	}
	if err := demoTable().write(&coloured, 80, true); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(coloured.String(), "\x1b[") {
		t.Error("no colour where it was asked for")
	}
	if got := twwidth.Filter().ReplaceAllString(coloured.String(), ""); trimLines(got) != plain.String() {
		t.Errorf("without its colours the table reads:\n%s\nwant:\n%s", got, plain.String())
	}
}

func trimLines(text string) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		b.WriteString(strings.TrimRight(line, " \n") + "\n")
	}
	return b.String()
}

// TestTableKeepsNumbers: whatever the cells and the width, no line is wider than
// the terminal unless one word alone is, and no part number is cut.
func TestTableKeepsNumbers(t *testing.T) {
	word := rapid.StringMatching(`[a-zµ0-9./-]{1,14}`)
	rapid.Check(t, func(t *rapid.T) {
		width := rapid.IntRange(10, 120).Draw(t, "width")
		number := rapid.StringMatching(`Tarnholt [0-9]{3}\.[0-9]{4}[a-d]?`).Draw(t, "number")
		tab := Table{Columns: []string{"part", "why", "source"}}
		widest := len(number)
		for range rapid.IntRange(1, 4).Draw(t, "rows") {
			cell := func() string {
				list := rapid.SliceOfN(word, 1, 8).Draw(t, "cell")
				for _, w := range list {
					widest = max(widest, twwidth.Width(w))
				}
				return strings.Join(list, " ")
			}
			tab.Add(Hard(number), cell(), cell())
		}
		var buf bytes.Buffer
		if err := tab.write(&buf, width, false); err != nil {
			t.Fatal(err)
		}
		if got := strings.Count(buf.String(), number); got != len(tab.Rows) {
			t.Fatalf("the number stands whole %d times, want %d:\n%s", got, len(tab.Rows), buf.String())
		}
		for line := range strings.Lines(buf.String()) {
			if w := twwidth.Width(strings.TrimRight(line, "\n")); w > max(width, widest+2) {
				t.Fatalf("line of %d columns, want at most %d:\n%s", w, width, buf.String())
			}
		}
	})
}
