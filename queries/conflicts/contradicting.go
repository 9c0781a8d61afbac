package conflicts

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/fits"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/swap"
)

// contradicting gathers contradictions, as far as they are asked about.
type contradicting struct {
	q         ConflictsQuestion
	library   *machine.Library
	machines  *queries.Machines         // nil for all
	part      graph.PartID              // empty for all
	places    map[graph.PositionID]bool // nil for all
	models    []graph.ModelID
	positions map[graph.PositionID]graph.Position // of the models
	listed    map[graph.PartID][]graph.Fitment    // of the parts that are asked about
	parts     []graph.PartID                      // those asked about, sorted
	siblings  queries.Universe                    // all variants of the models
	rows      []ConflictRow

	held, notHeld int // parts at places, against the measures
}

func newContradicting(ctx context.Context, r graph.Reader, q ConflictsQuestion) (*contradicting, error) {
	c := &contradicting{q: q, library: machine.NewLibrary(r), positions: map[graph.PositionID]graph.Position{},
		listed: map[graph.PartID][]graph.Fitment{}}
	for _, step := range []func(context.Context) error{c.readMachines, c.readPlaces, c.readAsked} {
		if err := step(ctx); err != nil {
			return nil, err
		}
	}
	return c, nil
}

func (c *contradicting) r() graph.Reader { return c.library.Reader() }

func (c *contradicting) readMachines(ctx context.Context) error {
	if c.q.On != "" {
		m, err := queries.MachinesFor(ctx, c.r(), queries.MachineQuestion{On: c.q.On, Market: c.q.Market, Frame: c.q.Frame})
		if err != nil {
			return err
		}
		c.machines, c.models = &m, []graph.ModelID{m.Model}
	} else {
		models, err := c.r().Models(ctx)
		if err != nil {
			return err
		}
		c.models = lists.Mapped(models, func(m graph.Model) graph.ModelID { return m.ID })
	}
	var err error
	c.siblings, err = queries.SiblingsOf(ctx, c.r(), c.models)
	return err
}

// readPlaces reads the positions of the models, and which of them are asked
// about.
func (c *contradicting) readPlaces(ctx context.Context) error {
	all, err := c.r().PositionsOf(ctx, c.models...)
	if err != nil {
		return err
	}
	for _, p := range all {
		c.positions[p.ID] = p
	}
	if c.q.Position == "" {
		return nil
	}
	c.places = map[graph.PositionID]bool{}
	var fault error
	for _, model := range c.models {
		p, err := queries.PositionFor(ctx, c.r(), model, c.q.Position)
		var missing *queries.NotFoundError
		switch {
		case err == nil:
			c.places[p.ID] = true
		case !errors.As(err, &missing):
			return err
		case fault == nil || len(missing.Near) > 0:
			fault = err
		}
	}
	if len(c.places) == 0 {
		return fault
	}
	return nil
}

// readAsked reads which parts are asked about, and where they are listed.
func (c *contradicting) readAsked(ctx context.Context) error {
	var fitments []graph.Fitment
	var err error
	switch {
	case c.q.Part != "":
		if c.part, err = queries.PartFor(ctx, c.r(), c.q.Part); err != nil {
			return err
		}
		c.parts = []graph.PartID{c.part}
		fitments, err = c.r().FitmentsOf(ctx, c.part)
	case c.machines != nil || c.places != nil:
		fitments, err = c.readThere(ctx)
	default:
		if c.parts, err = c.r().PartIDs(ctx); err == nil {
			fitments, err = c.r().FitmentsOf(ctx, c.parts...)
		}
	}
	if err != nil {
		return err
	}
	for _, f := range fitments {
		c.listed[f.Part] = append(c.listed[f.Part], f)
	}
	if err := c.library.ReadParts(ctx, c.parts); err != nil {
		return err
	}
	if c.machines != nil || c.places != nil {
		c.parts = lists.Kept(c.parts, func(id graph.PartID) bool { return len(c.placesOf(id)) > 0 })
	}
	return nil
}

