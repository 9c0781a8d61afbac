package differ

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/fits"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/swap"
)

// differing is the work on one DifferQuestion.
type differing struct {
	r        graph.Reader
	q        DifferQuestion
	a, b     queries.Machines
	pairs    []VariantPair
	alone    []graph.VariantID
	evidence *evidence.Evidence
	built    builtAs
	fitments []graph.Fitment
	// positions are those of either machine that are compared, by their
	// identity; locals are their names without the model, sorted.
	positions map[graph.PositionID]graph.Position
	locals    []string
	siblings  queries.Universe // all variants of both models

	library *machine.Library // what was read of parts and of what they meet
	said    *fits.Sayings    // of the parts that differ; nil when none does

	// What was worked out already, since most pairs of variants share parts.
	compared   map[[2]graph.PartID]comparison
	directions map[swapKey]*Direction
	tried      map[swapKey]swap.Tried
}

func newDiffering(ctx context.Context, l *machine.Library, q DifferQuestion) (*differing, error) {
	r := l.Reader()
	d := &differing{r: r, q: q, library: l, evidence: l.Evidence(), positions: map[graph.PositionID]graph.Position{},
		compared: map[[2]graph.PartID]comparison{}, directions: map[swapKey]*Direction{},
		tried: map[swapKey]swap.Tried{}}
	var err error
	if d.a, err = queries.MachinesFor(ctx, r, queries.MachineQuestion{On: q.A, Market: q.Market}); err != nil {
		return nil, err
	}
	if d.b, err = queries.MachinesFor(ctx, r, queries.MachineQuestion{On: q.B, Market: q.Market}); err != nil {
		return nil, err
	}
	d.pairs, d.alone = pairsOf(d.a, d.b)
	if d.siblings, err = queries.SiblingsOf(ctx, r, []graph.ModelID{d.a.Model, d.b.Model}); err != nil {
		return nil, err
	}
	for _, m := range machinesOnce(d.a, d.b) {
		positions, err := fits.PositionsAsked(ctx, r, m, q.Position, q.Assembly)
		if err != nil && !d.otherHas(err, m) {
			return nil, err
		}
		for _, p := range positions {
			d.positions[p.ID] = p
			d.locals = append(d.locals, p.ID.Local())
		}
	}
	d.locals = lists.Unique(d.locals)
	return d, nil
}

// otherHas lets a second model do without the position or assembly asked
// about: what only the first one has is an answer.
func (d *differing) otherHas(err error, m queries.Machines) bool {
	missing := (*queries.NotFoundError)(nil)
	return errors.As(err, &missing) && m.Model != d.a.Model && len(d.positions) > 0
}

// machinesOnce joins both sides when they are of one model, so that its
// positions are read once.
func machinesOnce(a, b queries.Machines) []queries.Machines {
	if a.Model != b.Model {
		return []queries.Machines{a, b}
	}
	both := a
	both.Variants = slices.Concat(a.Variants, b.Variants)
	return []queries.Machines{both}
}

// pairsOf pairs the variants of the same market; when the sides have no market
// in common, every variant with every other. alone are those left over.
func pairsOf(a, b queries.Machines) (pairs []VariantPair, alone []graph.VariantID) {
	sameMarket := func(x, y graph.Variant) bool { return x.Market == y.Market }
	common := slices.ContainsFunc(a.Variants, func(x graph.Variant) bool {
		return slices.ContainsFunc(b.Variants, func(y graph.Variant) bool { return sameMarket(x, y) })
	})
	paired := map[graph.VariantID]bool{}
	for _, x := range a.Variants {
		for _, y := range b.Variants {
			if !common || sameMarket(x, y) {
				pairs = append(pairs, VariantPair{A: x.ID, B: y.ID})
				paired[x.ID], paired[y.ID] = true, true
			}
		}
	}
	for _, v := range slices.Concat(a.Variants, b.Variants) {
		if !paired[v.ID] {
			alone = append(alone, v.ID)
		}
	}
	return pairs, lists.Unique(alone)
}

