package main

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"matewell/queries/donor"
)

// What --suggest prints can be put together again to the command it stands for, within
// the columns; only a name that is too long by itself goes beyond.
func TestTakeLinesArePasted(t *testing.T) {
	const most = 79
	rapid.Check(t, func(t *rapid.T) {
		names := rapid.SliceOfN(rapid.StringMatching(`[a-z]{1,30}(-[a-z]{1,20})?`), 1, 12).Draw(t, "names")
		a := donor.UnitsAnswer{On: "skerry-620/2003/eu/late", From: "fjeld-750/2003/eu"}
		lines := slices.Concat(continued(unitsCommand(a), most), takeLines(names, most))
		var taken []string
		for _, line := range lines {
			if n := utf8.RuneCountInString(soft(line)); n > most {
				t.Errorf("%d columns: %s", n, line)
			}
		}
		pasted := soft(strings.ReplaceAll(strings.Join(lines, "\n"), "\\\n", ""))
		if strings.ContainsAny(pasted, "\\\n") {
			t.Fatalf("the shell would not read on: %q", pasted)
		}
		words := strings.Fields(pasted)
		for i, word := range words {
			if word == "--take" {
				taken = append(taken, strings.Split(words[i+1], ",")...)
			}
		}
		if !slices.Equal(taken, names) || !strings.HasPrefix(pasted, strings.Join(unitsCommand(a), " ")) {
			t.Errorf("%q takes %v, want %v", pasted, taken, names)
		}
	})
}

// As many names as fit stand on a line; with one letter more the last goes on the next.
func TestTakeLinesBreak(t *testing.T) {
	for _, tt := range []struct {
		names []string
		want  []string
	}{
		{[]string{"fork"}, []string{"--take fork"}},
		{[]string{"fork", "lamps", "yokes"}, []string{"--take fork,lamps,yokes"}},
		{[]string{"fork", "lamps", "yokes-x"}, []string{`--take fork,lamps \`, "--take yokes-x"}},
		{[]string{"a-name-that-is-longer-than-all"}, []string{"--take a-name-that-is-longer-than-all"}},
	} {
		got := takeLines(tt.names, 24)
		for i := range got {
			got[i] = soft(got[i])
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%v: %q, want %q", tt.names, got, tt.want)
		}
	}
}