// readThere reads what is listed at the places asked about, and names the parts
// that are listed or were tried there.
func (c *contradicting) readThere(ctx context.Context) (fitments []graph.Fitment, err error) {
	places := lists.KeysOf(c.places)
	if c.places == nil {
		places = lists.KeysOf(c.positions)
		fitments, err = c.r().FitmentsOn(ctx, c.machines.IDs()...)
	} else {
		fitments, err = c.r().FitmentsAt(ctx, places...)
	}
	if err != nil {
		return nil, err
	}
	findings, err := c.r().FindingsAt(ctx, places...)
	if err != nil {
		return nil, err
	}
	for _, f := range fitments {
		c.parts = append(c.parts, f.Part)
	}
	for _, f := range findings {
		c.parts = append(c.parts, f.Part)
	}
	c.parts = lists.Unique(c.parts)
	return fitments, nil
}

// wants reports whether a place on some variants is asked about.
func (c *contradicting) wants(at graph.PositionID, on []graph.VariantID) bool {
	if c.places != nil && !c.places[at] {
		return false
	}
	return c.machines == nil || slices.ContainsFunc(on, c.machines.Has)
}

// placesOf are the places asked about where a part is listed or was tried,
// sorted.
func (c *contradicting) placesOf(id graph.PartID) []graph.PositionID {
	var at []graph.PositionID
	for _, f := range c.listed[id] {
		if c.wants(f.Position, f.On) {
			at = append(at, f.Position)
		}
	}
	for _, f := range c.library.FindingsOf(id) {
		if f.Position != "" && f.Withdrawn == "" && c.wants(f.Position, f.On) {
			at = append(at, f.Position)
		}
	}
	return lists.Unique(at)
}

// safetyAt are the safety classes of places, in the order printed.
func (c *contradicting) safetyAt(at []graph.PositionID) []graph.Safety {
	return lists.Kept(graph.SafetyClasses(), func(s graph.Safety) bool {
		return slices.ContainsFunc(at, func(id graph.PositionID) bool { return c.positions[id].Safety == s })
	})
}

// voicesOf are the sides of readings that contradict one another, the best
// first; open is true when the best does not outrank the next. A side that only
// repeats, wrongly, what the best one says first hand decides nothing.
func (c *contradicting) voicesOf(groups []evidence.ValueGroup) (sides []ConflictVoices, open bool) {
	for _, g := range groups {
		says := lists.Unique(lists.Mapped(g.Readings, func(r graph.Reading) string { return r.Text }))
		sides = append(sides, ConflictVoices{Says: strings.Join(says, ", "), Rank: evidence.Together(g.Voices),
			Sources: evidence.Distinct(g.Voices)})
	}
	open = sides[0].Rank == sides[1].Rank && !groups[0].Outvotes(groups[1]) &&
		!onlyRepeats(groups[1].Voices, groups[0].Voices)
	return sides, open
}

// settledBy says what settles readings of a dimension. Where people measured on both
// sides one more measurement may not: then it says how many stand on each, and how
// many more would do.
func settledBy(measure string, groups []evidence.ValueGroup) string {
	best, next := groups[0], groups[1]
	if evidence.Together(next.Voices) != evidence.RankMeasured {
		return measure
	}
	says := func(g evidence.ValueGroup) string {
		n, verb := len(g.FirstHand()), "say"
		if n == 1 {
			verb = "says"
		}
		return fmt.Sprintf("%d %s %s", n, verb, g.Readings[0].Text)
	}
	text := fmt.Sprintf("first hand, %s and %s; ", says(best), says(next))
	if more := best.MoreToOutvote(next); more > 0 {
		text += fmt.Sprintf("%d more by others who find %s would settle it: %s; or ", more, best.Readings[0].Text, measure)
	}
	return text + "let who misread measure again and withdraw the wrong one of " + strings.Join(measuredIn(groups), ", ")
}

// measuredIn names what was measured for each of the values.
func measuredIn(groups []evidence.ValueGroup) []string {
	var all []string
	for _, g := range groups {
		for _, v := range g.FirstHand() {
			if v.Rank == evidence.RankMeasured {
				all = append(all, v.ID)
			}
		}
	}
	return all
}

func onlyRepeats(voices, first []evidence.Source) bool {
	return !slices.ContainsFunc(voices, func(v evidence.Source) bool {
		return v.ReprintOf == "" || !slices.ContainsFunc(first, func(f evidence.Source) bool { return !f.IsApart(v) })
	})
}