// loadListings reads what both machines have at the positions.
func (d *differing) loadListings(ctx context.Context) (err error) {
	ids := lists.KeysOf(d.positions)
	variants := slices.Concat(d.a.IDs(), d.b.IDs())
	if len(ids) > 0 {
		if d.q.Assembly == "" && d.q.Position == "" {
			d.fitments, err = d.r.FitmentsOn(ctx, lists.Unique(variants)...)
		} else {
			d.fitments, err = d.r.FitmentsAt(ctx, ids...)
		}
	}
	if err != nil {
		return err
	}
	return d.rebuild(ctx)
}

// rebuild ranks the listings read so far.
func (d *differing) rebuild(ctx context.Context) error {
	var cites []graph.Cite
	for _, f := range d.fitments {
		cites = append(cites, f.Said...)
	}
	if err := d.evidence.Load(ctx, d.r, cites); err != nil {
		return err
	}
	d.built = newBuiltAs(d.evidence, slices.Concat(d.a.Variants, d.b.Variants), d.fitments)
	return nil
}

// at is the position with a local name on a variant; ok is false when the
// variant has none.
func (d *differing) at(local string, v graph.VariantID) (graph.Position, bool) {
	p, ok := d.positions[graph.PositionID(string(v.Model())+":"+local)]
	return p, ok && slices.Contains(p.On, v)
}

// sides is what the two variants of a pair have listed at a position.
func (d *differing) sides(local string, pair VariantPair) (a, b []graph.Fitment) {
	if p, ok := d.at(local, pair.A); ok {
		a = d.built.at(p.ID, pair.A)
	}
	if p, ok := d.at(local, pair.B); ok {
		b = d.built.at(p.ID, pair.B)
	}
	return a, b
}

// loadDiffering reads more about the positions whose parts are not the same:
// the parts with their features, what may take whose place, what was found, and
// what the parts meet. Nothing more is read about parts that are the same.
func (d *differing) loadDiffering(ctx context.Context) error {
	at, parts := d.differingPlaces()
	if err := d.loadOneSided(ctx); err != nil || len(at) == 0 {
		return err
	}
	listings, err := d.r.FitmentsAt(ctx, at...)
	if err != nil {
		return err
	}
	d.fitments = append(d.fitments, listings...)
	if err := d.rebuild(ctx); err != nil {
		return err
	}
	if err := d.loadParts(ctx, parts); err != nil {
		return err
	}
	variants := slices.Concat(d.a.Variants, d.b.Variants)
	if d.said, err = fits.SayingsOf(ctx, d.r, d.evidence, variants, at, parts); err != nil {
		return err
	}
	return d.try(ctx, at)
}

// loadOneSided adds the listings of all years at the positions that only one
// machine of a pair has, for the runs of years there.
func (d *differing) loadOneSided(ctx context.Context) error {
	var at []graph.PositionID
	for _, local := range d.locals {
		for _, pair := range d.pairs {
			a, onA := d.at(local, pair.A)
			b, onB := d.at(local, pair.B)
			switch {
			case onA && !onB:
				at = append(at, a.ID)
			case onB && !onA:
				at = append(at, b.ID)
			}
		}
	}
	if len(at) == 0 {
		return nil
	}
	listings, err := d.r.FitmentsAt(ctx, lists.Unique(at)...)
	if err != nil {
		return err
	}
	d.fitments = append(d.fitments, listings...)
	return d.rebuild(ctx)
}

// differingPlaces are the positions whose listed parts are not the same on some
// pair, and those parts.
func (d *differing) differingPlaces() ([]graph.PositionID, []graph.PartID) {
	var at []graph.PositionID
	var parts []graph.PartID
	for _, local := range d.locals {
		for _, pair := range d.pairs {
			a, b := d.sides(local, pair)
			if len(a) == 0 || len(b) == 0 || slices.Equal(machine.PartsIn(a), machine.PartsIn(b)) {
				continue
			}
			at = append(at, a[0].Position, b[0].Position)
			parts = append(parts, append(machine.PartsIn(a), machine.PartsIn(b)...)...)
		}
	}
	return lists.Unique(at), lists.Unique(parts)
}

