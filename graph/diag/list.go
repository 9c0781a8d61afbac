package diag

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph/article"
)

// List gathers diagnostics. The zero List is empty and ready; it must not be
// used by several goroutines at once.
//
// Of errors, and of warnings, no more than mostKept are kept: a file with more
// faults than that is no data file, and a last diagnostic says how many there are.
type List struct {
	found  []*Diagnostic
	kept   [2]int         // by severity
	beyond map[string]int // those that are not kept, by code
	last   [2]*Diagnostic // of those, the last by severity
	over   [2]int         // and how many by severity
}

// mostKept is how many errors are kept, and how many warnings.
const mostKept = 5000

// TooMany is the code of the diagnostic that stands for those that are not kept.
const TooMany = "too-many"

// Errorf records an error. The result is the recorded one: set Hint and Related
// on it.
func (l *List) Errorf(pos Pos, code, format string, args ...any) *Diagnostic {
	return l.add(Diagnostic{Pos: pos, Severity: Error, Code: code, Message: article.Sprintf(format, args...)})
}

// Warnf records a warning, like Errorf.
func (l *List) Warnf(pos Pos, code, format string, args ...any) *Diagnostic {
	return l.add(Diagnostic{Pos: pos, Severity: Warning, Code: code, Message: article.Sprintf(format, args...)})
}

// Add records diagnostics that were made elsewhere.
func (l *List) Add(diagnostics ...Diagnostic) {
	for _, d := range diagnostics {
		l.add(d)
	}
}

func (l *List) add(d Diagnostic) *Diagnostic {
	at := min(max(int(d.Severity), 0), 1)
	if l.kept[at] == mostKept {
		if l.beyond == nil {
			l.beyond = map[string]int{}
		}
		l.beyond[d.Code]++
		l.over[at]++
		l.last[at] = &d
		return &d
	}
	l.kept[at]++
	l.found = append(l.found, &d)
	return &d
}

// Sorted gives the diagnostics in the order of Diagnostic.Compare, each once, and
// behind them how many were not kept.
// The slice belongs to the caller.
func (l *List) Sorted() []Diagnostic {
	sorted := l.sorted()
	for i, n := range l.over {
		if n > 0 {
			sorted = append(sorted, Diagnostic{Pos: Pos{File: l.last[i].Pos.File}, Severity: Severity(i), Code: TooMany,
				Message: fmt.Sprintf("%s more %ss are not told: mend those that are", grouped(n), Severity(i))})
		}
	}
	return sorted
}

// sorted are those that are kept.
func (l *List) sorted() []Diagnostic {
	sorted := make([]Diagnostic, len(l.found))
	for i, d := range l.found {
		sorted[i] = *d
		sorted[i].Related = slices.Clone(d.Related)
	}
	slices.SortStableFunc(sorted, Diagnostic.compare)
	return slices.CompactFunc(sorted, func(a, b Diagnostic) bool { return a.compare(b) == 0 })
}

// Len is how many different diagnostics there are.
func (l *List) Len() int { return len(l.Sorted()) }

// Errors is how many different errors there are.
func (l *List) Errors() int { return l.count(Error) }

// Warnings is how many different warnings there are.
func (l *List) Warnings() int { return l.count(Warning) }

func (l *List) count(severity Severity) int {
	n := 0
	for _, d := range l.Sorted() {
		if d.Severity == severity {
			n++
		}
	}
	return n
}

// Err is nil unless the list holds an error; warnings alone never fail. The
// error has a line for each and holds the errors, not the warnings.
func (l *List) Err() error {
	var faults faultList
	for _, d := range l.Sorted() {
		if d.Severity == Error {
			faults = append(faults, d)
		}
	}
	if len(faults) == 0 {
		return nil
	}
	return faults
}

// faultList are diagnostics handed on as one error.
type faultList []Diagnostic

// Error gives one line for each diagnostic.
func (f faultList) Error() string {
	lines := make([]string, len(f))
	for i, d := range f {
		lines[i] = d.String()
	}
	return strings.Join(lines, "\n")
}

// DidYouMean is the text of a hint that offers names, the likeliest first:
// `did you mean "a" or "b"?`. It is empty when there is no name.
func DidYouMean(names ...string) string {
	if len(names) == 0 {
		return ""
	}
	quoted := make([]string, len(names))
	for i, name := range names {
		quoted[i] = fmt.Sprintf("%q", name)
	}
	last := len(quoted) - 1
	if last == 0 {
		return "did you mean " + quoted[0] + "?"
	}
	return "did you mean " + strings.Join(quoted[:last], ", ") + " or " + quoted[last] + "?"
}
