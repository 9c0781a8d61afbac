package fits

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// answerer judges claims, and joins what comes out the same to the rows of an answer.
type answerer struct{ *ground }

// rowed turns what was read into the rows of the answer.
func (g answerer) rowed(ctx context.Context, q FitsQuestion, a *FitsAnswer) error {
	if err := g.loadPositions(ctx); err != nil {
		return err
	}
	if err := g.loadNeighbours(ctx); err != nil {
		return err
	}
	if err := g.loadEvidence(ctx); err != nil {
		return err
	}
	if err := g.loadVariants(ctx); err != nil {
		return err
	}
	if err := g.checkMarket(); err != nil {
		return err
	}
	g.asked = queries.UniverseOf(g.siblings.IDs(g.wants))
	if err := g.findAstray(ctx); err != nil {
		return err
	}
	said := spotsOf(claimer(g).claims())
	if err := g.measured(ctx, q, said); err != nil {
		return err
	}
	var err error
	if a.Rows, err = g.rows(ctx, said); err != nil {
		return err
	}
	a.Rows = append(a.Rows, g.emptyRows(a.Rows)...)
	if g.target == nil {
		a.Rows = g.foldKits(a.Rows)
	}
	g.sortRows(a.Rows)
	return g.settle(ctx, a.Rows)
}

// finish turns what was read into the answer.
func (g answerer) finish(ctx context.Context, q FitsQuestion, a *FitsAnswer) error {
	if err := g.rowed(ctx, q, a); err != nil {
		return err
	}
	a.Split = g.split(a.Rows)
	a.Unsaid = g.unsaid(a.Rows)
	if err := g.addBelongs(ctx, q, a); err != nil {
		return err
	}
	a.Withdrawn = g.withdrawn()
	var touches []string
	if g.target != nil {
		touches = queries.FeatureKindsOf(*g.target, graph.Kind{})
	}
	a.Cautions = queries.CautionsAbout(touches, append(lists.Mapped(a.Rows,
		func(row FitsRow) graph.Safety { return row.Safety }),
		lists.Mapped(a.Belongs, func(p Place) graph.Safety { return p.Safety })...)...)
	a.Verdicts = countVerdicts(lists.Mapped(a.Rows, func(row FitsRow) graph.Verdict { return row.Verdict }))
	if !q.Twins || g.target == nil {
		return nil
	}
	var err error
	a.Twins, err = evidence.TwinsOf(ctx, g.r, *g.target)
	return err
}

// emptyRows says of every position asked about that nobody says anything: for
// a machine only.
func (g answerer) emptyRows(rows []FitsRow) []FitsRow {
	if g.target != nil {
		return nil
	}
	said := map[graph.PositionID][]graph.VariantID{}
	for _, row := range rows {
		said[row.Position] = append(said[row.Position], row.Coverage.On...)
	}
	var empty []FitsRow
	for _, id := range lists.KeysOf(g.Positions) {
		silent := lists.Kept(g.having(id), func(v graph.VariantID) bool { return !slices.Contains(said[id], v) })
		if len(silent) > 0 {
			group := &rowGroup{position: id, on: silent, Judgement: evidence.Judgement{Verdict: graph.Unknown,
				Via: evidence.ViaNothing, Why: "no source says what sits here", Quantity: g.Positions[id].Quantity}}
			empty = append(empty, g.rowsOf(group, silent)...)
		}
	}
	return empty
}

// unsaid is the machines asked about for which there is no row about the part.
func (g answerer) unsaid(rows []FitsRow) []queries.Coverage {
	if g.target == nil || g.Machines == nil {
		return nil
	}
	var said []graph.VariantID
	for _, row := range rows {
		said = append(said, row.Coverage.On...)
	}
	silent := lists.Kept(g.Machines.IDs(), func(v graph.VariantID) bool { return !slices.Contains(said, v) })
	return queries.CoveragesOf(silent, queries.Universe{}) // nothing is known of their marks: keep them
}