// loadParts reads parts with what was found out about them, and their kinds.
func (d *differing) loadParts(ctx context.Context, ids []graph.PartID) error {
	if err := d.library.ReadParts(ctx, ids); err != nil {
		return err
	}
	return d.library.ReadKinds(ctx, lists.Mapped(ids,
		func(id graph.PartID) graph.KindID { return d.library.Part(id).Kind }))
}

// part is a part that was read, its readings best first; none for one that
// nobody describes.
func (d *differing) part(id graph.PartID) graph.Part {
	p, _ := d.library.Ranked(id, nil)
	return p
}

// kindOf is the kind of a part.
func (d *differing) kindOf(p graph.Part) graph.Kind { return d.library.Kind(p.Kind) }

// featureKinds are the sorts of feature of the parts of the rows that are not
// the same.
func (d *differing) featureKinds(rows []DifferRow) []string {
	var all []string
	for _, row := range rows {
		for _, side := range []*DifferSide{row.A, row.B} {
			if row.Class != ClassSame && side != nil {
				all = append(all, queries.FeatureKindsOf(d.part(side.Part), graph.Kind{})...)
			}
		}
	}
	return all
}

// disputedDims says who disagrees on the measures that were compared.
func (d *differing) disputedDims(c comparison) []DisputedDim {
	var all []DisputedDim
	for _, x := range c.disputed {
		line := DisputedDim{Part: x.part.ID, Feature: x.feature, Dim: x.dim.Name,
			Settle: evidence.MeasureText(x.part, x.feature, x.dim.Name)}
		line.Used = d.evidence.ReadingVoice(x.readings[0], nil)
		for _, r := range x.readings[1:] {
			if !evidence.Agree(x.dim, x.readings[0], r) {
				line.Against = append(line.Against, d.evidence.ReadingVoice(r, nil))
			}
		}
		all = append(all, line)
	}
	return all
}

// try judges each part in its place on the other machine, on the machine as built.
func (d *differing) try(ctx context.Context, at []graph.PositionID) error {
	trials := map[graph.VariantID]*swap.Trials{}
	known := swap.NewKnown()
	for _, v := range slices.Concat(d.a.Variants, d.b.Variants) {
		if trials[v.ID] != nil {
			continue
		}
		here := lists.Kept(slices.Clone(at),
			func(id graph.PositionID) bool { return slices.Contains(d.positions[id].On, v.ID) })
		t, err := swap.NewTrials(ctx, machine.StartIn(d.library, v, ""), here, d.said, known)
		if err != nil {
			return err
		}
		trials[v.ID] = t
	}
	for _, local := range d.locals {
		for _, pair := range d.pairs {
			a, b := d.sides(local, pair)
			if len(a) == 0 || len(b) == 0 || slices.Equal(machine.PartsIn(a), machine.PartsIn(b)) {
				continue
			}
			x, y := facing(a, b)
			toB, toA := d.transplants(x, y, d.positions[a[0].Position], d.positions[b[0].Position], pair)
			for _, t := range []transplant{toB, toA} {
				key := swapKeyOf(t)
				if _, done := d.tried[key]; done || t.part.ID == "" || t.part.ID == t.sitting {
					continue
				}
				tried, err := trials[t.onOther].Judge(ctx, t.to.ID, t.part.ID)
				if err != nil {
					return err
				}
				d.tried[key] = tried.Unpainted()
			}
		}
	}
	return nil
}

// direction is what a part comes to in its new place: judged as a swap is, and weighed
// for whose word that is. The computed side is as strong as the weakest dimension it
// used. The same question is answered once.
func (d *differing) direction(t transplant) *Direction {
	key := swapKeyOf(t)
	if known := d.directions[key]; known != nil {
		return known
	}
	computed, said := d.computed(t), d.said.Claims(key.Spot)
	v := d.built.variant(t.onOther)
	judge := func(claims ...evidence.Claim) evidence.Judgement { return d.evidence.Judge(claims, &v, t.to.Safety) }
	j := judge(append(slices.Clone(said), computed)...)
	if verdict := d.tried[key].Verdict(); j.Verdict != verdict {
		against := j.Against
		if j = judge(computed); computed.Verdict != verdict && len(said) > 0 { // what is said decides
			j, against = judge(said...), []evidence.Contradiction{j.Contradiction()}
		}
		j.Verdict, j.Against = verdict, against
	}
	dir := &Direction{Verdict: j.Verdict, Via: j.Via, Why: j.Why, Rank: j.Rank, Source: j.Source,
		Changes: j.Changes, ContradictedBy: j.Against, Steps: j.Steps}
	d.directions[key] = dir
	return dir
}

