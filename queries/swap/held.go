package swap

import (
	"cmp"
	"context"
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
)

// Fits is fits.Fits with what sources say of a part held against what Judge makes of
// it at the place on the machine as built, so that no list calls a part fitting that
// measures itself out of its place.
func Fits(ctx context.Context, r graph.Reader, q fits.FitsQuestion) (fits.FitsAnswer, error) {
	h := NewMeasured(machine.NewLibrary(r))
	return fits.Held(ctx, h.library.Reader(), q, h)
}

// Measured holds parts against what is measured on machines as built. Each machine is
// read, and judged as it was, once.
type Measured struct {
	library *machine.Library
	built   map[graph.VariantID]*examine.Before // nil for a variant that nobody recorded
	known   examine.Decided                     // most variants of a model are alike around most places
}

// NewMeasured reads by a library.
func NewMeasured(l *machine.Library) *Measured {
	return &Measured{library: l, built: map[graph.VariantID]*examine.Before{}, known: examine.Decided{}}
}

func (h *Measured) asBuilt(ctx context.Context, id graph.VariantID) (*examine.Before, error) {
	if s, have := h.built[id]; have {
		return s, nil
	}
	variants, err := h.library.Reader().Variants(ctx, id)
	if err != nil {
		return nil, err
	}
	var before *examine.Before
	if len(variants) > 0 {
		before = examine.From(machine.StartIn(h.library, variants[0], ""))
	}
	h.built[id] = before
	return before, nil
}

// measured is what a part comes to at a place of a machine as built by what it and all
// that it meets measure: of Judge what can say no, and neither what is said of it nor what
// it has not earned. Built is nil for a machine that nobody recorded.
func (h *Measured) measured(ctx context.Context, at fits.Spot) (t Tried, built *machine.Setup, err error) {
	before, err := h.asBuilt(ctx, at.Variant)
	if err != nil || before == nil {
		return t, nil, err
	}
	built = before.Setup()
	after, err := built.With(ctx, map[graph.PositionID]graph.PartID{at.Position: at.Part})
	if err != nil {
		return t, built, err
	}
	examiner, err := examine.NewExaminerUnclassed(ctx, before, after)
	if err != nil {
		return t, built, err
	}
	x := judgingBy(examiner, nil)
	all, err := x.met(ctx, measuredScope(h.known))
	if err == nil && len(built.Library().FindingsOf(at.Part)) > 0 && all.Verdict() != graph.DoesNotFit {
		_, err = x.earn(ctx, &all, false)
	}
	return all.Tried, built, err
}

// No judges a part at a place of a machine as built, and gives what it does not meet
// there by what is measured; of one that is built in there also what it would only meet
// altered, or with something between.
func (h *Measured) No(ctx context.Context, at fits.Spot) ([]examine.Outcome, error) {
	t, built, err := h.measured(ctx, at)
	if err != nil || built == nil {
		return nil, err
	}
	off, err := h.listedOff(ctx, at, t, built)
	return append(measuredNo(at, t), off...), err
}

// Meeting is that of fits.Measures.
func (h *Measured) Meeting(ctx context.Context, on graph.VariantID, at []graph.PositionID) ([]graph.PositionID, error) {
	before, err := h.asBuilt(ctx, on)
	if err != nil || before == nil {
		return at, err
	}
	c, err := examine.ConnectionsUnclassed(ctx, before.Setup(), at)
	if err != nil {
		return nil, err
	}
	return append(c.Positions(), at...), nil
}

