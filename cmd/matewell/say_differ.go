package main

import (
	"slices"
	"strings"

	"matewell/cmd/matewell/internal/page"
	"matewell/queries/differ"
)

// This file says once what several rows of a comparison have in common.

// causes gathers rows that differ in the same way: one cause, several places.
type causes struct {
	keys []string
	rows map[string][]differ.DifferRow
}

// causeOf is what a row differs by; empty where it has to be told by itself.
func causeOf(a differ.DifferAnswer, row differ.DifferRow) string {
	if len(row.Differences) == 0 || len(row.Disputed) > 0 || len(row.NotKnown) > 0 || row.A == nil || row.B == nil ||
		row.A.Part == "" || row.B.Part == "" {
		return ""
	}
	for _, w := range ways(row) {
		if len(w.direction.ContradictedBy) > 0 {
			return ""
		}
	}
	words := []string{string(row.Class), row.Interchange, differOn(a, row)}
	for _, d := range row.Differences {
		words = append(words, d.Text)
	}
	return strings.Join(words, "\x00")
}

func (c *causes) add(a differ.DifferAnswer, row differ.DifferRow) {
	key := causeOf(a, row)
	if key == "" {
		return
	}
	if c.rows == nil {
		c.rows = map[string][]differ.DifferRow{}
	}
	if len(c.rows[key]) == 0 {
		c.keys = append(c.keys, key)
	}
	c.rows[key] = append(c.rows[key], row)
}

// severalPlaces is from how many places on one cause is said once; a left and a
// right one are one row anyway.
const severalPlaces = 3

// tell reports whether a row is told with others of its cause.
func (c *causes) tell(a differ.DifferAnswer, row differ.DifferRow) bool {
	return len(c.rows[causeOf(a, row)]) >= severalPlaces
}

// section has a row for each cause, with the places and both numbers at each.
func (c *causes) section() page.Section {
	s := page.Section{Title: "What differs alike at several places", Aside: true}
	s.Table = page.Table{Columns: []string{"A has", "B has", "position", "what differs"}, Group: "what differs"}
	for _, key := range c.keys {
		rows := c.rows[key]
		if len(rows) < severalPlaces {
			continue
		}
		t := page.Table{Columns: s.Table.Columns}
		for _, row := range rows {
			t.Add(sideCell(row.A), sideCell(row.B), page.BreakAfter(row.Position, "/"), causeWords(row))
		}
		s.Table.Rows = append(s.Table.Rows, page.BothSides(t, "position", "A has", "B has").Rows...)
	}
	return s
}

// causeWords says what rows of one cause differ by, and which way they
// interchange: "scheme slate, not rust; paint TW 3, not TW 5: cosmetic, goes both
// ways".
func causeWords(row differ.DifferRow) string {
	said := page.Join(row.Differences, func(d differ.Difference) string {
		return strings.Replace(d.Text, " of finish:", "", 1)
	})
	return said + ": " + string(row.Class) + ", interchange " + row.Interchange
}

// worstFirst has the differences that matter most first.
func worstFirst(all []differ.Difference) []differ.Difference {
	sorted := slices.Clone(all)
	slices.SortStableFunc(sorted, func(x, y differ.Difference) int { return looks(x) - looks(y) })
	return sorted
}

func looks(d differ.Difference) int {
	if d.Class == differ.ClassCosmetic {
		return 1
	}
	return 0
}

// yearsTogether gathers which years share a part, place by place; places with the
// same years are one row unless all is asked for.
type yearsTogether struct {
	all   bool
	years []string
	at    map[string][]string
	rows  [][2]string
}

// add takes in a place; one that is not told is in CSV alone.
func (y *yearsTogether) add(position, years string, told bool) {
	if years == "" {
		return
	}
	if row := [2]string{position, years}; !slices.Contains(y.rows, row) {
		y.rows = append(y.rows, row)
	}
	if !told || slices.Contains(y.at[years], position) {
		return
	}
	if y.at == nil {
		y.at = map[string][]string{}
	}
	if len(y.at[years]) == 0 {
		y.years = append(y.years, years)
	}
	y.at[years] = append(y.at[years], position)
}

func (y *yearsTogether) section() page.Section {
	s := page.Section{Title: "Years that share a part"}
	s.Rows.Columns = []string{"position", "years"}
	for _, row := range y.rows {
		s.Rows.Add(row[0], row[1])
	}
	if y.all {
		s.Table = s.Rows
		return s
	}
	s.Table.Columns = []string{"years", "positions"}
	for _, years := range y.years {
		t := page.Table{Columns: []string{"where"}}
		for _, position := range y.at[years] {
			t.Add(page.BreakAfter(position, "/"))
		}
		s.Table.Add(years, page.Join(page.BothSides(t, "where").Rows, func(row []string) string { return row[0] }))
	}
	return s
}
