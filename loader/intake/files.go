package intake

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"fmt"
	"path"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"matewell/graph"
	"matewell/graph/cell"
	"matewell/loader/partslist"
)

// The files of a list, each in the folder of its own.
const (
	partsFile         = "parts.yaml"
	fitmentsFile      = "fitments.csv"
	supersessionsFile = "supersessions.csv"
	bikeFile          = "bike.yaml"
)

// text is a file as it grows, with the row that each line comes from.
type text struct {
	bytes.Buffer
	rows []*row // by line, from 1
}

func newText() *text { return &text{rows: make([]*row, 2)} }

// add appends text that a row gives.
func (t *text) add(x *row, s string) {
	t.WriteString(s)
	for range strings.Count(s, "\n") {
		t.rows[len(t.rows)-1] = x
		t.rows = append(t.rows, nil)
	}
}

// addAll appends another text, with the rows of its lines.
func (t *text) addAll(more *text) {
	t.Write(more.Bytes())
	t.rows = append(t.rows[:len(t.rows)-1], more.rows[1:]...)
}

// files writes what the rows give that are not left out.
func files(m *maker) (Result, map[string][]*row) {
	result := Result{}
	lines := map[string][]*row{}
	keep := func(name string, t *text) {
		if t != nil {
			result.Files = append(result.Files, File{path.Join(Folder, m.opts.Name, name), t.String()})
			lines[name] = t.rows
		}
	}
	keep(partsFile, partsText(m, &result))
	keep(fitmentsFile, fitmentsText(m, &result))
	keep(supersessionsFile, supersessionsText(m))
	keep(bikeFile, bikeText(m, &result))
	result.Left = sortedLeft(m)
	if len(result.Left) > 0 {
		result.Files = append(result.Files, File{path.Join(Folder, m.opts.Name, LeftFile), leftText(result.Left)})
	}
	return result, lines
}

func head(m *maker) string {
	return fmt.Sprintf("# Made by \"matewell import\" from %q. Edit the list and import it again, rather than this "+
		"file.\n", m.opts.Title)
}

// writtenPart is a part in the order a person reads it.
type writtenPart struct {
	Number string `yaml:"number"`
	Kind   string `yaml:"kind,omitempty"`
	Name   string `yaml:"name,omitempty"`
	Price  string `yaml:"price,omitempty"`
	Note   string `yaml:"note,omitempty"`
	// Features are the sizes that a standard gives for what the list calls it.
	Features map[string]map[string]string `yaml:"features,omitempty"`
}

// partsText is the file of the source, the makers and kinds that the folder
// lacks, and the parts.
func partsText(m *maker, result *Result) *text {
	t := newText()
	t.add(nil, head(m))
	t.add(nil, fmt.Sprintf("source: %s\nsources:\n", m.opts.Name))
	t.add(nil, item(map[string]any{m.opts.Name: map[string]string{"kind": string(graph.SourceReport),
		"title": m.opts.Title}}, 2))
	if slices.ContainsFunc(m.rows, func(x *row) bool { return x.out == "" && x.at.byName && len(x.at.positions) > 0 }) {
		t.add(nil, item(map[string]any{placedBy(m): map[string]string{"kind": string(graph.SourcePlaced),
			"title": m.opts.Title + ", placed by the names in it", "origin": m.opts.Name}}, 2))
	}
	brandsText(m, t)
	parts, lackKind := []*row{}, false
	seen := map[graph.PartID]bool{}
	for _, x := range m.rows {
		if x.part == "" || x.out != "" || seen[x.part] {
			continue
		}
		seen[x.part] = true
		parts = append(parts, x)
		lackKind = lackKind || x.kind == unsorted && !m.kinds[unsorted]
	}
	if lackKind {
		t.add(nil, "kinds:\n  # Nothing tells yet what these parts are.\n  "+unsorted+":\n    name: part of a kind not "+
			"told\n")
	}
	if len(parts) > 0 {
		t.add(nil, "parts:\n")
	}
	for _, x := range parts {
		w := writtenPart{Number: string(x.part), Kind: x.kind, Name: short(x.Name), Note: note(x)}
		if x.kind == "bearing" {
			w.Features = bearingSizes(x.Row)
		}
		if x.Priced && x.Currency != "" && x.Price > 0 {
			w.Price = strings.TrimSuffix(strconv.FormatFloat(x.Price, 'f', 2, 64), ".00") + " " + x.Currency
		}
		t.add(x, item([]writtenPart{w}, 2))
		result.Parts++
	}
	for _, extra := range others(m, seen) {
		t.add(extra.row, item([]writtenPart{{Number: string(extra.id), Kind: extra.kind}}, 2))
		result.Parts++
	}
	return t
}

// other is a number that a row mentions beside its own.
type other struct {
	id   graph.PartID
	kind string
	row  *row
}