// Hold is that of fits.Measures.
func (h *Measured) Hold(ctx context.Context, at fits.Spot, said []evidence.Claim) ([]evidence.Claim, error) {
	usable := slices.ContainsFunc(said, func(c evidence.Claim) bool { return c.Verdict <= graph.FitsWithChanges })
	if !usable && !slices.ContainsFunc(said, func(c evidence.Claim) bool { return c.Via == evidence.ViaFinding }) {
		return said, nil // nobody calls it usable, and nobody tried it
	}
	t, built, err := h.measured(ctx, at)
	if err != nil || built == nil {
		return said, err
	}
	if !usable {
		return h.disputing(at, t, built, said), nil
	}
	failing := measuredNo(at, t)
	if slices.ContainsFunc(said, func(c evidence.Claim) bool { return c.Via == evidence.ViaKit }) {
		// The place is its kit's.
		failing = lists.Kept(failing, func(o examine.Outcome) bool { return o.What != examine.OfKind })
	}
	no, ok := computedNo(at, t, failing)
	if !ok {
		return h.leftOpen(ctx, at, t, built, said)
	}
	has := func(v graph.Verdict) bool {
		return slices.ContainsFunc(said, func(c evidence.Claim) bool { return c.Verdict == v })
	}
	if has(graph.FitsWithChanges) {
		switch closes, err := h.closes(ctx, at); {
		case err != nil || closes && !has(graph.Fits):
			return said, err // it fits with changes, as they say
		case !closes:
			return doubted(said, "but as the machine is built: "+no.Why, graph.Fits, graph.FitsWithChanges), nil
		}
	}
	said, err = h.conditional(ctx, built, failing, said)
	return append(said, no), err
}

// closes reports whether something can be got, made or altered so that a part that does
// not mate at a place as it is no longer does not fit.
func (h *Measured) closes(ctx context.Context, at fits.Spot) (bool, error) {
	stood, err := h.asBuilt(ctx, at.Variant)
	if err != nil {
		return false, err
	}
	after, err := stood.Setup().With(ctx, map[graph.PositionID]graph.PartID{at.Position: at.Part})
	if err != nil {
		return false, err
	}
	a, err := answer(ctx, stood, after, Asked{Ready: true, Unnamed: true})
	return a.Then != nil && a.Then.Verdict != graph.DoesNotFit, err
}

// doubted makes unknown what is said with some verdicts, and says why.
func doubted(said []evidence.Claim, why string, verdicts ...graph.Verdict) []evidence.Claim {
	return lists.Mapped(said, func(c evidence.Claim) evidence.Claim {
		if !slices.Contains(verdicts, c.Verdict) {
			return c
		}
		return doubt(c, why)
	})
}

// doubt makes a claim unknown: what it says beside its verdict stays, with what stands
// against that.
func doubt(c evidence.Claim, why string) evidence.Claim {
	words := []string{}
	for _, text := range append(lists.Mapped(c.Changes, func(c evidence.Change) string { return c.Do }), c.Why, why) {
		if text != "" && !slices.Contains(words, text) {
			words = append(words, text)
		}
	}
	c.Verdict, c.Changes, c.Why = graph.Unknown, nil, strings.Join(words, "; ")
	return c
}

// leftOpen takes what people say fits as it is, and no list of this machine has there, for
// unknown where what was worked out differs from the machine as built, and no rule says how
// much of that it stands: they say that it went on, and not that all is as before. What nobody
// recorded is answered by their word, but at a place with a safety class by no seller's.
func (h *Measured) leftOpen(ctx context.Context, at fits.Spot, t Tried, built *machine.Setup, said []evidence.Claim,
) ([]evidence.Claim, error) {
	// Whatever the rank of who lists it, and whoever found that it does not go.
	if why := differingOn(at.Part, t); len(why) > 0 {
		return lists.Mapped(said, func(c evidence.Claim) evidence.Claim {
			if c.Verdict > graph.FitsWithChanges && c.Via != evidence.ViaFinding {
				return c
			}
			return doubt(c, strings.Join(why, "; "))
		}), nil
	}
	if slices.ContainsFunc(said, h.library.Evidence().IsListing) {
		off, err := h.listedOff(ctx, at, t, built)
		return doubtedBy(said, off), err
	}
	why := workedOutOpen(t)
	isSure := built.SafetyAt(at.Position) == graph.SafetyNone || isFitting(t.Outcomes, t.Numbers, at.Position)
	return lists.Mapped(said, func(c evidence.Claim) evidence.Claim {
		open := why
		if !isSure && h.isSellers(c) {
			open = append(slices.Clone(why), "a seller's word alone, and not all of it was judged")
		}
		if c.Verdict == graph.Fits && len(open) > 0 {
			c = doubt(c, strings.Join(open, "; "))
			c.Settle = cmp.Or(c.Settle, fmt.Sprintf("ask swap %s=%s what to look at", at.Position.Local(), at.Part))
		}
		return c
	}), nil
}

