package evidence

import (
	"context"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
)

// ContentLine is a part and how many of it.
type ContentLine struct {
	Part     graph.PartID `json:"part"`
	Quantity int          `json:"quantity"`
}

// Twin is another number of the same core. It is not the same part: a revision
// may measure otherwise.
type Twin struct {
	Part    graph.PartID `json:"part"`
	Differs string       `json:"differs"` // "revision a, not b", "colour kr, not aa"
	// Listed is where the twin itself is listed.
	Listed []Use `json:"listed,omitempty"`
}

// Use is where a part is listed.
type Use struct {
	Position graph.PositionID `json:"position"`
	Coverage queries.Coverage `json:"coverage"`
	Covers   string           `json:"covers"`
	Sources  []Source         `json:"sources"`
}

// TwinsOf finds the other revisions and colours of a part's core.
func TwinsOf(ctx context.Context, r graph.Reader, part graph.Part) ([]Twin, error) {
	ids, err := r.PartsByKey(ctx, part.Number.CoreKey())
	if err != nil {
		return nil, err
	}
	ids = lists.Kept(ids, func(id graph.PartID) bool { return id != part.ID && id.Brand() == part.Brand })
	if len(ids) == 0 {
		return nil, nil
	}
	parts, err := r.Parts(ctx, ids...)
	if err != nil {
		return nil, err
	}
	parts = lists.Kept(parts, func(p graph.Part) bool { return p.Number.CoreKey() == part.Number.CoreKey() })
	uses, err := UsesOf(ctx, r, lists.Mapped(parts, func(p graph.Part) graph.PartID { return p.ID }))
	if err != nil {
		return nil, err
	}
	return lists.Mapped(parts, func(p graph.Part) Twin {
		return Twin{Part: p.ID, Differs: NumberDiffers(part.Number, p.Number), Listed: uses[p.ID]}
	}), nil
}

// NumberDiffers says in which blocks the second number differs from the first.
func NumberDiffers(ours, theirs graph.Number) string {
	var words []string
	say := func(what, theirs, ours string) {
		if theirs == ours {
			return
		}
		words = append(words, what+" "+OrNone(theirs)+", not "+OrNone(ours))
	}
	say("revision", theirs.Revision, ours.Revision)
	say("colour", theirs.Colour, ours.Colour)
	return strings.Join(words, "; ")
}

// OrNone is the text, or "none" for an empty one.
func OrNone(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

// UsesOf reads where parts are listed, sorted by position and years.
func UsesOf(ctx context.Context, r graph.Reader, ids []graph.PartID) (map[graph.PartID][]Use, error) {
	fitments, err := r.FitmentsOf(ctx, ids...)
	if err != nil {
		return nil, err
	}
	return UsesIn(ctx, r, fitments)
}

// UsesIn is UsesOf with the fitments of the parts, which were read before.
func UsesIn(ctx context.Context, r graph.Reader, fitments []graph.Fitment) (map[graph.PartID][]Use, error) {
	uses := map[graph.PartID][]Use{}
	if len(fitments) == 0 {
		return uses, nil
	}
	var cites []graph.Cite
	var on []graph.VariantID
	for _, f := range fitments {
		cites, on = append(cites, f.Said...), append(on, f.On...)
	}
	e := NewEvidence()
	if err := e.Load(ctx, r, cites); err != nil {
		return nil, err
	}
	siblings, err := queries.SiblingsOf(ctx, r, lists.Mapped(on, graph.VariantID.Model))
	if err != nil {
		return nil, err
	}
	byPart := map[graph.PartID][]graph.Fitment{}
	for _, f := range fitments {
		byPart[f.Part] = append(byPart[f.Part], f)
	}
	for id, some := range byPart {
		uses[id] = e.useLines(some, siblings)
	}
	return uses, nil
}
