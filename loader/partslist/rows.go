package partslist

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"matewell/graph"
)

// row understands one row, counted from 0.
func row(r *reader, i int) Row {
	cells := r.rows[i]
	row := Row{N: i + 1}
	for _, c := range cells {
		row.Cells = append(row.Cells, c.text)
	}
	row.Text = strings.Join(filledTexts(cells), " | ")
	switch {
	case emptyRow(cells):
		row.Is = IsBlank
	case isHeader(r, i):
		row.Is = IsHeader
	case i < r.first:
		row.Is = IsTitle
		if above(r, i) {
			row.Is = IsNote
		}
	case isTotalRow(r, cells):
		total(r, &row, cells)
	case broken(r, cells):
		row.Is = IsGarbage
		row.cannot("formula errors")
	case filled(cells) == 1 && readBetween(r, &row, cells):
	default:
		part(r, &row, i)
	}
	return row
}

func filledTexts(cells []cell) []string {
	var list []string
	for _, c := range cells {
		if c.text != "" {
			list = append(list, strings.ReplaceAll(c.text, "\n", " "))
		}
	}
	return list
}

// above says whether a title stands above already.
func above(r *reader, i int) bool {
	for j := range i {
		if !emptyRow(r.rows[j]) {
			return true
		}
	}
	return false
}

// isHeader knows the heading, and the same heading printed again further down.
func isHeader(r *reader, i int) bool {
	for _, h := range r.header {
		if i == h {
			return true
		}
		if i > h && filled(r.rows[i]) > 1 && strings.Join(filledTexts(r.rows[i]),
			"|") == strings.Join(filledTexts(r.rows[h]), "|") {
			return true
		}
	}
	return false
}

func isTotalRow(r *reader, cells []cell) bool {
	if at := r.columnOf(FieldNumber); at >= 0 && at < len(cells) && looksLikeNumber(cells[at].text) {
		return false
	}
	for _, c := range cells {
		if c.text != "" {
			return isTotal(c.text)
		}
	}
	sums := 0
	for _, c := range cells {
		sums += btoi(c.sum)
	}
	return sums > 0 && filled(cells) == 0
}

func total(r *reader, row *Row, cells []cell) {
	row.Is = IsTotal
	for i := len(cells) - 1; i > 0; i-- {
		if amount, _, ok := r.figures.price(cells[i].text, r.sheet.Language); ok {
			row.Sum, row.Summed = amount, true
			return
		}
	}
}

// broken says whether a row is formula errors and noughts, and no more.
func broken(r *reader, cells []cell) bool {
	bad := 0
	for _, c := range cells {
		switch {
		case formulaBad().MatchString(c.text):
			bad++
		case c.text != "" && c.text != "0":
			return false
		}
	}
	return bad > 0
}

// readBetween understands a row of one cell: a heading of those below, or a note.
// It gives false for a row that is a part after all.
func readBetween(r *reader, row *Row, cells []cell) bool {
	at := 0
	for i, c := range cells {
		if c.text != "" {
			at = i
		}
	}
	text := cells[at].text
	field := fieldNotKnown
	if at < len(r.sheet.Columns) {
		field = r.sheet.Columns[at].Field
	}
	letters := letters(text)
	capitals := letters >= 3 && text == strings.ToUpper(text)
	group := GroupOf(strings.Trim(text, "-=*:# "))
	switch {
	case letters == 0 && !hasDigit(text):
		row.Is = IsBlank // a ruled line
		return true
	case field == FieldNumber && hasDigit(text) && isNumber(r, cells[at]):
		return false
	case field == FieldSize && looksLikeHardware(text) && hasDigit(text):
		return false
	case len(r.sheet.Columns) == 1:
		return false
	case capitals || group != "" && len(strings.Fields(text)) <= 5 && (at == 0 || field != FieldName ||
		strings.HasSuffix(text, ":")) || strings.HasSuffix(text, ":"):
		row.Is, row.Group, row.Under = IsHeading, group, strings.Trim(text, "-=*:# ")
		if r.under = row.Under; r.columnOf(FieldPlace) >= 0 {
			row.Group = "" // the rows say for themselves where they belong
		}
		r.group = row.Group
		return true
	}
	row.Is = IsNote
	return true
}

func isNumber(r *reader, c cell) bool {
	if _, _, lost := lostNumber(c.text, c.typed); lost {
		return true
	}
	_, _, known := r.numbers.known(c.text)
	return known || looksLikeNumber(c.text)
}

// part reads a row of a part, or of loose hardware.
func part(r *reader, row *Row, i int) {
	row.Is, row.Group, row.Under = IsPart, r.group, r.under
	size, numberless := "", r.columnOf(FieldNumber) < 0
	var ordered, arrived bool
	for at, column := range r.sheet.Columns {
		c := r.at(i, at)
		partCell(r, row, column, c)
		switch column.Field {
		case FieldSize:
			size = c.text
		case FieldOrdered:
			ordered = ordered || c.text != ""
		case FieldArrived:
			arrived = arrived || c.text != ""
		}
	}
	maker(r, row, i)
	switch {
	case numberless && size != "":
		hardware(row, size)
	case (numberless || unnumbered(row)) && looseSize(row.Name):
		row.Cannot = slices.DeleteFunc(row.Cannot, func(why string) bool { return why == noNumber })
		hardware(row, row.Name)
	case size != "":
		row.Note = strings.TrimSpace(size + "\n" + row.Note)
	}
	switch {
	case arrived:
		row.Status = Have
	case ordered && row.Status == "":
		row.Status = Ordered
	}
	if row.Nothing == "" {
		row.Nothing = noneBy(row.Note)
	}
	if row.Note != "" && row.Number != "" {
		r.numbers.superseded(row, row.Note)
	}
	again(r, row)
}

