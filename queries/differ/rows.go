package differ

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// rows compares every position on every pair, and joins the pairs for which the
// comparison comes out the same.
func (d *differing) rows() []DifferRow {
	groups := map[string]*DifferRow{}
	for _, local := range d.locals {
		for _, pair := range d.pairs {
			row, ok := d.row(local, pair)
			if !ok {
				continue
			}
			signature := differSignature(row)
			if have := groups[signature]; have != nil {
				have.Pairs = append(have.Pairs, pair)
				continue
			}
			row.Pairs = []VariantPair{pair}
			groups[signature] = &row
		}
	}
	rows := []DifferRow{}
	for _, signature := range lists.KeysOf(groups) {
		rows = append(rows, *groups[signature])
	}
	slices.SortFunc(rows, func(a, b DifferRow) int {
		return cmp.Or(cmp.Compare(a.Position, b.Position), comparePairs(a.Pairs[0], b.Pairs[0]))
	})
	for i := range rows {
		d.finishRow(&rows[i])
	}
	return rows
}

func comparePairs(a, b VariantPair) int {
	return cmp.Or(cmp.Compare(a.A, b.A), cmp.Compare(a.B, b.B))
}

func differSignature(r DifferRow) string {
	side := func(s *DifferSide) string {
		if s == nil {
			return "no position"
		}
		return fmt.Sprint(s.Part, s.Others, s.Quantity)
	}
	way := func(w *Direction) string {
		if w == nil {
			return ""
		}
		return fmt.Sprint(w.Verdict, w.Why, w.Source.ID, len(w.ContradictedBy))
	}
	return strings.Join([]string{r.Position, string(r.Class), r.Why, side(r.A), side(r.B), way(r.AOnB), way(r.BOnA)},
		"\x00")
}

// row compares one position on one pair; ok is false when neither has it.
func (d *differing) row(local string, pair VariantPair) (DifferRow, bool) {
	pa, onA := d.at(local, pair.A)
	pb, onB := d.at(local, pair.B)
	row := DifferRow{Position: local, PositionName: cmp.Or(pa.Name, pb.Name), Safety: cmp.Or(pa.Safety, pb.Safety)}
	if !onA {
		row.PositionName, row.Safety = pb.Name, pb.Safety
	}
	a, b := d.sides(local, pair)
	if onA {
		row.A = d.side(a, pa, pair.A)
	}
	if onB {
		row.B = d.side(b, pb, pair.B)
	}
	switch {
	case !onA && !onB:
		return row, false
	case onA != onB:
		row.Class, row.Why = ClassOneSide, "the other has no such position"
	case len(a) == 0 || len(b) == 0:
		row.Class, row.Why = ClassNotKnown, "no source says what sits here on "+silentSide(a, b)
	default:
		d.compareRow(&row, a, b, pa, pb, pair)
	}
	return row, true
}

func silentSide(a, b []graph.Fitment) string {
	switch {
	case len(a) == 0 && len(b) == 0:
		return "either"
	case len(a) == 0:
		return "A"
	}
	return "B"
}

func (d *differing) side(listed []graph.Fitment, p graph.Position, variant graph.VariantID) *DifferSide {
	if len(listed) == 0 {
		return &DifferSide{Quantity: p.Quantity}
	}
	v := d.ground.Variant(variant)
	s := &DifferSide{}
	s.show(listed[0], listed)
	if voices := d.evidence.Voices(listed[0].Said, &v); len(voices) > 0 {
		s.Source = voices[0]
	}
	return s
}

// show names one listing as what the side has, and the rest as others.
func (s *DifferSide) show(f graph.Fitment, listed []graph.Fitment) {
	s.Part, s.Quantity, s.Others = f.Part, f.Quantity, nil
	for _, other := range listed {
		if other.Part != f.Part && !slices.Contains(s.Others, other.Part) {
			s.Others = append(s.Others, other.Part)
		}
	}
}

// compareRow compares what two machines have listed at one position.
func (d *differing) compareRow(row *DifferRow, a, b []graph.Fitment, pa, pb graph.Position, pair VariantPair) {
	if slices.Equal(machine.PartsIn(a), machine.PartsIn(b)) {
		row.Class, row.Why, row.Interchange = ClassSame, "the same part", "both"
		if row.A.Quantity != row.B.Quantity {
			row.addQuantity()
		}
		return
	}
	x, y := facing(a, b)
	toB, toA := d.transplants(x, y, pa, pb, pair)
	row.A.show(x, a)
	row.B.show(y, b)
	if x.Part == y.Part {
		row.Class, row.Why, row.Interchange = ClassSame, "the same part, among others that are listed", "both"
		return
	}
	row.A.Name, row.B.Name = toB.part.Name, toA.part.Name
	c := toB.compare
	row.Class, row.Why, row.Differences, row.NotKnown = c.class, c.why, c.differences, c.notKnown
	row.Disputed = d.disputedDims(c)
	if row.A.Quantity != row.B.Quantity {
		row.addQuantity()
	}
	row.AOnB, row.BOnA = d.direction(toB), d.direction(toA)
	row.Interchange = interchangeOf(row.AOnB, row.BOnA)
}

