package swap

import (
	"context"
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/examine"
	"matewell/queries/fits"
	"matewell/queries/lists"
	"matewell/queries/mating"
)

// Conflict is where voices disagree, or where a voice disagrees with the
// dimensions.
type Conflict struct {
	About string `json:"about"`
	// Sides are what is said, each with who says so; what was worked out from
	// dimensions is marked "computed".
	Sides []ConflictSide `json:"sides"`
	// Settle is the one measurement or look that would settle it.
	Settle string `json:"settle"`
}

// ConflictSide is one side of a conflict.
type ConflictSide struct {
	Says   string           `json:"says"`
	Source *evidence.Source `json:"source,omitempty"` // nil for what was computed
}

// sayings is what sources say of the new parts at their positions: listings,
// supersessions, findings. What speaks against a part, or asks for changes,
// becomes an outcome; dimensions alone must not talk it away.
func sayings(ctx context.Context, x *judging) ([]examine.Outcome, []Conflict, error) {
	var outcomes []examine.Outcome
	var conflicts []Conflict
	for _, id := range x.After.Changed() {
		seat := x.After.Seat(id)
		if seat.Empty || seat.Made || seat.Part.ID == x.Before.Seat(id).Part.ID {
			continue
		}
		rows, err := x.rowsAt(ctx, fits.Spot{Part: seat.Part.ID, Position: id, Variant: x.After.Variant.ID})
		if err != nil {
			return nil, nil, err
		}
		noteColour(x, id)
		for _, row := range rows {
			if row.Part != seat.Part.ID || row.Position != id {
				continue
			}
			note(x, row)
			said := row.Verdict
			if row, err = lapsing(ctx, x, row); err != nil {
				return nil, nil, err
			}
			if row.Verdict == graph.DoesNotFit && row.Via == evidence.ViaFinding {
				x.firstHand[id] = isRefusedByHand(x.After, id, row.Part, graph.FindingID(row.Source.ID))
			}
			if o, ok := wordOutcome(x, row); ok {
				o.Lapsed = said == graph.DoesNotFit && row.Verdict == graph.Fits
				outcomes = append(outcomes, o)
			}
			if len(row.ContradictedBy) > 0 {
				conflicts = append(conflicts, contradicted(row))
			}
		}
	}
	return outcomes, conflicts, nil
}

// saying is what sources say of a part at a place of a machine.
type saying func(ctx context.Context, at fits.Spot) ([]fits.FitsRow, error)

// note keeps who speaks for a part at its very place.
func note(x *judging, row fits.FitsRow) {
	if row.Verdict > graph.FitsWithChanges || row.Via == evidence.ViaComputed || row.Via == evidence.ViaNothing {
		return
	}
	word := examine.Word{Earned: examine.EarnedListed, Of: string(row.Source.ID)}
	if row.Via == evidence.ViaFinding {
		word.Earned = examine.EarnedFound
	}
	x.words[row.Position] = word
}

// noteColour takes the listing of a number for one of the same number in another
// colour: the maker makes both for the same place. Where something else was measured
// of the one than of the other, it is no matter of colour.
func noteColour(x *judging, id graph.PositionID) {
	now, built := x.After.Seat(id).Part, x.Built.Seat(id)
	a, b := now.Number, built.Part.Number
	unsaid := built.Empty || built.Source.ID == "" || built.Source.Kind == string(graph.SourcePlaced)
	if unsaid || now.Brand != built.Part.Brand || a.CoreKey() == "" ||
		a.CoreKey() != b.CoreKey() || a.Revision != b.Revision || a.Colour == b.Colour || now.Kind != built.Part.Kind ||
		!measureAlike(now, built.Part) {
		return
	}
	x.words[id] = examine.Word{Earned: examine.EarnedListed, Of: string(built.Source.ID) + ", in another colour"}
}

// measureAlike reports whether nothing that is recorded of both parts differs.
func measureAlike(a, b graph.Part) bool {
	return !slices.ContainsFunc(a.Features, func(f graph.Feature) bool {
		other, ok := b.Feature(f.Name)
		if !ok {
			return false
		}
		for dim, readings := range f.Dims {
			if was := other.Dims[dim]; len(readings) > 0 && len(was) > 0 && readings[0].Text != was[0].Text {
				return true
			}
		}
		return f.Kind != other.Kind
	})
}

func wordOutcome(x *judging, row fits.FitsRow) (examine.Outcome, bool) {
	if row.Verdict == graph.NoVerdict || row.Verdict == graph.Unknown && row.Via == evidence.ViaNothing {
		return examine.Outcome{}, false
	}
	check := mating.Check{Rule: string(row.Via), Verdict: row.Verdict,
		Why: fmt.Sprintf("%s (%s, %s)", row.Why, row.Source.ID, row.Rank)}
	for _, c := range row.Changes {
		check.Do = append(check.Do, c.Do)
		check.Effort = max(check.Effort, c.Effort)
		check.With = append(check.With, c.Part)
	}
	o := examine.Outcome{What: examine.OfWord, ID: string(row.Position),
		Ends: x.Ends(graph.FeatureRef{Position: row.Position})}
	before := []mating.Check{{Rule: string(row.Via), Verdict: graph.Fits, Why: "what was there before"}}
	return x.Judged(o, before, []mating.Check{check}), true
}