// addBelongs names the places of the machines nobody speaks of at which a part
// of the kind belongs: those asked about, where it belongs at one of them.
func (g answerer) addBelongs(ctx context.Context, q FitsQuestion, a *FitsAnswer) error {
	if len(a.Unsaid) == 0 {
		return nil
	}
	// Those of the kind on all machines would be as many as the set is large.
	all, err := g.r.PositionsOf(ctx, g.Machines.Model)
	if err != nil {
		return err
	}
	var positions []graph.Position
	for i := range all {
		if all[i].Kind != "" && all[i].Kind == g.target.Kind {
			positions = append(positions, all[i])
		}
	}
	inside, err := g.insideOf(ctx, q)
	if err != nil {
		return err
	}
	there := lists.Kept(positions, func(p graph.Position) bool { return inside(p.ID) })
	if len(there) > 0 {
		positions = there
	}
	for _, p := range positions {
		silent := slices.ContainsFunc(a.Unsaid, func(c queries.Coverage) bool {
			return slices.ContainsFunc(c.On, func(v graph.VariantID) bool { return slices.Contains(p.On, v) })
		})
		if silent {
			a.Belongs = append(a.Belongs, Place{Position: p.ID, Name: p.Name, Safety: p.Safety})
		}
	}
	return nil
}

// split lists the variants asked about when a row tells them apart.
func (g answerer) split(rows []FitsRow) []queries.SplitLine {
	if g.Machines == nil || !slices.ContainsFunc(rows, func(row FitsRow) bool { return len(row.SettledBy) > 0 }) {
		return nil
	}
	return g.Machines.SplitLines()
}

func (g answerer) withdrawn() []evidence.FindingLine {
	gone := lists.Kept(g.Findings, func(f graph.Finding) bool {
		return f.Withdrawn != "" && g.asks(f.Part) && slices.ContainsFunc(g.onOf(f), g.wants)
	})
	return lists.Mapped(gone, func(f graph.Finding) evidence.FindingLine {
		return evidence.LineOfFinding(f, g.Evidence.FindingVoice(f))
	})
}

// withAstray makes of a judgement that rests on what a kit holds an unknown one, where
// nobody lists for the machine what else is in it.
func (g answerer) withAstray(r rowGroup, s Spot) rowGroup {
	astray := g.astray[s.Variant]
	if len(astray) == 0 || g.target == nil || s.Part != g.target.ID || r.Via != evidence.ViaKit ||
		r.Verdict > graph.FitsWithChanges {
		return r
	}
	r.Verdict = graph.Unknown
	r.Why += "; but nobody lists for this machine what else is in it: " + strings.Join(lists.Mapped(astray,
		func(c graph.Content) string { return fmt.Sprintf("%d x %s", c.Quantity, c.Part) }), ", ")
	return r
}

// foldKits takes the rows that say no more than that a kit holds a listed part,
// and names the kit in the row of the part instead: a washer is in a dozen kits,
// and they must not bury what is listed.
func (g answerer) foldKits(rows []FitsRow) []FitsRow {
	listed := map[graph.PositionID][]int{}
	for i, row := range rows {
		if row.Via == evidence.ViaListed {
			listed[row.Position] = append(listed[row.Position], i)
		}
	}
	folded := map[int]bool{}
	for i, row := range rows {
		kit := g.kits[row.Part]
		holding := lists.Kept(slices.Clone(listed[row.Position]), func(j int) bool {
			return heldIn(kit, rows[j].Part) >= 0 && rows[j].Coverage.Frames == row.Coverage.Frames
		})
		if !saysOnlyKit(row, kit) || !covered(row, rows, holding) {
			continue
		}
		folded[i] = true
		for _, j := range holding {
			content := kit.Contains[heldIn(kit, rows[j].Part)]
			rows[j].Kits = append(rows[j].Kits, evidence.ContentLine{Part: kit.ID, Quantity: content.Quantity})
		}
	}
	left := []FitsRow{}
	for i, row := range rows {
		if !folded[i] {
			slices.SortFunc(row.Kits, func(a, b evidence.ContentLine) int { return cmp.Compare(a.Part, b.Part) })
			left = append(left, row)
		}
	}
	return left
}

// rivals are sources that list another part where one is listed, when no
// supersession, kit, revision, colour or colour scheme explains it: then one of
// the lists may be wrong.
func (g answerer) rivals(s Spot, j evidence.Judgement) []evidence.Contradiction {
	if j.Via != evidence.ViaListed {
		return nil
	}
	var found []evidence.Contradiction
	v := g.variant(s.Variant)
	for _, f := range g.atPosition[s.Position] {
		if f.Part == s.Part || !slices.Contains(f.On, s.Variant) || g.explained(s.Part, f, j) {
			continue
		}
		w := g.Evidence.Weigh(evidence.Claim{Links: []evidence.Link{listingLink(f)}}, &v)
		if !w.Voice.IsApart(j.Source) {
			continue // one list that names two parts means a choice
		}
		found = append(found, evidence.Contradiction{Why: fmt.Sprintf("lists %s here", f.Part), Lists: f.Part,
			Via: evidence.ViaListed, Source: w.Voice, Steps: w.Steps})
	}
	return found
}