// claims finds findings, lists and supersessions that contradict one another
// about a part at a position, as the answers to "fits" weigh them.
func (c *contradicting) claims(ctx context.Context) error {
	groups := map[string]*ConflictRow{}
	for _, model := range c.models {
		q := fits.FitsQuestion{Part: string(c.part), On: string(model), Market: c.q.Market, Frame: c.q.Frame}
		if c.machines != nil {
			q.On = c.q.On
		}
		a, err := fits.Said(ctx, c.r(), q) // what the measures come to is a sort of its own
		if err != nil {
			return err
		}
		for _, row := range a.Rows {
			if len(row.ContradictedBy) > 0 && (c.places == nil || c.places[row.Position]) && !c.mirrored(row) {
				joinConflict(groups, claimConflict(row))
			}
		}
	}
	for _, key := range lists.KeysOf(groups) {
		c.rows = append(c.rows, *groups[key])
	}
	return nil
}

// mirrored reports whether a row about lists that name different parts is shown
// from the other part's side: from that of the better voice, of equals from
// that of the first number.
func (c *contradicting) mirrored(row fits.FitsRow) bool {
	if c.part != "" || row.Via != evidence.ViaListed {
		return false
	}
	return !slices.ContainsFunc(row.ContradictedBy, func(against evidence.Contradiction) bool {
		return against.Lists == "" || row.Source.Rank > against.Source.Rank ||
			row.Source.Rank == against.Source.Rank && row.Part < against.Lists
	})
}

// suspect is a part that somebody says fits a place, and the first machine asked
// about that it is said of.
type suspect struct {
	fits.Spot
	findings []graph.Finding
	listings []graph.Fitment
}

// computed finds findings that say "fits", and lists that name a part, where the
// measures say that it does not. The other way round is a contradiction only where safety
// hangs on it, and somebody had the part in hand: else a part whose measures all mate may
// still not fit for something that nobody measured.
func (c *contradicting) computed(ctx context.Context) error {
	suspects, err := c.suspects(ctx)
	if err != nil {
		return err
	}
	c.held = len(suspects)
	measured := swap.NewMeasured(c.library)
	for _, key := range lists.KeysOf(suspects) {
		s := suspects[key]
		failing, err := measured.No(ctx, s.Spot)
		if err != nil {
			return err
		}
		if len(failing) > 0 {
			c.rows = append(c.rows, c.computedConflict(*s, failing))
		}
	}
	return c.refused(ctx, measured)
}

// refused finds parts that somebody found by hand not to fit at a place with a safety
// class, where all that was worked out there fits.
func (c *contradicting) refused(ctx context.Context, measured *swap.Measured) error {
	told := map[string]bool{}
	for _, id := range c.parts {
		for _, f := range c.library.FindingsOf(id) {
			if f.Withdrawn != "" || f.Verdict != graph.DoesNotFit || f.Position == "" || len(f.On) == 0 ||
				!c.wants(f.Position, f.On) || told[string(f.Position)+" "+string(id)] {
				continue
			}
			at := fits.Spot{Part: id, Position: f.Position, Variant: c.firstOf(f.On)}
			disputed, err := measured.Disputes(ctx, at, f)
			if err != nil {
				return err
			}
			if disputed {
				told[string(f.Position)+" "+string(id)] = true
				c.rows = append(c.rows, c.refusedConflict(at, f))
			}
		}
	}
	return nil
}

func (c *contradicting) refusedConflict(s fits.Spot, f graph.Finding) ConflictRow {
	at := []graph.PositionID{s.Position}
	voice := c.library.Evidence().FindingVoice(f)
	id := swap.SwapID{On: string(s.Variant), Swaps: []swap.Replacement{{Position: s.Position.Local(),
		Part: string(s.Part)}}}
	return ConflictRow{Sort: ConflictComputed, About: fmt.Sprintf("%s at %s", s.Part, s.Position), Part: s.Part, At: at,
		Safety: c.safetyAt(at), Covers: string(s.Variant), Open: true, AnswerID: id.String(),
		Settle: fmt.Sprintf("put %s to its place, see what keeps it out, and photograph it", s.Part),
		Sides: []ConflictVoices{{Says: f.Verdict.String() + ": " + evidence.FindingWhy(f), Rank: voice.Rank,
			Sources: []evidence.Source{voice}}, {Says: "computed: by all that was worked out it fits"}},
		settle: settling{part: s.Part, at: at, measured: true}}
}