// others are the numbers that take a part's place, or whose place it takes,
// and that nothing else declares.
func others(m *maker, seen map[graph.PartID]bool) []other {
	var list []other
	for _, x := range m.rows {
		if x.part == "" || x.out != "" {
			continue
		}
		for _, number := range []string{x.Newer, x.Older} {
			id := m.known(graph.PartID(string(x.part.Brand()) + " " + number))
			if _, known := m.parts[id]; number == "" || known || seen[id] {
				continue
			}
			seen[id] = true
			list = append(list, other{id, cmp.Or(x.kind, string(m.parts[x.part].Kind)), x})
		}
	}
	return list
}

// brandsText writes the makers that the folder does not have.
func brandsText(m *maker, t *text) {
	var missing []string
	for _, x := range m.rows {
		if b := x.part.Brand(); x.part != "" && x.out == "" && !m.brands[b] && !slices.Contains(missing, string(b)) {
			missing = append(missing, string(b))
		}
	}
	if len(missing) == 0 {
		return
	}
	slices.Sort(missing)
	t.add(nil, "brands:\n")
	for _, b := range missing {
		t.add(nil, "  "+b+": {}\n")
	}
}

// item is a value as YAML, set in.
func item(v any, margin int) string {
	var out bytes.Buffer
	e := yaml.NewEncoder(&out)
	e.SetIndent(2)
	if err := e.Encode(v); err != nil {
		return ""
	}
	lines := strings.SplitAfter(out.String(), "\n")
	for i, line := range lines {
		if strings.TrimRight(line, "\n") != "" {
			lines[i] = strings.Repeat(" ", margin) + line
		}
	}
	return strings.Join(lines, "")
}

// maxPhrase is how long one line of text may be in a data file.
const maxPhrase = 200

func short(text string) string {
	runes := []rune(text)
	if len(runes) <= maxPhrase {
		return text
	}
	return string(runes[:maxPhrase-1]) + "…"
}