func (g answerer) explained(part graph.PartID, f graph.Fitment, j evidence.Judgement) bool {
	if f.Scheme != "" && len(j.Schemes) > 0 && !slices.Contains(j.Schemes, f.Scheme) {
		return true
	}
	if g.sameCore(part, f.Part) {
		return true
	}
	linked := func(a, b graph.PartID) bool { return a == part && b == f.Part || a == f.Part && b == part }
	if slices.ContainsFunc(g.Chains, func(c evidence.Lineage) bool { return linked(c.Listed, c.Target) }) {
		return true
	}
	for _, kit := range g.kits {
		for _, c := range kit.Contains {
			if linked(kit.ID, c.Part) {
				return true
			}
		}
	}
	return false
}

// sameCore reports whether two parts are revisions or colours of one core.
func (g answerer) sameCore(a, b graph.PartID) bool {
	if a.Brand() != b.Brand() {
		return false
	}
	form := g.forms[a.Brand()]
	x, errX := form.Parse(a.Number())
	y, errY := form.Parse(b.Number())
	return errX == nil && errY == nil && x.CoreKey() == y.CoreKey()
}

// rows judges the claims and groups what comes out the same. The only error is that
// the question is asked no more.
func (g answerer) rows(ctx context.Context, said spots) ([]FitsRow, error) {
	groups := map[string]*rowGroup{}
	for _, key := range said.keys {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		v := g.variant(key.Variant)
		for _, limited := range g.byFrames(said.claims[key], &v, g.Positions[key.Position].Safety) {
			limited = g.withAstray(limited, key)
			limited.part, limited.position = key.Part, key.Position
			limited.Against = append(limited.Against, g.rivals(key, limited.Judgement)...)
			addToGroup(groups, limited, key.Variant)
		}
	}
	alike := map[string][]graph.VariantID{}
	for _, group := range groups {
		if group.frames.IsZero() {
			alike[group.answer()] = append(alike[group.answer()], group.on...)
		}
	}
	rows := []FitsRow{}
	for _, signature := range lists.KeysOf(groups) {
		rows = append(rows, g.rowsOf(groups[signature], alike[groups[signature].answer()])...)
	}
	return rows, nil
}

// byFrames judges the claims that hold for the whole variant, then those that
// hold for some of its frame numbers together with the former. A limited claim
// that changes nothing gives no row of its own.
func (g answerer) byFrames(claims []evidence.Claim, v *graph.Variant, safety graph.Safety) []rowGroup {
	whole := lists.Kept(claims, func(c evidence.Claim) bool { return c.Frames.IsZero() })
	var out []rowGroup
	if len(whole) > 0 {
		out = append(out, groupOf(g.judge(whole, v, safety)))
	}
	limits := map[string]measure.Frames{}
	for _, c := range claims {
		if !c.Frames.IsZero() {
			limits[c.Frames.String()] = c.Frames
		}
	}
	for _, text := range lists.KeysOf(limits) {
		some := lists.Kept(claims, func(c evidence.Claim) bool { return c.Frames.IsZero() || c.Frames == limits[text] })
		j := groupOf(g.judge(some, v, safety))
		if len(whole) == 0 || j.Verdict != out[0].Verdict {
			j.frames = limits[text]
			out = append(out, j)
		}
	}
	return out
}

// rowsOf cuts a group into rows of years without a gap; alike are all variants
// with the same answer.
func (g answerer) rowsOf(group *rowGroup, alike []graph.VariantID) []FitsRow {
	position := g.Positions[group.position]
	var rows []FitsRow
	for _, c := range queries.CoveragesOf(group.on, g.siblings) {
		c.Frames = g.framesOf(c, group.frames)
		rows = append(rows, FitsRow{ID: queries.AnswerID{Question: "fits", Part: group.part, Variant: c.On[0],
			Position: group.position}.String(),
			Position: group.position, PositionName: position.Name, Safety: position.Safety, Part: group.part,
			Coverage: c, Covers: c.String(), Verdict: group.Verdict, Via: group.Via, Why: group.Why, Rank: group.Rank,
			Source: group.Source, OtherSources: evidence.Distinct(group.Others), ContradictedBy: group.Against,
			SettledBy: queries.SettledBy(c, append(slices.Clone(alike), c.On...), g.asked), Changes: group.Changes,
			Quantity: group.Quantity,
			Schemes:  group.Schemes, Steps: group.Steps, settle: group.Settle})
	}
	return rows
}