// suspects are what is worth holding against measures: parts that somebody tried,
// listed ones that somebody measured, and lines whose path somebody measured.
// What is listed and was measured by nobody but its maker is only where a machine or a
// part is asked about, as fits does then.
func (c *contradicting) suspects(ctx context.Context) (map[string]*suspect, error) {
	all, left := map[string]*suspect{}, map[string]bool{}
	at := func(part graph.PartID, position graph.PositionID, on []graph.VariantID) *suspect {
		key := fmt.Sprintf("%s %s", position, part)
		if all[key] == nil {
			all[key] = &suspect{Spot: fits.Spot{Part: part, Position: position, Variant: c.firstOf(on)}}
		}
		return all[key]
	}
	paths, err := c.measuredPaths(ctx)
	if err != nil {
		return nil, err
	}
	for _, id := range c.parts {
		measured := false
		for _, f := range c.library.FindingsOf(id) {
			measured = measured || len(f.Measured) > 0 && f.Withdrawn == ""
			if f.Withdrawn == "" && f.Verdict == graph.Fits && f.Position != "" && len(f.On) > 0 && c.wants(f.Position, f.On) {
				s := at(id, f.Position, f.On)
				s.findings = append(s.findings, f)
			}
		}
		for _, f := range c.listed[id] {
			switch {
			case !c.wants(f.Position, f.On):
			case measured || paths[f.Position] || c.machines != nil || c.part != "":
				s := at(id, f.Position, f.On)
				s.listings = append(s.listings, f)
			default:
				left[fmt.Sprintf("%s %s", f.Position, id)] = true
			}
		}
	}
	for key := range left {
		if all[key] == nil {
			c.notHeld++
		}
	}
	return all, nil
}

// firstOf is the first of some machines that is asked about.
func (c *contradicting) firstOf(on []graph.VariantID) graph.VariantID {
	if i := slices.IndexFunc(on, func(v graph.VariantID) bool { return c.machines != nil && c.machines.Has(v) }); i >= 0 {
		return on[i]
	}
	return on[0]
}

// measuredPaths are the lines whose path somebody measured on a machine.
func (c *contradicting) measuredPaths(ctx context.Context) (map[graph.PositionID]bool, error) {
	runs, err := c.r().RunsOf(ctx, c.models...)
	if err != nil {
		return nil, err
	}
	cites := map[graph.PositionID][]graph.Cite{}
	var all []graph.Cite
	for _, run := range runs {
		for _, need := range run.Needs {
			for _, r := range need.Length {
				cites[run.Line], all = append(cites[run.Line], r.Cite), append(all, r.Cite)
			}
		}
	}
	if err := c.library.Evidence().Load(ctx, c.r(), all); err != nil {
		return nil, err
	}
	paths := map[graph.PositionID]bool{}
	for line, said := range cites {
		paths[line] = slices.ContainsFunc(c.library.Evidence().Voices(said, nil),
			func(v evidence.Source) bool { return v.Rank == evidence.RankMeasured })
	}
	return paths, nil
}

func (c *contradicting) computedConflict(s suspect, failing []examine.Outcome) ConflictRow {
	at := []graph.PositionID{s.Position}
	id := swap.SwapID{On: string(s.Variant), Swaps: []swap.Replacement{{Position: s.Position.Local(),
		Part: string(s.Part)}}, Outcome: swap.OutcomeName(failing[0])}
	row := ConflictRow{Sort: ConflictComputed, About: fmt.Sprintf("%s at %s", s.Part, s.Position), Part: s.Part, At: at,
		Safety: c.safetyAt(at), Covers: string(s.Variant), Open: true, Settle: swap.SettleBy(failing[0]),
		AnswerID: id.String(),
		settle:   settling{part: s.Part, at: at, measured: true}}
	row.Sides = c.saidOf(s)
	for _, o := range failing {
		row.Sides = append(row.Sides, ConflictVoices{Says: fmt.Sprintf("computed: %s at %s: %s", o.After,
			queries.LocalName(o.ID), o.Why)})
	}
	return row
}