// Answered has what is said of a part fit where all that it asks for is a part to be got
// with it, and that is on.
func Answered(outcomes []examine.Outcome, gets []Get) []examine.Outcome {
	isGot := func(part graph.PartID) bool {
		return part != "" && slices.ContainsFunc(gets, func(g Get) bool { return g.Part == part })
	}
	return lists.Mapped(outcomes, func(o examine.Outcome) examine.Outcome {
		if o.What != examine.OfWord || o.After != graph.FitsWithChanges || len(o.Checks) != 1 ||
			len(o.Checks[0].With) == 0 || slices.ContainsFunc(o.Checks[0].With, func(p graph.PartID) bool { return !isGot(p) }) {
			return o
		}
		check := o.Checks[0]
		check.Verdict, check.Do, check.Why = graph.Fits, nil, check.Why+"; what it asks for is got with it"
		o.After, o.Why, o.Checks = graph.Fits, check.Why, []mating.Check{check}
		return o
	})
}

func contradicted(row fits.FitsRow) Conflict {
	c := Conflict{About: fmt.Sprintf("%s at %s", row.Part, row.Position.Local()), Settle: row.Settle}
	source := row.Source
	c.Sides = append(c.Sides, ConflictSide{Says: row.Verdict.String() + ": " + row.Why, Source: &source})
	for _, other := range row.ContradictedBy {
		voice := other.Source
		c.Sides = append(c.Sides, ConflictSide{Says: other.Verdict.String() + ": " + other.Why, Source: &voice})
	}
	if c.Settle == "" {
		c.Settle = "offer the part up and measure what it meets"
	}
	return c
}

// wordConflicts shows where somebody says that a part fits and the dimensions
// say that it does not.
func wordConflicts(x *judging, outcomes []examine.Outcome) []Conflict {
	var conflicts []Conflict
	for _, word := range outcomes {
		at := graph.PositionID(word.ID)
		if word.What == examine.OfWord && word.After == graph.Unknown && x.firstHand[at] {
			conflicts = append(conflicts, Conflict{About: at.Local(), Settle: SettleBy(word),
				Sides: []ConflictSide{{Says: word.Why}, {Says: "computed: " + graph.Fits.String()}}})
		}
		if word.What != examine.OfWord || word.After > graph.FitsWithChanges {
			continue
		}
		for _, o := range outcomes {
			if o.What != examine.OfJoint || o.After != graph.DoesNotFit ||
				!slices.ContainsFunc(o.Ends, func(e examine.End) bool { return string(e.Position) == word.ID }) {
				continue
			}
			conflicts = append(conflicts, Conflict{About: queries.LocalName(word.ID),
				Sides: []ConflictSide{{Says: word.After.String() + ": " + word.Why},
					{Says: "computed: " + o.After.String() + " at " + queries.LocalName(o.ID) + ": " + o.Why}},
				Settle: SettleBy(o)})
		}
	}
	return conflicts
}

// SettleBy is the measurement that decides an outcome; see mating.Check.SettleText.
func SettleBy(o examine.Outcome) string {
	for _, c := range o.Checks {
		if c.Verdict != o.After {
			continue
		}
		if text := c.SettleText(o.After != graph.DoesNotFit); text != "" {
			return text
		}
	}
	return "offer the part up"
}

// readingConflicts shows the dimensions on which sources disagree and that
// decide something; each once.
func readingConflicts(x *judging, outcomes []examine.Outcome) []Conflict {
	conflicts := wordConflicts(x, outcomes)
	seen := map[mating.Use]bool{} // without their readings
	for _, o := range outcomes {
		for _, c := range o.Checks {
			for _, group := range UsesByPlace(c.Uses) {
				if group = x.After.WithOutranked(group); len(group) < 2 {
					continue
				}
				key := group[0]
				if key.Reading = (graph.Reading{}); seen[key] {
					continue
				}
				seen[key] = true
				conflicts = append(conflicts, readingConflict(x, group, o))
			}
		}
	}
	return conflicts
}

func readingConflict(x *judging, uses []mating.Use, o examine.Outcome) Conflict {
	first := uses[0]
	c := Conflict{About: fmt.Sprintf("%s of %s, %s (decides %s)", first.Dim, first.Part, first.Feature,
		queries.LocalName(o.ID))}
	for _, use := range uses {
		voice := x.After.Library().Evidence().ReadingVoice(use.Reading, &x.After.Variant)
		c.Sides = append(c.Sides, ConflictSide{Says: use.Reading.Text, Source: &voice})
	}
	kind := x.After.KindOf(graph.FeatureRef{Position: first.Position, Feature: first.Feature})
	ask := examine.AskOf(mating.Side{Position: first.Position, Feature: graph.Feature{Name: first.Feature, Kind: kind}},
		first.Dim)
	ask.Where = ""
	c.Settle = ask.Text()
	return c
}

// UsesByPlace groups the readings of one dimension, in the order used.
func UsesByPlace(uses []mating.Use) [][]mating.Use {
	var groups [][]mating.Use
	for _, use := range uses {
		at := slices.IndexFunc(groups, func(g []mating.Use) bool {
			return g[0].Position == use.Position && g[0].Part == use.Part && g[0].Feature == use.Feature && g[0].Dim == use.Dim
		})
		if at < 0 {
			groups = append(groups, []mating.Use{use})
			continue
		}
		groups[at] = append(groups[at], use)
	}
	return groups
}