// framesOf is the frame numbers a coverage is limited to: by the claim, or by
// its mark when all of its variants have the same ones.
func (g answerer) framesOf(c queries.Coverage, limit measure.Frames) string {
	if !limit.IsZero() {
		return limit.String()
	}
	if c.Mark == "" {
		return ""
	}
	frames := g.variant(c.On[0]).Frames
	for _, id := range c.On[1:] {
		if g.variant(id).Frames != frames {
			return ""
		}
	}
	if frames.IsZero() {
		return ""
	}
	return frames.String()
}

func (g answerer) sortRows(rows []FitsRow) {
	if g.target != nil {
		slices.SortFunc(rows, compareRows)
		return
	}
	slices.SortFunc(rows, compareUse)
}

// settle names, for each contradicted row, the one measurement or look that
// would settle it; see settleRow.
func (g answerer) settle(ctx context.Context, rows []FitsRow) error {
	var ids []graph.PartID
	for _, row := range rows {
		if len(row.ContradictedBy) > 0 {
			ids = append(ids, row.Part)
		}
	}
	if len(ids) == 0 {
		return nil
	}
	read, err := g.r.Parts(ctx, lists.Unique(ids)...)
	if err != nil {
		return err
	}
	parts := lists.ByKey(read, func(p graph.Part) graph.PartID { return p.ID })
	for i := range rows {
		if len(rows[i].ContradictedBy) > 0 {
			part := parts[rows[i].Part]
			part.Features = evidence.Overlaid(part, graph.Kind{}, g.Findings)
			rows[i].Settle = g.settleRow(rows[i], part)
		}
	}
	return nil
}

// settleRow names what decides this very dispute: the number on the part where two
// lists differ; what one side measured, first where others give it differently; else
// nothing but to offer the part up.
func (g answerer) settleRow(row FitsRow, part graph.Part) string {
	var measured []graph.Measured
	for _, against := range row.ContradictedBy {
		if against.Verdict == graph.NoVerdict { // a list that names another part
			return fmt.Sprintf("read the number on the part at %s of an untouched machine", row.Position.Local())
		}
		if against.Via == evidence.ViaComputed {
			return cmp.Or(against.Settle, "offer the part up")
		}
		measured = append(measured, g.Evidence.Findings[graph.FindingID(against.Source.ID)].Measured...)
	}
	measured = append(measured, g.Evidence.Findings[graph.FindingID(row.Source.ID)].Measured...)
	if row.Via == evidence.ViaComputed {
		return cmp.Or(row.settle, "offer the part up")
	}
	if len(measured) == 0 {
		return fmt.Sprintf("offer %s up at %s and photograph it", row.Part, row.Position.Local())
	}
	at := max(0, slices.IndexFunc(measured, func(m graph.Measured) bool { return isGivenOtherwise(part, m) }))
	return evidence.MeasureText(part, measured[at].Feature, measured[at].Dim)
}

// measured holds what is said against measures, place by place; where no machine is named
// and the places are too many, it notes that none was. Of many whole machines together it
// holds those that doubtful names, and notes it. A kit has no measures of its own.
func (g answerer) measured(ctx context.Context, q FitsQuestion, said spots) error {
	if g.measures == nil {
		return nil
	}
	// What fits with changes only may well not fit as it is, but where safety hangs on it
	// and somebody's word is all there is, it must do so with some changes. What somebody
	// found not to fit there may be disputed by its measures.
	toHold := lists.Kept(slices.Clone(said.keys), func(at Spot) bool {
		_, isKit := g.kits[at.Part]
		v := g.variant(at.Variant)
		safety := g.Positions[at.Position].Safety
		j := g.judge(said.claims[at], &v, safety)
		return !isKit && (j.Verdict == graph.Fits ||
			j.Verdict != graph.Unknown && j.Via == evidence.ViaFinding && safety != graph.SafetyNone)
	})
	var err error
	if whole := q.Part == "" && q.Position == "" && q.Assembly == ""; whole && len(toHold) > mostOfMachine {
		all := len(toHold)
		if toHold, err = g.doubtful(ctx, toHold, said.claims); err != nil {
			return err
		}
		g.notFollowed = append(g.notFollowed, fmt.Sprintf("of %d places, on all these machines together, those alone "+
			"were held against measures where somebody measured otherwise than the book; name a model year", all))
	}
	if q.On == "" && len(toHold) > mostMeasured {
		g.leaveUnheld(toHold)
		return nil
	}
	for _, spot := range toHold {
		if err := ctx.Err(); err != nil {
			return err
		}
		if said.claims[spot], err = g.measures.Hold(ctx, spot, said.claims[spot]); err != nil {
			return err
		}
	}
	clear(g.judged) // more is known now of who says what
	return g.Evidence.Load(ctx, g.r, said.cites())
}