// unnumbered reports whether the cell of a row's number is empty, as that of loose hardware is.
func unnumbered(row *Row) bool { return row.Number == "" && slices.Contains(row.Cannot, noNumber) }

// partCell reads what one cell of a row of a part says by itself.
func partCell(r *reader, row *Row, column Column, c cell) {
	switch column.Field {
	case FieldNumber:
		r.numbers.read(row, c)
	case FieldName:
		row.Name = readable(c.text)
	case FieldQuantity:
		if c.text != "" || !row.Counted {
			quantity(row, c.text)
		}
	case FieldPrice:
		price(r, row, c)
	case FieldStatus:
		state(row, c.text, r.means)
	case FieldNote:
		row.Note = strings.TrimSpace(row.Note + "\n" + c.text)
	case FieldPlace:
		row.Place = c.text
	case FieldGroup:
		if c.text != "" {
			row.Under, row.Group = c.text, GroupOf(c.text)
		}
	case FieldYears:
		years(row, c)
	case FieldModel:
		row.Model = c.text
	case FieldBox:
		row.Box = c.text
	case FieldTorque:
		torque(row, c.text, column.Heading)
	case FieldBought, FieldOrdered, FieldArrived:
		day(r, row, column.Field, c)
	case FieldNewer, FieldOlder:
		other(r, row, column.Field, c)
	}
}

// price reads what a part costs, in the currency of the list where the cell names none.
func price(r *reader, row *Row, c cell) {
	amount, code, ok := r.figures.price(c.text, r.sheet.Language)
	switch {
	case ok:
		row.Price, row.Priced, row.Currency = amount, true, cmp.Or(code, r.sheet.Currency)
	case hasDigit(c.text):
		row.ask(fmt.Sprintf("price: %q can be read in more than one way", c.text))
	}
}

// readable is a name as a list has it, on one line.
func readable(text string) string {
	if formulaBad().MatchString(text) {
		return ""
	}
	return strings.Join(strings.Fields(text), " ")
}

func day(r *reader, row *Row, f Field, c cell) {
	order := r.sheet.DateOrder
	if order == "" && r.name != "" {
		order = "serial"
	}
	day, ok := dayOf(c.text, order)
	switch {
	case c.text == "" || !ok && !numericDay().MatchString(c.text):
	case !ok:
		row.ask(fmt.Sprintf("%s: there is no day %q", f, c.text))
	case day == "":
		row.ask(fmt.Sprintf("%s: day or month first in %q?", f, c.text))
	case f == FieldBought:
		row.Bought = day
	case f == FieldOrdered:
		row.Ordered = day
	case f == FieldArrived:
		row.Arrived = day
	}
}

// other reads the number of a column "superseded by" or "supersedes".
func other(r *reader, row *Row, f Field, c cell) {
	if noneWritten().MatchString(c.text) {
		return
	}
	one, ok := r.numbers.one(c.text)
	switch {
	case !ok:
		row.ask(fmt.Sprintf("%s: %q is read as no number", f, c.text))
	case f == FieldNewer:
		row.Newer = one.Number
	default:
		row.Older = one.Number
	}
}

// maker takes the maker of a column of its own, where the number did not tell.
func maker(r *reader, row *Row, i int) {
	at := r.columnOf(FieldMaker)
	if at < 0 || row.Maker != "" && row.Maker != r.opts.Brand {
		return
	}
	text := r.at(i, at).text
	if text == "" {
		return
	}
	for _, b := range r.opts.Brands {
		if strings.EqualFold(string(b.ID), text) {
			row.Maker = b.ID
			return
		}
	}
	row.Maker = brandName(text)
}

// again compares a row with an earlier one of the same number.
func again(r *reader, row *Row) {
	if row.Number == "" {
		return
	}
	key := string(row.Maker) + " " + row.Number
	first, twice := r.seen[key]
	if !twice {
		r.seen[key] = row.N
		return
	}
	row.SameAs = first
	before := r.sheet.Rows[first-1]
	for _, d := range []struct {
		what      string
		a, b      string
		different bool
	}{
		{"quantity", fmt.Sprint(before.Quantity), fmt.Sprint(row.Quantity), before.Counted && row.Counted &&
			before.Quantity != row.Quantity},
		{"name", before.Name, row.Name, before.Name != "" && row.Name != "" && Fold(before.Name) != Fold(row.Name)},
		{"price", plainNumber(before.Price), plainNumber(row.Price), before.Priced && row.Priced &&
			before.Price != row.Price},
	} {
		if d.different {
			row.Contradicts = append(row.Contradicts, fmt.Sprintf("%s: %s in row %d, %s here", d.what, d.a, first, d.b))
		}
	}
}

// brandName makes a name of a maker out of what a cell says: one word, since a
// blank parts a maker from a number.
func brandName(text string) graph.BrandID {
	var b strings.Builder
	for _, r := range text {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	return graph.BrandID(strings.Trim(b.String(), "-"))
}
