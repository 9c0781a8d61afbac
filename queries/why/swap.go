package why

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
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/swap"
)

// swapTrails are the trails of a swap's outcomes: what does not mate first,
// then what is unknown, what mates once something is done, what mates; then
// those of its numbers.
func swapTrails(ctx context.Context, r graph.Reader, q swap.SwapQuestion) ([]WhyTrail, error) {
	before, after, a, err := swap.Between(ctx, r, q)
	if err != nil {
		return nil, err
	}
	var trails []WhyTrail
	for _, o := range slices.Concat(a.DoesNotMate, a.Unknown, a.WithChanges, a.Mates) {
		if o.What == examine.OfWord {
			more, err := wordTrails(ctx, r, after, o)
			if err != nil {
				return nil, err
			}
			trails = append(trails, more...)
			continue
		}
		trails = append(trails, outcomeTrail(after, o))
	}
	for _, n := range a.Numbers {
		trails = append(trails, numberTrail(before, after, n))
	}
	return trails, nil
}

// wordTrails are the trails of what is said of the very part at the very
// position.
func wordTrails(ctx context.Context, r graph.Reader, s *machine.Setup, o examine.Outcome) ([]WhyTrail, error) {
	id := graph.PositionID(o.ID)
	part := s.Seat(id).Part.ID
	a, err := fits.Said(ctx, r, fits.FitsQuestion{Part: string(part), On: string(s.Variant.ID), Position: id.Local()})
	if err != nil {
		return nil, err
	}
	var trails []WhyTrail
	for _, row := range a.Rows {
		if row.Part == part && row.Position == id {
			t := fitsTrail(row)
			t.Verdict, t.Says = o.After, o.Why
			t.ID, t.touches, t.work = o.AnswerID, s.FeatureKindsAt(id), o.HasWork()
			trails = append(trails, t)
		}
	}
	return trails, nil
}

// outcomeTrail is the trail of what was worked out about a joint, run, stack,
// circuit and the like.
func outcomeTrail(s *machine.Setup, o examine.Outcome) WhyTrail {
	t := WhyTrail{ID: o.AnswerID, About: o.What + " " + queries.LocalName(o.ID), Safety: examine.FirstSafety(o.Safety),
		Verdict: o.After, Says: o.Why, work: o.HasWork()}
	sits := map[graph.PositionID]int{}
	var at []int
	for _, end := range o.Ends {
		if _, have := sits[end.Position]; !have {
			sits[end.Position] = t.add(seatStep(s.Seat(end.Position)))
			at = append(at, sits[end.Position])
		}
		if end.Changed {
			t.touches = append(t.touches, s.FeatureKindsAt(end.Position)...)
		}
	}
	used := map[string]int{}
	var results []int
	for _, c := range o.Checks {
		results = append(results, t.check(s, c, sits, used))
		for _, ask := range c.Measure {
			t.settle(ask)
		}
	}
	if len(results) != 1 {
		t.add(evidence.Step{Kind: evidence.StepComputed, Text: "so: " + o.After.String() + ", the worst of these"},
			append(results, at...)...)
	}
	return t
}

func seatStep(seat machine.Seat) evidence.Step {
	where := seat.Position.ID.Local()
	step := evidence.Step{Kind: evidence.StepFact, Text: fmt.Sprintf("%s has %s: %s", where, seat.Part.ID, seat.Why),
		WrongIf: evidence.WrongFact}
	switch {
	case seat.Changed && seat.Empty:
		step.Text, step.WrongIf = where+" is left empty, as asked", "something is put there"
	case seat.Changed:
		step.Text, step.WrongIf = fmt.Sprintf("%s gets %s, as asked", where,
			seat.Part.ID), "the number read off the part is another one"
	case seat.Empty:
		step.Text, step.WrongIf = where+" has nothing: "+seat.Why, wrongSilence
	}
	if seat.Source.ID != "" {
		step.Sources = []evidence.Source{seat.Source}
	}
	return step
}

// useStep is one dimension with all of its readings, the one that counts
// first.
func useStep(s *machine.Setup, uses []mating.Use) evidence.Step {
	first := uses[0]
	where := string(first.Part)
	if where == "" {
		where = first.Position.Local()
	}
	what := first.Dim
	if first.Feature != "" {
		what += " of " + first.Feature
	}
	step := evidence.Step{Kind: evidence.StepDimension,
		Text: fmt.Sprintf("%s of %s is %s", what, where, first.Reading.Text)}
	for _, use := range uses {
		voice := s.Library().Evidence().ReadingVoice(use.Reading, &s.Variant)
		if use.Reading.Method != "" {
			voice.Says += ", " + use.Reading.Method
		}
		step.Sources = append(step.Sources, voice)
	}
	return step
}

func checkText(c mating.Check) string {
	text := c.Verdict.String() + ": " + c.Why
	var figures []string
	for _, f := range []struct{ name, value string }{{"had", c.Had}, {"wanted", c.Wanted}, {"gap", c.Gap}} {
		if f.value != "" {
			figures = append(figures, f.name+" "+f.value)
		}
	}
	if len(figures) > 0 {
		text += " (" + strings.Join(figures, ", ") + ")"
	}
	return text
}
