package page

import (
	"fmt"
	"strconv"
	"strings"

	"matewell/graph"
)

// Plural is the word for one thing, or for as many as there are.
func Plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// ShellWord is a word as it is typed to a shell.
func ShellWord(word string) string {
	if strings.ContainsAny(word, "\"$`!\\") {
		return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
	}
	if strings.ContainsAny(word, " \t&;|<>()$*?#'`!") {
		return `"` + word + `"`
	}
	return word
}

// List joins words for reading: "eu, uk".
func List(words []string) string { return strings.Join(words, ", ") }

// Join puts several things into one cell.
func Join[T any](all []T, say func(T) string) string {
	said := make([]string, len(all))
	for i, one := range all {
		said[i] = say(one)
	}
	return strings.Join(said, "; ")
}

// EachOnLine puts several things into one cell, a line for each.
func EachOnLine[T any](all []T, say func(T) string) string {
	said := make([]string, len(all))
	for i, one := range all {
		said[i] = say(one)
	}
	return strings.Join(said, "\n")
}

// Year is a year in figures; nothing for one that is not known.
func Year(y int) string {
	if y == 0 {
		return ""
	}
	return strconv.Itoa(y)
}

// Place is a position without its model, which may be broken behind the slash.
func Place(p graph.PositionID) string { return BreakAfter(p.Local(), "/") }

// Footnotes are sentences too long for a cell, each under a number.
type Footnotes struct{ lines []string }

// Add gives the mark that stands in the cell; what was said before keeps its mark.
func (n *Footnotes) Add(text string) string {
	for i, line := range n.lines {
		if have := fmt.Sprintf("[%d]", i+1); line == have+" "+text {
			return have
		}
	}
	mark := fmt.Sprintf("[%d]", len(n.lines)+1)
	n.lines = append(n.lines, mark+" "+text)
	return mark
}

func (n *Footnotes) Section() Section { return Section{Title: "Contradicted", Lines: n.lines} }

// Counted is "1 part", "3 parts".
func Counted(n int, what string) string {
	return strconv.Itoa(n) + " " + Plural(n, what, what+"s")
}
