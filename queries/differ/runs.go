package differ

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
)

// runs says which years share a part at the row's position, in the markets of
// the row: all years of the model for a position whose parts differ; for one
// whose part is the same, the years around the two that share it.
func (d *differing) runs(row *DifferRow) ([]PartRun, string) {
	var runs []PartRun
	var texts []string
	for _, m := range machinesOnce(d.a, d.b) {
		id := graph.PositionID(string(m.Model) + ":" + row.Position)
		own := d.runsAt(id, row)
		runs = append(runs, own...)
		if len(own) == 0 {
			continue
		}
		text := strings.Join(lists.Mapped(own, func(r PartRun) string { return r.Text }), " | ")
		if d.a.Model != d.b.Model {
			text = string(m.Model) + " " + text
		}
		texts = append(texts, text)
	}
	return runs, strings.Join(texts, "; ")
}

func (d *differing) runsAt(id graph.PositionID, row *DifferRow) []PartRun {
	markets := map[string]bool{}
	for _, pair := range row.Pairs {
		markets[queries.VariantOf(pair.A).Market], markets[queries.VariantOf(pair.B).Market] = true, true
	}
	inMarkets := func(v graph.VariantID) bool { return markets[queries.VariantOf(v).Market] }
	on := map[string][]graph.VariantID{}
	parts := map[string][]graph.PartID{}
	for _, v := range lists.Kept(slices.Clone(d.positions[id].On), inMarkets) {
		listed := d.built.at(id, v)
		if len(listed) == 0 {
			continue
		}
		key := d.runKey(listed[0])
		on[key] = append(on[key], v)
		for _, f := range listed {
			if d.runKey(f) == key {
				parts[key] = append(parts[key], f.Part)
			}
		}
	}
	var runs []PartRun
	for _, key := range lists.KeysOf(on) {
		runs = append(runs, PartRun{Parts: lists.Unique(parts[key]), Coverages: queries.CoveragesOf(on[key], d.siblings)})
	}
	slices.SortFunc(runs, func(a, b PartRun) int {
		return cmp.Or(a.Coverages[0].Compare(b.Coverages[0]), slices.Compare(a.Parts, b.Parts))
	})
	for i := range runs {
		runs[i].Text = runText(runs[i].Coverages, len(markets) > 1 && !sameMarkets(runs))
	}
	return runs
}

// runKey is equal for parts that differ in colour only.
func (d *differing) runKey(f graph.Fitment) string {
	p := d.library.Part(f.Part)
	if p.Number.Colour == "" {
		return string(f.Part)
	}
	return fmt.Sprintf("%s %s %s", p.Brand, p.Number.Core, p.Number.Revision)
}

func sameMarkets(runs []PartRun) bool {
	first := runs[0].Coverages[0].Markets
	for _, r := range runs {
		for _, c := range r.Coverages {
			if !slices.Equal(c.Markets, first) {
				return false
			}
		}
	}
	return true
}

// runText is "2001-2002, 2003 early"; with the markets when they differ.
func runText(coverages []queries.Coverage, markets bool) string {
	return strings.Join(lists.Mapped(coverages, func(c queries.Coverage) string {
		text := c.Years()
		if markets {
			text += " " + strings.Join(c.Markets, ", ")
		}
		if c.Mark != "" {
			text += " " + c.Mark
		}
		return text
	}), ", ")
}

// summaryOf counts the rows and says it in a line.
func summaryOf(a DifferAnswer) DifferSummary {
	s := DifferSummary{}
	at := map[string]bool{}
	for _, row := range a.Rows {
		at[row.Position] = true
	}
	s.Positions = len(at)
	var words []string
	for _, class := range classes() {
		n := 0
		for _, row := range a.Rows {
			if row.Class == class {
				n++
			}
		}
		if n > 0 {
			s.Classes = append(s.Classes, ClassCount{Class: class, Rows: n})
			words = append(words, fmt.Sprintf("%d %s", n, class))
		}
	}
	s.Text = fmt.Sprintf("%d positions compared: %s", s.Positions, strings.Join(words, ", "))
	switch s.Positions {
	case 0:
		s.Text = "no position to compare"
	case 1:
		s.Text = strings.Replace(s.Text, "positions", "position", 1)
	}
	return s
}
