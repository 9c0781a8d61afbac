package storetest

import (
	"encoding/json"
	"reflect"
	"strings"
)

// TB is what is needed of a test, so that Same works in property tests too.
type TB interface {
	Helper()
	Errorf(format string, args ...any)
	Fatal(args ...any)
}

// Same fails the test when two values differ, and shows the first lines that
// do. It reports whether they are the same.
func Same(t TB, got, want any) bool {
	t.Helper()
	if reflect.DeepEqual(got, want) {
		return true
	}
	gotLines, wantLines := lines(t, got), lines(t, want)
	for i := range max(len(gotLines), len(wantLines)) {
		g, w := line(gotLines, i), line(wantLines, i)
		if g != w {
			from := max(0, i-6)
			t.Errorf("they differ from line %d on, after\n%s\ngot  %s\nwant %s", i+1,
				strings.Join(gotLines[from:min(i, len(gotLines))], "\n"), g, w)
			return false
		}
	}
	t.Errorf("they differ in nil and empty lists only:\ngot  %#v\nwant %#v", got, want)
	return false
}

func lines(t TB, v any) []string {
	t.Helper()
	text, err := json.MarshalIndent(v, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(string(text), "\n")
}

func line(list []string, i int) string {
	if i < len(list) {
		return list[i]
	}
	return "(end)"
}