// saidOf are the sides that say a part fits: what was found, and what is listed.
func (c *contradicting) saidOf(s suspect) []ConflictVoices {
	var sides []ConflictVoices
	if len(s.findings) > 0 {
		voices := lists.Mapped(s.findings, c.library.Evidence().FindingVoice)
		slices.SortFunc(voices, evidence.CompareSources)
		best := c.library.Evidence().Findings[graph.FindingID(voices[0].ID)]
		sides = append(sides, ConflictVoices{Says: graph.Fits.String() + ": " + evidence.FindingWhy(best),
			Rank: evidence.Together(voices), Sources: evidence.Distinct(voices)})
	}
	if len(s.listings) > 0 {
		var cites []graph.Cite
		for _, f := range s.listings {
			cites = append(cites, f.Said...)
		}
		voices := c.library.Evidence().Voices(cites, nil)
		sides = append(sides, ConflictVoices{Says: graph.Fits.String() + ": listed here", Rank: evidence.Together(voices),
			Sources: evidence.Distinct(voices)})
	}
	slices.SortStableFunc(sides, func(a, b ConflictVoices) int { return cmp.Compare(b.Rank, a.Rank) })
	return sides
}

// costs fills in what it takes to settle each conflict: nothing for a part that
// lies loose in a box of the user's, hand tools for one that must come off.
func (c *contradicting) costs(ctx context.Context) error {
	bikes, err := c.r().Bikes(ctx)
	if err != nil {
		return err
	}
	loose := map[graph.PartID]string{}
	for _, bike := range bikes {
		for _, box := range bike.Boxes {
			for _, item := range box.Items {
				if _, have := loose[item.Part]; !have {
					loose[item.Part] = fmt.Sprintf("it lies loose in %s of %s", box.Name, bike.ID)
				}
			}
		}
	}
	above := c.above()
	for i := range c.rows {
		c.rows[i].Cost = costOf(c.rows[i].settle, loose, above)
	}
	return nil
}

// above gives, for a position, the positions that can only be fitted once it is
// on.
func (c *contradicting) above() map[graph.PositionID][]graph.PositionID {
	above := map[graph.PositionID][]graph.PositionID{}
	for _, id := range lists.KeysOf(c.positions) {
		for _, below := range c.positions[id].After {
			above[below] = append(above[below], id)
		}
	}
	return above
}

// joints finds torques of one joint that contradict one another.
func (c *contradicting) joints(ctx context.Context) error {
	joints, err := c.r().JointsOf(ctx, c.models...)
	if err != nil {
		return err
	}
	for _, j := range joints {
		if len(j.Torque) < 2 {
			continue
		}
		at := append([]graph.PositionID{j.A.Position, j.B.Position}, j.Fasteners...)
		row := ConflictRow{Sort: ConflictTorque, About: "torque of " + string(j.ID),
			Settle: lookUpTorque(string(j.Model)), settle: lookedUp}
		if err := c.readings(ctx, row, torqueSpec(), j.Torque, at, j.On); err != nil {
			return err
		}
	}
	return nil
}

// runs finds lengths for one run that contradict one another.
func (c *contradicting) runs(ctx context.Context) error {
	runs, err := c.r().RunsOf(ctx, c.models...)
	if err != nil {
		return err
	}
	length := graph.DimSpec{Name: "length", Type: measure.Length, Accuracy: "5 mm"} // a path is taken with a tape
	for _, run := range runs {
		at := []graph.PositionID{run.Line}
		tape := settling{look: "a tape along the path, nothing comes off"}
		for _, need := range run.Needs {
			row := ConflictRow{Sort: ConflictRun, About: fmt.Sprintf("length that %s needs, lock %s, fork %s", run.ID, need.Lock,
				need.Fork),
				Settle: fmt.Sprintf("lay a tape along the path of %s, lock %s, fork %s", run.Line.Local(), need.Lock, need.Fork),
				settle: tape}
			if err := c.readings(ctx, row, length, need.Length, at, run.On); err != nil {
				return err
			}
		}
		row := ConflictRow{Sort: ConflictRun, About: "free inner length that " + string(run.ID) + " needs",
			Settle: "measure the free inner length of " + run.Line.Local() + " with a tape", settle: tape}
		if err := c.readings(ctx, row, length, run.Inner, at, run.On); err != nil {
			return err
		}
	}
	return nil
}