// note is what a row says beside its columns.
func note(x *row) string {
	var lines []string
	for _, line := range []string{x.Note, labelled("written", x.Written,
		graph.NumberKey(x.Written) != graph.NumberKey(x.Number)), labelled("bought", x.Bought, x.Bought != ""),
		labelled("ordered", x.Ordered, x.Ordered != ""), labelled("arrived", x.Arrived, x.Arrived != ""), labelled("state",
			string(x.Status), x.Status == partslist.Missing || x.Status == partslist.Ordered && x.Ordered == "")} {
		if line != "" {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "\n")
}

func labelled(label, value string, given bool) string {
	if !given || value == "" {
		return ""
	}
	return label + ": " + value
}

// csvText is a list as a data folder has it.
type csvText struct {
	*text
	one bytes.Buffer
}

func newCSV(columns ...string) *csvText {
	c := &csvText{text: newText()}
	c.line(nil, columns...)
	return c
}

func (c *csvText) line(x *row, cells ...string) {
	c.one.Reset()
	w := csv.NewWriter(&c.one)
	_ = w.Write(cells) // a buffer takes everything
	w.Flush()
	c.add(x, c.one.String())
}

// placedBy is the source of what was only placed by its name.
func placedBy(m *maker) string { return m.opts.Name + "-by-name" }

func fitmentsText(m *maker, result *Result) *text {
	c := newCSV("model", "position", "part", "years", "frames", "source")
	any := false
	for _, x := range m.rows {
		if x.out != "" || len(x.at.positions) == 0 {
			continue
		}
		scopes, _ := m.scopes(x.at.model, x.When)
		if scopes == nil {
			scopes = []string{""}
		}
		source := m.opts.Name
		if x.at.byName {
			source = placedBy(m)
		}
		for _, position := range x.at.positions {
			for _, years := range scopes {
				c.line(x, string(x.at.model), position.ID.Local(), string(x.part), years, x.When.Frames, source)
			}
		}
		any = true
		result.Placed++
	}
	if !any {
		return nil
	}
	return c.text
}

// supersessionsText says which number took whose place. In which direction one
// may be used for the other no list of this sort tells, so both are left open.
func supersessionsText(m *maker) *text {
	c := newCSV("old", "new", "source")
	told := map[[2]string]bool{}
	for _, x := range m.rows {
		if x.out != "" || x.part == "" {
			continue
		}
		number := func(n string) string { return string(m.known(graph.PartID(string(x.part.Brand()) + " " + n))) }
		pairs := [][2]string{{string(x.part), number(x.Newer)}, {number(x.Older), string(x.part)}}
		for i, given := range []bool{x.Newer != "", x.Older != ""} {
			if given && !told[pairs[i]] && pairs[i][0] != pairs[i][1] {
				told[pairs[i]] = true
				c.line(x, pairs[i][0], pairs[i][1], m.opts.Name)
			}
		}
	}
	if len(told) == 0 {
		return nil
	}
	return c.text
}

// writtenItem is one line of a box.
type writtenItem struct {
	Part      string `yaml:"part"`
	Quantity  int    `yaml:"quantity,omitempty"`
	Condition string `yaml:"condition,omitempty"`
	Note      string `yaml:"note,omitempty"`
}

// writtenFound is what was found at a place.
type writtenFound struct{ Part, Note string }

// bikeText is the file of boxes and bags.
func bikeText(m *maker, result *Result) *text {
	boxes, bags := map[string][]*row{}, map[string][]*row{}
	var boxNames, bagNames []string
	found := newText()
	for _, x := range m.rows {
		foundText(m, x, found, result)
		switch {
		case x.out != "":
		case x.boxed:
			name := short(cmp.Or(x.Box, m.opts.Name))
			if boxes[name] == nil {
				boxNames = append(boxNames, name)
			}
			boxes[name] = append(boxes[name], x)
			result.Boxed++
		case x.Is == partslist.IsHardware:
			name := short(cmp.Or(x.Box, x.Under, m.opts.Name))
			if bags[name] == nil {
				bagNames = append(bagNames, name)
			}
			bags[name] = append(bags[name], x)
			result.Bagged++
		}
	}
	if len(boxNames)+len(bagNames)+found.Len() == 0 {
		return nil
	}
	t := newText()
	t.add(nil, head(m)+"bikes:\n  "+string(m.opts.Bike)+":\n")
	if found.Len() > 0 {
		t.add(nil, "    found:\n")
		t.addAll(found)
	}
	if len(boxNames) > 0 {
		t.add(nil, "    boxes:\n")
	}
	for _, name := range boxNames {
		t.add(nil, "      "+yamlKey(m.opts.Name, name)+":\n")
		for _, x := range boxes[name] {
			w := writtenItem{Part: string(x.part), Condition: conditionOf(x.Row)}
			if x.Quantity > 1 {
				w.Quantity = x.Quantity
			}
			if note := strings.TrimSpace(x.Note); note != w.Condition {
				w.Note = short(strings.ReplaceAll(note, "\n", "; "))
			}
			if !x.Counted {
				w.Note = strings.TrimPrefix(w.Note+"; how many is not told", "; ")
			}
			t.add(x, item([]writtenItem{w}, 8))
		}
	}
	if len(bagNames) > 0 {
		t.add(nil, "    bags:\n")
	}
	for _, name := range bagNames {
		t.add(nil, "      "+yamlKey(m.opts.Name, name)+":\n        label: "+strings.TrimSpace(item(name,
			0))+"\n        contents:\n")
		for _, x := range bags[name] {
			t.add(x, item([]map[string]any{bagItem(x)}, 10))
		}
	}
	return t
}

// foundText notes the places of the bike that a row says are empty.
func foundText(m *maker, x *row, t *text, result *Result) {
	if x.out != "" || len(x.lacking) == 0 {
		return
	}
	result.Lacked++
	for _, id := range x.lacking {
		note := string(x.part) + " is " + string(x.Status)
		if x.boxed {
			note = string(x.part) + " in " + cmp.Or(x.Box, m.opts.Name) + " is " + conditionOf(x.Row)
		}
		if x.Status == partslist.Ordered && x.Ordered != "" {
			note += " since " + x.Ordered
		}
		t.add(x, item(map[string]writtenFound{id.Local(): {"missing", note}}, 6))
	}
}

// yamlKey names a box or a bag after the list and what stands on it, so that
// two lists don't name theirs alike.
func yamlKey(list, name string) string {
	if name != list {
		name = list + ": " + name
	}
	return strings.TrimSpace(item(short(name), 0))
}

// bagItem is a line of a bag: the kind, how many, and what was measured.
func bagItem(x *row) map[string]any {
	h := x.Hardware
	line := map[string]any{"kind": h.Kind}
	if x.Quantity > 1 {
		line["quantity"] = x.Quantity
	}
	for key, value := range map[string]string{"thread": h.Thread, "length": h.Length, "head": h.Head, "class": h.Class,
		"inside": h.Inside, "outside": h.Outside, "thickness": h.Thickness} {
		if value != "" {
			line[key] = value
		}
	}
	return line
}

// sortedLeft are the things left out in the order of the list, each once.
func sortedLeft(m *maker) []Left {
	list := slices.Clone(m.left)
	slices.SortStableFunc(list, func(a, b Left) int {
		return cmp.Or(cmp.Compare(a.Sheet, b.Sheet), cmp.Compare(a.Row,
			b.Row))
	})
	return list
}

// leftText is the file of what is left out.
func leftText(left []Left) string {
	c := newCSV("sheet", "row", "left out", "why", "may be", "as written")
	for _, l := range left {
		row := "all"
		if l.Row > 0 {
			row = strconv.Itoa(l.Row)
		}
		c.line(nil, cell.Harmless(l.Sheet), row, l.What, cell.Harmless(l.Why), cell.Harmless(strings.Join(l.MayBe, "; ")),
			cell.Harmless(l.Text))
	}
	return c.String()
}
