package queries

import (
	"context"
	"slices"

	"matewell/graph"
)

// WhyAnswer is the whole trail of one row of an answer: the row itself, with
// its steps, their sources in rank order, and what would prove them wrong.
type WhyAnswer struct {
	ID string `json:"id"`
	// Fits is set when the row was one of a FitsAnswer; several rows when the
	// frame number tells them apart.
	Fits []FitsRow `json:"fits,omitempty"`
	// Differ is set when the row was one of a DifferAnswer.
	Differ []DifferRow `json:"differ,omitempty"`
}

// Why asks again what an answer was about, from the identity of its row, and
// gives the row with its whole trail. Two runs over the same facts give the
// same. Errors are a *QuestionError for what is no identity, a *NotFoundError
// when there is no such row any more, or come from the reader.
func Why(ctx context.Context, r graph.Reader, text string) (WhyAnswer, error) {
	id, err := ParseAnswerID(text)
	if err != nil {
		return WhyAnswer{}, err
	}
	a := WhyAnswer{ID: id.String()}
	position := string(id.Position)
	if id.Question == "differ" {
		found, err := Differ(ctx, r, DifferQuestion{A: string(id.Variant), B: string(id.Other), Position: id.Position.Local()})
		if err != nil {
			return a, err
		}
		a.Differ = found.Rows
	} else {
		found, err := Fits(ctx, r, FitsQuestion{Part: string(id.Part), On: string(id.Variant), Position: position})
		if err != nil {
			return a, err
		}
		a.Fits = kept(found.Rows, func(row FitsRow) bool { return slices.Contains(row.Coverage.On, id.Variant) })
	}
	if len(a.Fits)+len(a.Differ) == 0 {
		return a, &NotFoundError{What: "answer", Asked: text}
	}
	return a, nil
}
