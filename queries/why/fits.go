package why

import (
	"cmp"
	"context"
	"fmt"

	"matewell/graph"
	"matewell/queries/differ"
	"matewell/queries/evidence"
	"matewell/queries/fits"
	"matewell/queries/lists"
	"matewell/queries/part"
)

// fitsTrail is the trail of a row of a fits answer.
func fitsTrail(row fits.FitsRow) WhyTrail {
	t := WhyTrail{ID: row.ID, About: fmt.Sprintf("%s at %s of %s %s", cmp.Or(string(row.Part), "what sits"),
		row.Position.Local(), row.Coverage.Model, row.Covers),
		Safety: row.Safety, Verdict: row.Verdict, Says: row.Why, ContradictedBy: row.ContradictedBy}
	if row.Settle != "" {
		t.Settle = []string{row.Settle}
	}
	if len(row.Steps) == 0 {
		t.add(evidence.Step{Kind: evidence.StepRule,
			Text: "where nobody says anything the answer is unknown: silence is neither a yes nor a no", WrongIf: wrongSilence})
		return t
	}
	t.conclude(row.Steps, judgementLine{row.Verdict, row.Via, row.Why, row.Rank, row.ContradictedBy})
	return t
}

// judgementLine is what the steps of a row or direction come to.
type judgementLine struct {
	verdict graph.Verdict
	via     evidence.Via
	why     string
	rank    evidence.Rank
	against []evidence.Contradiction
}

// weighing is the rule by which the voices of the steps were weighed; empty
// when there was nothing to weigh.
func weighing(steps []evidence.Step, j judgementLine) string {
	switch {
	case j.verdict == graph.Unknown && len(j.against) > 1 && j.against[0].Verdict != graph.NoVerdict:
		return "voices of one rank that call it usable and not usable leave it unknown: nothing is averaged"
	case len(j.against) > 0:
		return "of voices that disagree the higher rank counts, and the others stay shown: nothing is averaged"
	case j.via == evidence.ViaSupersession:
		return "a number may take another's place only in the direction that is stated; the whole is as strong as its " +
			"weakest step"
	case j.via == evidence.ViaComputed:
		return "what was worked out from measures is as strong as the weakest reading it used"
	case len(steps) > 1:
		return "the whole is as strong as its weakest step; voices of one origin count once"
	}
	return ""
}

// differTrails are the trails of the rows of a differ answer: how the parts
// differ, then each way to swap them.
func differTrails(ctx context.Context, r graph.Reader, q differ.DifferQuestion) ([]WhyTrail, error) {
	a, err := differ.Differ(ctx, r, q)
	if err != nil {
		return nil, err
	}
	var ids []graph.PartID
	for _, row := range a.Rows {
		for _, s := range []*differ.DifferSide{row.A, row.B} {
			if s != nil && s.Part != "" && len(row.Differences) > 0 {
				ids = append(ids, s.Part)
			}
		}
	}
	b, err := part.LoadCards(ctx, r, lists.Unique(ids))
	if err != nil {
		return nil, err
	}
	var trails []WhyTrail
	for _, row := range a.Rows {
		trails = append(trails, differTrail(row, b))
		for _, way := range []struct {
			name string
			*differ.Direction
		}{{"A's part on B", row.AOnB}, {"B's part on A", row.BOnA}} {
			if way.Direction != nil {
				trails = append(trails, directionTrail(row, way.name, *way.Direction))
			}
		}
	}
	return trails, nil
}

func differTrail(row differ.DifferRow, b *part.Cards) WhyTrail {
	t := WhyTrail{ID: row.ID, About: fmt.Sprintf("%s, %s", row.Position, row.Covers), Safety: row.Safety,
		Says: string(row.Class) + ": " + row.Why}
	for _, missing := range row.NotKnown {
		t.Settle = append(t.Settle, "measure "+missing)
	}
	var from []int
	for _, s := range []struct {
		name string
		*differ.DifferSide
	}{{"A", row.A}, {"B", row.B}} {
		switch {
		case s.DifferSide == nil:
			from = append(from, t.add(evidence.Step{Kind: evidence.StepFact, Text: s.name + " has no such position",
				WrongIf: "a machine of this variant has one"}))
		case s.Part == "":
			from = append(from, t.add(evidence.Step{Kind: evidence.StepFact, Text: "no source says what sits here on " + s.name,
				WrongIf: wrongSilence}))
		default:
			from = append(from, t.add(evidence.Step{Kind: evidence.StepFact, Text: fmt.Sprintf("%s has %s", s.name, s.Part),
				Sources: []evidence.Source{s.Source}, WrongIf: evidence.WrongFact}))
		}
	}
	for _, d := range row.Differences {
		from = append(from, t.difference(row, d, b))
	}
	from = append(from, t.add(evidence.Step{Kind: evidence.StepRule, Text: classRule(row.Class)}))
	t.add(evidence.Step{Kind: evidence.StepComputed, Text: "so: " + string(row.Class)}, from...)
	return t
}

func classRule(c differ.Class) string {
	switch c {
	case differ.ClassSame:
		return "one number is one part"
	case differ.ClassCosmetic:
		return "parts whose measures agree, and that differ only in looks, differ only in looks"
	case differ.ClassDimensional:
		return "the largest known difference decides: a measure outweighs looks"
	case differ.ClassFunctional:
		return "the largest known difference decides: a feature more or less outweighs a measure"
	case differ.ClassOneSide:
		return "what one machine has no place for can't be compared"
	}
	return "a measure that is not known is not taken to be the same"
}

func directionTrail(row differ.DifferRow, name string, d differ.Direction) WhyTrail {
	t := WhyTrail{ID: row.ID, About: fmt.Sprintf("%s at %s, %s", name, row.Position, row.Covers), Safety: row.Safety,
		Verdict: d.Verdict, Says: d.Why, ContradictedBy: d.ContradictedBy}
	if len(d.Steps) == 0 {
		t.add(evidence.Step{Kind: evidence.StepRule, Text: "nothing judges it, so it is unknown: " + d.Why})
		return t
	}
	t.conclude(d.Steps, judgementLine{d.Verdict, d.Via, d.Why, d.Rank, d.ContradictedBy})
	return t
}