// listedOff are the outcomes by which a part that is built in where a list has it does not
// mate as it is: then the list is wrong, or what was measured. A left and a right are held
// against one another as built, and what is only held against itself as built against
// nothing that was.
func (h *Measured) listedOff(ctx context.Context, at fits.Spot, t Tried, built *machine.Setup,
) ([]examine.Outcome, error) {
	if built.PartIDAt(at.Position) != at.Part {
		return nil, nil
	}
	off := lists.Kept(slices.Clone(t.Outcomes), func(o examine.Outcome) bool {
		switch {
		case slices.Contains([]string{examine.OfWord, examine.OfFinish, examine.OfPlace}, o.What):
			return false
		case o.After == graph.Unknown:
			return slices.ContainsFunc(o.Checks, isOff)
		}
		return o.After == graph.FitsWithChanges || o.After == graph.DoesNotFit && o.What == examine.OfPair
	})
	alone, err := h.unlisted(ctx, at, built)
	return append(off, alone...), err
}

// unlisted are the outcomes by which a part that is built in does not mate once nothing is
// excused by what was built in: as if no list had it there.
func (h *Measured) unlisted(ctx context.Context, at fits.Spot, built *machine.Setup) ([]examine.Outcome, error) {
	before := built.Unlisted(at.Position)
	after, err := before.With(ctx, map[graph.PositionID]graph.PartID{at.Position: at.Part})
	if err != nil {
		return nil, err
	}
	examiner, err := examine.NewExaminerUnclassed(ctx, examine.From(before), after)
	if err != nil {
		return nil, err
	}
	all, err := judgingBy(examiner.Afterwards(), nil).met(ctx, scope{known: h.known})
	// How much a bolt clamps, and how a stud stands in its hole, was measured with all as
	// built: only the row of the bolt can tell.
	seat := built.Seat(at.Position)
	isBolt := machine.HasKind(seat.Part, "male-thread") && built.IsHardwareAt(at.Position) && seat.Part.Kind != "stud"
	return lists.Kept(all.Outcomes, func(o examine.Outcome) bool {
		return slices.ContainsFunc(o.Checks, func(c mating.Check) bool {
			return c.Verdict == graph.DoesNotFit && (isBolt || c.Rule != "thread engagement")
		})
	}), err
}

// isOff reports whether a check was worked out, and came to another size than is wanted.
func isOff(c mating.Check) bool { return c.Verdict == graph.Unknown && c.Gap != "" }

// doubtedBy makes unknown what is said to fit as it is, where outcomes say otherwise.
func doubtedBy(said []evidence.Claim, off []examine.Outcome) []evidence.Claim {
	var why []string
	for _, o := range off {
		for _, c := range o.Checks {
			if (c.Verdict > graph.Fits && c.Verdict != graph.Unknown || isOff(c)) && !slices.Contains(why, c.Why) {
				why = append(why, c.Why)
			}
		}
	}
	if len(why) == 0 {
		return said
	}
	return doubted(said, "but by what was measured: "+strings.Join(why, "; "), graph.Fits)
}