// doubtful are those places of a whole machine at which measures may say other than what
// sources say: the rest is what lists say of parts that, like all that they meet, measure
// what the book says.
func (g answerer) doubtful(ctx context.Context, spots []Spot, said map[Spot][]evidence.Claim) ([]Spot, error) {
	odd, err := g.measuredOtherwise(ctx)
	if err != nil {
		return nil, err
	}
	oddAt := map[graph.VariantID][]graph.PositionID{}
	for _, f := range g.Fitments {
		if odd[f.Part] {
			for _, v := range lists.Kept(slices.Clone(f.On), g.wants) {
				oddAt[v] = append(oddAt[v], f.Position)
			}
		}
	}
	meeting := map[graph.VariantID]map[graph.PositionID]bool{}
	for _, v := range lists.KeysOf(oddAt) {
		at, err := g.measures.Meeting(ctx, v, lists.Unique(oddAt[v]))
		if err != nil {
			return nil, err
		}
		meeting[v] = map[graph.PositionID]bool{}
		for _, id := range at {
			meeting[v][id] = true
		}
	}
	return lists.Kept(spots, func(at Spot) bool {
		return odd[at.Part] || meeting[at.Variant][at.Position] ||
			!slices.ContainsFunc(said[at], g.Evidence.IsListing)
	}), nil
}

// measuredOtherwise are the listed parts and those that were tried of which somebody
// measured what others give otherwise.
func (g answerer) measuredOtherwise(ctx context.Context) (map[graph.PartID]bool, error) {
	odd := map[graph.PartID]bool{}
	ids := lists.Mapped(g.Fitments, func(f graph.Fitment) graph.PartID { return f.Part })
	if len(ids) == 0 {
		return odd, nil
	}
	findings, err := g.r.FindingsOf(ctx, lists.Unique(ids)...)
	findings = lists.Kept(findings, func(f graph.Finding) bool { return len(f.Measured) > 0 && f.Withdrawn == "" })
	if err != nil || len(findings) == 0 {
		return odd, err
	}
	parts, err := g.r.Parts(ctx, lists.Unique(lists.Mapped(findings,
		func(f graph.Finding) graph.PartID { return f.Part }))...)
	if err != nil {
		return odd, err
	}
	for _, part := range parts {
		odd[part.ID] = slices.ContainsFunc(findings, func(f graph.Finding) bool {
			return f.Part == part.ID && slices.ContainsFunc(f.Measured, func(m graph.Measured) bool {
				return isNewOrOtherwise(part, m)
			})
		})
	}
	return odd, nil
}

// leaveUnheld notes that what is listed at so many places stands unmeasured.
func (g answerer) leaveUnheld(spots []Spot) {
	for _, at := range spots {
		if g.Positions[at.Position].Safety != graph.SafetyNone {
			g.notHeld++
		}
	}
	g.notFollowed = append(g.notFollowed, fmt.Sprintf("what is listed at %d places of machines was not held against "+
		"measures, as is done for up to %d; ask with --on MACHINE", len(spots), mostMeasured))
}

func countVerdicts(verdicts []graph.Verdict) []VerdictCount {
	counts := []VerdictCount{}
	for _, verdict := range []graph.Verdict{graph.Fits, graph.FitsWithChanges, graph.Unknown, graph.DoesNotFit} {
		n := 0
		for _, v := range verdicts {
			if v == verdict {
				n++
			}
		}
		if n > 0 {
			counts = append(counts, VerdictCount{Verdict: verdict, Rows: n})
		}
	}
	return counts
}

func listingLink(f graph.Fitment) evidence.Link {
	text := fmt.Sprintf("%s is listed at %s", f.Part, f.Position.Local())
	if f.Scheme != "" {
		text += " in scheme " + f.Scheme
	}
	return evidence.Link{Kind: evidence.StepFact, Text: text, WrongIf: evidence.WrongFact, Cites: f.Said}
}

// findingText is a finding as a step.
func findingText(f graph.Finding) string {
	text := fmt.Sprintf("%s: %s at %s %s", f.ID, f.Part, f.Position.Local(), f.Verdict)
	if f.By != "" {
		text += ", by " + f.By
	}
	if f.Method != "" {
		text += ", " + string(f.Method)
	}
	if f.Note != "" {
		text += ": " + f.Note
	}
	return text
}