// readings adds the row when readings of something at some places contradict
// one another and it is asked about.
func (c *contradicting) readings(ctx context.Context, row ConflictRow, spec graph.DimSpec, readings []graph.Reading,
	at []graph.PositionID, on []graph.VariantID) error {
	if len(readings) < 2 || !slices.ContainsFunc(at, func(id graph.PositionID) bool { return c.wants(id, on) }) ||
		!c.sitsAt(at) {
		return nil
	}
	if err := c.library.Evidence().Load(ctx, c.r(), lists.Mapped(readings,
		func(r graph.Reading) graph.Cite { return r.Cite })); err != nil {
		return err
	}
	voices := c.library.Evidence()
	if len(voices.ValueGroups(spec, readings, nil)) < 2 {
		return nil
	}
	variants, err := c.r().Variants(ctx, on...)
	if err != nil {
		return err
	}
	readings, on = together(voices, spec, readings, variants)
	if len(on) == 0 {
		return nil
	}
	groups := voices.ValueGroups(spec, readings, nil)
	row.At = lists.Unique(slices.Clone(at))
	row.Safety = c.safetyAt(row.At)
	row.Sides, row.Open = c.voicesOf(groups)
	for _, cover := range queries.CoveragesOf(on, c.siblings) {
		row.Covers = joinText(row.Covers, string(cover.Model)+" "+cover.String())
	}
	c.rows = append(c.rows, row)
	return nil
}

// together are the readings that contradict one another on one and the same variant, and
// those variants: a manual for the years before does not contradict one for the years since.
func together(voices *evidence.Evidence, spec graph.DimSpec, readings []graph.Reading,
	variants []graph.Variant) (clashing []graph.Reading, on []graph.VariantID) {
	speaks := map[graph.Reading]bool{}
	for _, v := range variants {
		here := voices.Holding(readings, v)
		if len(voices.ValueGroups(spec, here, nil)) < 2 {
			continue
		}
		on = append(on, v.ID)
		for _, r := range here {
			speaks[r] = true
		}
	}
	return lists.Kept(slices.Clone(readings), func(r graph.Reading) bool { return speaks[r] }), on
}

// sitsAt reports whether the part asked about is listed or was tried at one of
// the places; true when no part is asked about.
func (c *contradicting) sitsAt(at []graph.PositionID) bool {
	return c.part == "" || slices.ContainsFunc(c.placesOf(c.part),
		func(id graph.PositionID) bool { return slices.Contains(at, id) })
}

// dimensions finds readings of one dimension of a part that contradict one
// another, those of findings among them.
func (c *contradicting) dimensions(context.Context) error {
	for _, id := range c.parts {
		part, ok := c.library.Ranked(id, nil)
		if !ok {
			continue
		}
		for _, f := range part.Features {
			kind, _ := graph.FeatureKindNamed(f.Kind)
			for _, name := range lists.KeysOf(f.Dims) {
				spec, _ := kind.Dim(name)
				groups := c.library.Evidence().ValueGroups(spec, f.Dims[name], nil)
				if len(groups) < 2 {
					continue
				}
				at := c.placesOf(id)
				row := ConflictRow{Sort: ConflictDimension, About: fmt.Sprintf("%s of %s of %s", name, f.Name, id), Part: id,
					At:     at,
					Safety: c.safetyAt(at), Settle: settledBy(evidence.MeasureText(part, f.Name, name), groups),
					settle: settling{part: id, at: at, measured: true, look: inPlace[f.Kind+"."+name]}}
				if spec.Type == measure.Torque {
					row.Settle, row.settle = lookUpTorque(string(id)), lookedUp
				}
				row.Sides, row.Open = c.voicesOf(groups)
				c.rows = append(c.rows, row)
			}
		}
	}
	return nil
}

// lookUpTorque says how to settle which torque is right of a part, or on a model.
func lookUpTorque(of string) string {
	return "read the maker's manual for " + of + ": a torque is looked up, not measured"
}