// transplants are both ways to swap what two listings name.
func (d *differing) transplants(x, y graph.Fitment, pa, pb graph.Position, pair VariantPair) (toB, toA transplant) {
	partA, partB := d.part(x.Part), d.part(y.Part)
	c := d.compare(partA, partB)
	return transplant{part: partA, to: pb, onOther: pair.B, sitting: y.Part, compare: c},
		transplant{part: partB, to: pa, onOther: pair.A, sitting: x.Part, compare: c}
}

// compare compares two parts once.
func (d *differing) compare(a, b graph.Part) comparison {
	key := [2]graph.PartID{a.ID, b.ID}
	c, done := d.compared[key]
	if !done {
		c = compareParts(a, b, d.kindOf(a), d.kindOf(b))
		d.compared[key] = c
	}
	return c
}

// facing picks the two listings that answer to each other: of one colour scheme
// when both sides have it and they differ in it; else the best of those that
// only one side has; else the best of each side.
func facing(a, b []graph.Fitment) (x, y graph.Fitment) {
	for _, x := range a {
		for _, y := range b {
			if x.Scheme != "" && x.Scheme == y.Scheme && x.Part != y.Part {
				return x, y
			}
		}
	}
	onlyA := lists.Kept(slices.Clone(a),
		func(f graph.Fitment) bool { return !slices.Contains(machine.PartsIn(b), f.Part) })
	onlyB := lists.Kept(slices.Clone(b),
		func(f graph.Fitment) bool { return !slices.Contains(machine.PartsIn(a), f.Part) })
	if len(onlyA) > 0 && len(onlyB) > 0 {
		return onlyA[0], onlyB[0]
	}
	return a[0], b[0]
}

func (r *DifferRow) addQuantity() {
	text := fmt.Sprintf("%d here, not %d", r.B.Quantity, r.A.Quantity)
	r.Differences = append(r.Differences, Difference{Dim: "quantity", Class: ClassFunctional,
		A: fmt.Sprint(r.A.Quantity), B: fmt.Sprint(r.B.Quantity), Text: text})
	if r.Class == ClassSame || r.Class == ClassCosmetic {
		r.Why = text
	} else {
		r.Why += "; " + text
	}
	r.Class = r.Class.worst(ClassFunctional)
}

// finishRow adds what needs all pairs of the row.
func (d *differing) finishRow(row *DifferRow) {
	slices.SortFunc(row.Pairs, comparePairs)
	first := row.Pairs[0]
	model := first.A.Model()
	if row.A == nil {
		model = first.B.Model()
	}
	row.ID = queries.AnswerID{Question: "differ", Variant: first.A, Other: first.B,
		Position: graph.PositionID(string(model) + ":" + row.Position)}.String()
	row.Covers = d.coversText(row)
	row.SettledBy = d.settledRow(row)
	row.RunParts, row.Runs = d.runs(row)
}

// coversText is "2003 eu, uk against 2004 eu, uk"; the model is named when the
// sides are of two.
func (d *differing) coversText(row *DifferRow) string {
	side := func(pick func(VariantPair) graph.VariantID) string {
		var texts []string
		for _, c := range queries.CoveragesOf(lists.Unique(lists.Mapped(row.Pairs, pick)), d.siblings) {
			text := c.String()
			if d.a.Model != d.b.Model {
				text = string(c.Model) + " " + text
			}
			texts = append(texts, text)
		}
		return strings.Join(texts, "; ")
	}
	return side(func(p VariantPair) graph.VariantID { return p.A }) + " against " +
		side(func(p VariantPair) graph.VariantID { return p.B })
}

// settledRow names the facts that tell a row's machines from others that were
// asked about.
func (d *differing) settledRow(row *DifferRow) []string {
	if len(row.Pairs) == len(d.pairs) {
		return nil
	}
	var facts []string
	for _, side := range []struct {
		m    queries.Machines
		pick func(VariantPair) graph.VariantID
	}{{d.a, func(p VariantPair) graph.VariantID { return p.A }}, {d.b,
		func(p VariantPair) graph.VariantID { return p.B }}} {
		for _, c := range queries.CoveragesOf(lists.Unique(lists.Mapped(row.Pairs, side.pick)), side.m.IDs()) {
			facts = append(facts, queries.SettledBy(c, c.On, side.m.IDs())...)
		}
	}
	slices.Sort(facts)
	facts = slices.Compact(facts)
	slices.Reverse(facts) // market before frame number, as SettledBy has it
	return facts
}
