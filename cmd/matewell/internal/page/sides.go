package page

import (
	"slices"
	"strings"
	"unicode"
)

// This file says once what is alike on the left and on the right.

// BothSides joins rows that say of the right what another says of the left. The
// first of the columns that are named says where a row belongs; in the others
// both values stand when they differ, as part numbers do. Everywhere else the
// rows must say the same, left and right exchanged. What a row has said another
// does not say again.
func BothSides(t Table, where string, both ...string) Table {
	joined := t
	joined.Rows = nil
	at := slices.Index(t.Columns, where)
	done := make([]bool, len(t.Rows))
	byPlace := map[string][]int{}
	for i, row := range t.Rows {
		byPlace[row[at]] = append(byPlace[row[at]], i)
	}
	said := map[string]bool{}
	for i, row := range t.Rows {
		if done[i] {
			continue
		}
		if mirror := mirrored(row[at]); mirror != row[at] {
			for _, k := range byPlace[mirror] {
				if k > i && !done[k] && sameOtherwise(t, row, t.Rows[k], append(both, where)) {
					row, done[k] = ofBoth(t, row, t.Rows[k], where), true
					break
				}
			}
		}
		if text := strings.Join(row, "\x00"); !said[text] {
			said[text] = true
			joined.Rows = append(joined.Rows, row)
		}
	}
	return joined
}

// sameOtherwise reports whether two rows say the same of either side, but for
// some columns.
func sameOtherwise(t Table, a, b []string, but []string) bool {
	for i, column := range t.Columns {
		if !slices.Contains(but, column) && a[i] != b[i] && mirrored(a[i]) != b[i] {
			return false
		}
	}
	return true
}

// ofBoth is one row for a left one and a right one.
func ofBoth(t Table, a, b []string, where string) []string {
	row := make([]string, len(a))
	for i, column := range t.Columns {
		switch {
		case a[i] == b[i]:
			row[i] = a[i]
		case column == where:
			row[i] = a[i] + ", and" + HardSpace + otherSide(a[i])
		default:
			row[i] = cellOfBoth(a[i], b[i])
		}
	}
	return row
}

// cellOfBoth says line by line what two cells say: once what is alike.
func cellOfBoth(a, b string) string {
	left, right := strings.Split(a, "\n"), strings.Split(b, "\n")
	var lines []string
	for i := range max(len(left), len(right)) {
		switch {
		case i >= len(left):
			lines = append(lines, right[i])
		case i >= len(right) || left[i] == right[i]:
			lines = append(lines, left[i])
		case mirrored(left[i]) == right[i]:
			lines = append(lines, sideWords(left[i], func(string) string { return "left/right" }))
		default:
			lines = append(lines, left[i], right[i])
		}
	}
	return strings.Join(lines, "\n")
}

// otherSide is the side that a text is not about: "right" for what is on the
// left first.
func otherSide(text string) string {
	first := ""
	sideWords(text, func(side string) string {
		if first == "" {
			first = side
		}
		return side
	})
	return exchanged(first)
}

func exchanged(side string) string {
	if side == "left" {
		return "right"
	}
	return "left"
}

// mirrored is a text with left and right exchanged.
func mirrored(text string) string { return sideWords(text, exchanged) }

// sideWords replaces the words left and right in a text.
func sideWords(text string, by func(side string) string) string {
	var b strings.Builder
	rest := text
	for rest != "" {
		at, side := nextSide(rest)
		if side == "" {
			break
		}
		b.WriteString(rest[:at] + by(side))
		rest = rest[at+len(side):]
	}
	return b.String() + rest
}

// nextSide finds the first of the words left and right, neither of which may be
// part of a longer word.
func nextSide(text string) (at int, side string) {
	letter := func(r rune) bool { return unicode.IsLetter(r) }
	for from := 0; from < len(text); {
		start := strings.IndexFunc(text[from:], letter)
		if start < 0 {
			return 0, ""
		}
		start += from
		end := len(text)
		if n := strings.IndexFunc(text[start:], func(r rune) bool { return !letter(r) }); n >= 0 {
			end = start + n
		}
		if word := text[start:end]; word == "left" || word == "right" {
			return start, word
		}
		from = end
	}
	return 0, ""
}