var lookedUp = settling{look: "a look into the manual"}

// supersessions finds edges between two parts that state different directions
// for machines that both cover, and edges that lead both ways.
func (c *contradicting) supersessions(ctx context.Context) error {
	edges, err := c.r().SupersessionsOf(ctx, c.parts...)
	if err != nil {
		return err
	}
	var cites []graph.Cite
	for _, e := range edges {
		cites = append(cites, e.Said...)
	}
	if err := c.library.Evidence().Load(ctx, c.r(), cites); err != nil {
		return err
	}
	between := map[string][]graph.Supersession{}
	for _, e := range edges {
		ends := string(min(e.Old, e.New)) + "\x00" + string(max(e.Old, e.New))
		between[ends] = append(between[ends], e)
	}
	for _, ends := range lists.KeysOf(between) {
		c.supersessionsBetween(between[ends])
	}
	return nil
}

// supersessionsBetween compares the edges between two parts.
func (c *contradicting) supersessionsBetween(edges []graph.Supersession) {
	for i, a := range edges {
		for _, b := range edges[i+1:] {
			if a.Old == b.Old && a.New == b.New && scopesMeet(a.Scope, b.Scope) {
				c.direction(a, b, a.New, a.Old, a.NewOnOld, b.NewOnOld)
				c.direction(a, b, a.Old, a.New, a.OldOnNew, b.OldOnNew)
			}
			if a.Old == b.New && a.New == b.Old && scopesMeet(a.Scope, b.Scope) {
				c.bothWays(a, b)
			}
		}
	}
}

func (c *contradicting) direction(a, b graph.Supersession, part, on graph.PartID, x, y graph.Usable) {
	if x == graph.NotStated || y == graph.NotStated || x == y {
		return
	}
	c.dispute(a, b, fmt.Sprintf("%s in the place of %s", part, on), x.String(), y.String(), part, on)
}

func (c *contradicting) bothWays(a, b graph.Supersession) {
	c.dispute(a, b, fmt.Sprintf("which of %s and %s is the newer", a.Old, a.New),
		fmt.Sprintf("%s took the place of %s", a.New, a.Old), fmt.Sprintf("%s took the place of %s", b.New, b.Old), a.New,
		a.Old)
}

func (c *contradicting) dispute(a, b graph.Supersession, about, saysA, saysB string, part, on graph.PartID) {
	at := lists.Unique(append(c.placesOf(part), c.placesOf(on)...))
	row := ConflictRow{Sort: ConflictSupersession, About: about, Part: part, At: at, Safety: c.safetyAt(at),
		Settle: fmt.Sprintf("offer %s up where %s sits, or look for a later bulletin", part, on),
		settle: settling{part: part, at: at}}
	for _, s := range []struct {
		says string
		said []graph.Cite
	}{{saysA, a.Said}, {saysB, b.Said}} {
		voices := c.library.Evidence().Voices(s.said, nil)
		row.Sides = append(row.Sides, ConflictVoices{Says: s.says, Rank: evidence.Together(voices),
			Sources: evidence.Distinct(voices)})
	}
	row.Open = row.Sides[0].Rank == row.Sides[1].Rank
	if row.Sides[1].Rank > row.Sides[0].Rank {
		slices.Reverse(row.Sides)
	}
	c.rows = append(c.rows, row)
}

func joinText(a, b string) string {
	if a == "" {
		return b
	}
	return a + "; " + b
}

// scopesMeet reports whether some machine may be in both scopes.
func scopesMeet(a, b graph.Scope) bool {
	shared := func(x, y []string) bool {
		return len(x) == 0 || len(y) == 0 || slices.ContainsFunc(x, func(s string) bool { return slices.Contains(y, s) })
	}
	years := a.Years.IsZero() || b.Years.IsZero() || a.Years.Overlaps(b.Years)
	frames := a.Frames.IsZero() || b.Frames.IsZero() || a.Frames.Overlaps(b.Frames)
	return years && frames && shared(a.Markets, b.Markets) && shared(a.Marks, b.Marks)
}

// torqueSpec is what torques of joints are read as.
func torqueSpec() graph.DimSpec { return graph.DimSpec{Name: "torque", Type: measure.Torque} }
