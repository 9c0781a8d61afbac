package conflicts

import (
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
	"matewell/queries/swap"
)

// claims finds findings, lists and supersessions that contradict one another
// about a part at a position, as the answers to "fits" weigh them.
func (c *contradicting) claims(ctx context.Context) error {
	groups := map[string]*ConflictRow{}
	for _, model := range c.models {
		q := fits.FitsQuestion{Part: string(c.part), On: string(model), Market: c.q.Market, Frame: c.q.Frame}
		if c.machines != nil {
			q.On = c.q.On
		}
		a, err := fits.Fits(ctx, c.r(), q)
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
		other, lists := strings.CutPrefix(against.Why, "lists ")
		if against.Via != evidence.ViaListed || !lists {
			return true
		}
		other = strings.TrimSuffix(other, " here")
		return row.Source.Rank > against.Source.Rank || row.Source.Rank == against.Source.Rank && string(row.Part) < other
	})
}

func claimConflict(row fits.FitsRow) ConflictRow {
	at := []graph.PositionID{row.Position}
	conflict := ConflictRow{Sort: sortOfClaims(row), About: fmt.Sprintf("%s at %s", row.Part, row.Position),
		Part: row.Part, At: at,
		Covers: row.Covers, Settle: row.Settle, AnswerID: row.ID,
		settle: settling{part: row.Part, at: at, number: strings.HasPrefix(row.Settle, "read the number"),
			measured: strings.HasPrefix(row.Settle, "measure")}}
	if row.Safety != graph.SafetyNone {
		conflict.Safety = []graph.Safety{row.Safety}
	}
	undecided := row.Verdict == graph.Unknown
	if !undecided {
		conflict.Sides = append(conflict.Sides, ConflictVoices{Says: row.Verdict.String() + ": " + row.Why, Rank: row.Rank,
			Sources: []evidence.Source{row.Source}})
	}
	for _, against := range row.ContradictedBy {
		says := against.Why
		if against.Verdict != graph.NoVerdict {
			says = against.Verdict.String() + ": " + says
		}
		conflict.Sides = append(conflict.Sides, ConflictVoices{Says: says, Rank: against.Source.Rank,
			Sources: []evidence.Source{against.Source}})
	}
	conflict.Open = undecided || len(conflict.Sides) > 1 && conflict.Sides[0].Rank == conflict.Sides[1].Rank
	return conflict
}

func sortOfClaims(row fits.FitsRow) ConflictSort {
	ways := append([]evidence.Via{row.Via}, lists.Mapped(row.ContradictedBy,
		func(c evidence.Contradiction) evidence.Via { return c.Via })...)
	switch {
	case slices.Contains(ways, evidence.ViaFinding):
		return ConflictFinding
	case slices.Contains(ways, evidence.ViaSupersession), slices.Contains(ways, evidence.ViaKit):
		return ConflictSupersession
	}
	return ConflictListing
}

// joinConflict puts rows that say the same of several machines together.
func joinConflict(groups map[string]*ConflictRow, row ConflictRow) {
	key := string(row.Sort) + row.About
	for _, s := range row.Sides {
		key += "\x00" + s.Says + s.Rank.String()
	}
	have, ok := groups[key]
	if !ok {
		groups[key] = &row
		return
	}
	have.Covers = joinText(have.Covers, row.Covers)
}

// computed finds findings that say "fits" where the measures say that a joint
// does not. The other way round is no contradiction: a part whose measures all
// mate may still not fit for something that nobody measured.
func (c *contradicting) computed(ctx context.Context) error {
	tried := map[string][]graph.Finding{}
	for _, id := range c.parts {
		for _, f := range c.library.FindingsOf(id) {
			if f.Withdrawn == "" && f.Verdict == graph.Fits && f.Position != "" && len(f.On) > 0 && c.wants(f.Position, f.On) {
				key := fmt.Sprintf("%s %s", f.Position, f.Part)
				tried[key] = append(tried[key], f)
			}
		}
	}
	for _, key := range lists.KeysOf(tried) {
		if err := c.againstMeasures(ctx, tried[key]); err != nil {
			return err
		}
	}
	return nil
}

// againstMeasures judges what findings about one part at one position say, on
// the first machine that they speak of and that is asked about.
func (c *contradicting) againstMeasures(ctx context.Context, said []graph.Finding) error {
	first := said[0]
	on := first.On[0]
	for _, v := range first.On {
		if c.machines != nil && c.machines.Has(v) {
			on = v
			break
		}
	}
	variants, err := c.r().Variants(ctx, on)
	if err != nil || len(variants) == 0 {
		return err
	}
	before := machine.StartIn(c.library, variants[0], "")
	after, err := before.With(ctx, map[graph.PositionID]graph.PartID{first.Position: first.Part})
	if err != nil {
		return err
	}
	outcomes, err := examine.Examine(ctx, before, after)
	if err != nil {
		return err
	}
	failing := lists.Kept(outcomes, func(o examine.Outcome) bool {
		concerned := slices.ContainsFunc(o.Ends, func(e examine.End) bool { return e.Position == first.Position })
		return o.What == examine.OfJoint && o.After == graph.DoesNotFit && o.Before != graph.DoesNotFit && concerned
	})
	if len(failing) > 0 {
		c.rows = append(c.rows, c.computedConflict(said, failing, on))
	}
	return nil
}

func (c *contradicting) computedConflict(said []graph.Finding, failing []examine.Outcome,
	on graph.VariantID) ConflictRow {
	first := said[0]
	at := []graph.PositionID{first.Position}
	voices := lists.Mapped(said, c.library.Evidence().FindingVoice)
	slices.SortFunc(voices, evidence.CompareSources)
	best := c.library.Evidence().Findings[graph.FindingID(voices[0].ID)]
	id := swap.SwapID{On: string(on), Swaps: []swap.Replacement{{Position: first.Position.Local(),
		Part: string(first.Part)}}, Outcome: swap.OutcomeName(failing[0])}
	row := ConflictRow{Sort: ConflictComputed, About: fmt.Sprintf("%s at %s", first.Part, first.Position),
		Part: first.Part, At: at,
		Safety: c.safetyAt(at), Covers: string(on), Open: true, Settle: swap.SettleBy(failing[0]), AnswerID: id.String(),
		settle: settling{part: first.Part, at: at, measured: true}}
	row.Sides = []ConflictVoices{{Says: first.Verdict.String() + ": " + evidence.FindingWhy(best),
		Rank: evidence.Together(voices), Sources: evidence.Distinct(voices)}}
	for _, o := range failing {
		row.Sides = append(row.Sides, ConflictVoices{Says: fmt.Sprintf("computed: %s at %s: %s", o.After,
			queries.LocalName(o.ID), o.Why)})
	}
	return row
}