// differingOn says on which dimensions of a part sources differ, where that decides something
// of a safety class.
func differingOn(part graph.PartID, t Tried) []string {
	var why []string
	for _, o := range t.Outcomes {
		if len(o.Safety) == 0 {
			continue
		}
		for _, c := range o.Checks {
			isOf := c.Disputed && slices.ContainsFunc(c.Measure, func(a mating.Ask) bool { return a.Part == part })
			if isOf && !slices.Contains(why, c.Why) {
				why = append(why, c.Why)
			}
		}
	}
	return why
}

// isSellers reports whether what is said is in a seller's text.
func (h *Measured) isSellers(c evidence.Claim) bool {
	return c.Via == evidence.ViaFinding && len(c.Links) > 0 && c.Links[0].Finding != nil &&
		h.library.Evidence().FindingVoice(*c.Links[0].Finding).Rank <= evidence.RankSeller
}

// workedOutOpen says what of a safety class was as it must be before, and is by both its
// sides, or by a figure held against a limit, no more known to be.
func workedOutOpen(t Tried) []string {
	var why []string
	for _, o := range t.Outcomes {
		if len(o.Safety) == 0 || o.Before != graph.Fits || o.After != graph.Unknown ||
			slices.Contains([]string{examine.OfWord, examine.OfFinish, examine.OfPair, examine.OfPlace}, o.What) {
			continue
		}
		for _, c := range o.Checks {
			if isOff(c) && !slices.Contains(why, c.Why) {
				why = append(why, c.Why)
			}
		}
	}
	for _, n := range t.Numbers {
		if n.Verdict == graph.Unknown && n.Safety != graph.SafetyNone {
			why = append(why, fmt.Sprintf("%s of %s: %s", n.Name, queries.LocalName(n.About), n.Words))
		}
	}
	if len(why) > 0 {
		why[0] = "worked out: " + why[0]
	}
	return why
}

// disputing adds to what is said of a part that somebody found by hand not to fit, at a
// place with a safety class, that it fits by its measures, where it does.
func (h *Measured) disputing(at fits.Spot, t Tried, built *machine.Setup, said []evidence.Claim) []evidence.Claim {
	refused := slices.ContainsFunc(said, func(c evidence.Claim) bool {
		return c.Verdict == graph.DoesNotFit && slices.ContainsFunc(c.Links, func(l evidence.Link) bool {
			return l.Finding != nil && isRefusedByHand(built, at.Position, at.Part, l.Finding.ID)
		})
	})
	if !refused || !isFitting(t.Outcomes, t.Numbers, at.Position) {
		return said
	}
	return append(said, computedFits(at.Part, at.Position, at.Variant, t))
}

// Disputes reports whether a finding made by hand calls a part unfit at a place with a
// safety class where it fits by all that was worked out.
func (h *Measured) Disputes(ctx context.Context, at fits.Spot, f graph.Finding) (bool, error) {
	before, err := h.asBuilt(ctx, at.Variant)
	if err != nil || before == nil || !h.library.Evidence().IsFirstHand(f) {
		return false, err
	}
	t, built, err := h.measured(ctx, at)
	if err != nil || built.SafetyAt(at.Position) == graph.SafetyNone {
		return false, err
	}
	return isFitting(t.Outcomes, t.Numbers, at.Position), nil
}

// measuredNo are the outcomes that call a part unfit at a place by what it measures.
// That the other side is still built otherwise says nothing of the part, nor does a
// line between other places that was too short or too long already.
func measuredNo(at fits.Spot, t Tried) []examine.Outcome {
	return lists.Kept(slices.Clone(t.Outcomes), func(o examine.Outcome) bool {
		others := o.What == examine.OfRun && o.Run.Line != at.Position && o.Before == graph.DoesNotFit
		return o.After == graph.DoesNotFit && !others &&
			!slices.Contains([]string{examine.OfWord, examine.OfFinish, examine.OfPair}, o.What)
	})
}