// computed is what was worked out of a part in its new place, as a claim that rests on
// what decided.
func (d *differing) computed(t transplant) evidence.Claim {
	tried := d.tried[swapKeyOf(t)].Unsaid()
	c := evidence.Claim{Part: t.part.ID, Position: t.to.ID, Variant: t.onOther, Via: evidence.ViaComputed,
		Verdict: tried.Verdict()}
	var why []string
	say := func(text string) {
		if !slices.Contains(why, text) {
			why = append(why, text)
		}
	}
	for _, o := range tried.Outcomes {
		if o.After != c.Verdict {
			continue
		}
		lacks := d.lacking(t, o)
		if lacks != "" {
			say(lacks)
		}
		for _, check := range o.Checks {
			if check.Verdict != c.Verdict || c.Verdict == graph.Fits && !t.uses(check) {
				continue
			}
			linkCheck(&c, check)
			if lacks == "" && (c.Verdict != graph.Fits || o.What != examine.OfJoint && t.isOfDifference(check)) {
				say(check.Why)
			}
		}
	}
	for _, n := range tried.Numbers {
		if n.Verdict == c.Verdict && c.Verdict > graph.FitsWithChanges {
			say(n.Name + ": " + n.Words)
		}
	}
	c.Why = strings.Join(why, "; ")
	if c.Verdict == graph.Fits {
		c.Why = t.whyFits(tried, c.Why)
	}
	if t.compare.onlyColour && c.Verdict == graph.Fits { // no measure says so
		c.Links = nil
	}
	c.Links = append(c.Links, evidence.Link{Kind: evidence.StepComputed,
		Text: fmt.Sprintf("%s at %s of %s: %s", t.part.ID, t.to.ID.Local(), t.onOther, c.Verdict)})
	return c
}

// lacking says of a joint that is unknown that the part has no such feature, where one of
// its kind may do without; else it is empty.
func (d *differing) lacking(t transplant, o examine.Outcome) string {
	name, other := o.Joint.A.Feature, o.Joint.B
	switch {
	case o.What != examine.OfJoint || o.After != graph.Unknown:
		return ""
	case o.Joint.A.Position == t.to.ID:
	case o.Joint.B.Position == t.to.ID:
		name, other = o.Joint.B.Feature, o.Joint.A
	default:
		return "" // the part only holds the joint
	}
	if _, has := t.part.Feature(name); has || !mayLack(d.kindOf(t.part), name) {
		return ""
	}
	return fmt.Sprintf("has no %s for %s to meet, or nobody recorded it", name, other)
}

// linkCheck rests a claim on a check.
func linkCheck(c *evidence.Claim, check mating.Check) {
	c.Links = append(c.Links, examine.RuleLinks(check.Rule, check.Verdict, check.Why, check.Uses)...)
	if check.Verdict == graph.FitsWithChanges {
		for _, do := range check.Do {
			c.Changes = append(c.Changes, evidence.Change{Do: do, Effort: check.Effort})
		}
	}
}

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

func (d *differing) side(listed []graph.Fitment, p graph.Position, variant graph.VariantID) *DifferSide {
	if len(listed) == 0 {
		return &DifferSide{Quantity: p.Quantity}
	}
	v := d.built.variant(variant)
	s := &DifferSide{}
	s.show(listed[0], listed)
	if voices := d.evidence.Voices(listed[0].Said, &v); len(voices) > 0 {
		s.Source = voices[0]
	}
	return s
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
		all := queries.UniverseOf(side.m.IDs())
		for _, c := range queries.CoveragesOf(lists.Unique(lists.Mapped(row.Pairs, side.pick)), all) {
			facts = append(facts, queries.SettledBy(c, c.On, all)...)
		}
	}
	slices.Sort(facts)
	facts = slices.Compact(facts)
	slices.Reverse(facts) // market before frame number, as SettledBy has it
	return facts
}

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