// computedNo is the claim that a part does not fit by what it and what it meets
// measure, the failing outcomes and the numbers: as strong as the weakest reading by
// which it does not.
func computedNo(at fits.Spot, t Tried, failing []examine.Outcome) (evidence.Claim, bool) {
	no := evidence.Claim{Part: at.Part, Position: at.Position, Variant: at.Variant, Via: evidence.ViaComputed,
		Verdict: graph.DoesNotFit}
	var why []string
	add := func(rule, text string, uses []mating.Use) {
		no.Links = append(no.Links, examine.RuleLinks(rule, graph.DoesNotFit, text, uses)...)
		if !slices.Contains(why, text) {
			why = append(why, text)
		}
	}
	for _, o := range failing {
		for _, c := range o.Checks {
			if c.Verdict == graph.DoesNotFit {
				add(c.Rule, c.Why, c.Uses)
			}
		}
	}
	for _, n := range t.Numbers {
		if n.Verdict == graph.DoesNotFit {
			add(n.Name, fmt.Sprintf("%s of %s: %s", n.Name, queries.LocalName(n.About), n.Words), n.Uses)
		}
	}
	if len(why) == 0 {
		return no, false
	}
	no.Why, no.Settle = strings.Join(why, "; "), settleNo(failing, t.Numbers)
	no.Links = append(no.Links, evidence.Link{Kind: evidence.StepComputed,
		Text: fmt.Sprintf("%s at %s of %s: %s", at.Part, at.Position.Local(), at.Variant, graph.DoesNotFit)})
	return no, true
}

// settleNo is the measurement that decides that a part does not fit.
func settleNo(failing []examine.Outcome, numbers []examine.Number) string {
	if len(failing) > 0 {
		return SettleBy(failing[0])
	}
	i := slices.IndexFunc(numbers, func(n examine.Number) bool { return n.Verdict == graph.DoesNotFit })
	return mating.Check{Why: numbers[i].Words, Uses: numbers[i].Uses}.SettleText(false)
}

// conditional takes what somebody found on a machine of their own for what it says:
// where what the part does not meet was another part on that machine, it fits with
// that part.
func (h *Measured) conditional(
	ctx context.Context, built *machine.Setup, failing []examine.Outcome, said []evidence.Claim,
) ([]evidence.Claim, error) {
	said = slices.Clone(said)
	for i, c := range said {
		if c.Via != evidence.ViaFinding || c.Verdict > graph.FitsWithChanges || len(c.Links) == 0 ||
			c.Links[0].Finding == nil || c.Links[0].Finding.Bike == "" {
			continue
		}
		bikes, err := h.library.Reader().Bikes(ctx, c.Links[0].Finding.Bike)
		if err != nil || len(bikes) == 0 {
			return said, err
		}
		with := foundWith(built, bikes[0], failing)
		if len(with) == 0 {
			continue
		}
		said[i].Verdict = graph.FitsWithChanges
		said[i].Why = strings.TrimPrefix(fmt.Sprintf("%s: found on %s, with other parts around it than built", c.Why,
			bikes[0].ID), ": ")
		said[i].Changes = append(slices.Clone(c.Changes), with...)
	}
	return said, nil
}

// foundWith are the parts of a machine that sit, other than built, at what a part
// does not meet.
func foundWith(built *machine.Setup, bike graph.Bike, failing []examine.Outcome) []evidence.Change {
	var with []evidence.Change
	for _, o := range failing {
		for _, e := range o.Ends {
			found, noted := bike.At(e.Position)
			if e.Changed || !noted || found.Part == "" || found.Part == built.Seat(e.Position).Part.ID ||
				slices.ContainsFunc(with, func(c evidence.Change) bool { return c.Part == found.Part }) {
				continue
			}
			with = append(with, evidence.Change{Do: fmt.Sprintf("with %s at %s", found.Part, e.Position.Local()),
				Effort: graph.EffortHandTools, Part: found.Part})
		}
	}
	return with
}
