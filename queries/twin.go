package queries

import (
	"context"
	"strings"

	"matewell/graph"
)

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
	Coverage Coverage         `json:"coverage"`
	Covers   string           `json:"covers"`
	Sources  []Source         `json:"sources"`
}

// twinsOf finds the other revisions and colours of a part's core.
func twinsOf(ctx context.Context, r graph.Reader, part graph.Part) ([]Twin, error) {
	ids, err := r.PartsByKey(ctx, part.Number.CoreKey())
	if err != nil {
		return nil, err
	}
	ids = kept(ids, func(id graph.PartID) bool { return id != part.ID && id.Brand() == part.Brand })
	if len(ids) == 0 {
		return nil, nil
	}
	parts, err := r.Parts(ctx, ids...)
	if err != nil {
		return nil, err
	}
	parts = kept(parts, func(p graph.Part) bool { return p.Number.CoreKey() == part.Number.CoreKey() })
	uses, err := usesOf(ctx, r, mapped(parts, func(p graph.Part) graph.PartID { return p.ID }))
	if err != nil {
		return nil, err
	}
	return mapped(parts, func(p graph.Part) Twin {
		return Twin{Part: p.ID, Differs: numberDiffers(part.Number, p.Number), Listed: uses[p.ID]}
	}), nil
}

// numberDiffers says in which blocks the second number differs from the first.
func numberDiffers(ours, theirs graph.Number) string {
	var words []string
	say := func(what, theirs, ours string) {
		if theirs == ours {
			return
		}
		words = append(words, what+" "+orNone(theirs)+", not "+orNone(ours))
	}
	say("revision", theirs.Revision, ours.Revision)
	say("colour", theirs.Colour, ours.Colour)
	return strings.Join(words, "; ")
}

func orNone(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

// usesOf reads where parts are listed, sorted by position and years.
func usesOf(ctx context.Context, r graph.Reader, ids []graph.PartID) (map[graph.PartID][]Use, error) {
	uses := map[graph.PartID][]Use{}
	if len(ids) == 0 {
		return uses, nil
	}
	fitments, err := r.FitmentsOf(ctx, ids...)
	if err != nil || len(fitments) == 0 {
		return uses, err
	}
	var cites []graph.Cite
	var on []graph.VariantID
	for _, f := range fitments {
		cites, on = append(cites, f.Said...), append(on, f.On...)
	}
	e := newEvidence()
	if err := e.load(ctx, r, cites); err != nil {
		return nil, err
	}
	siblings, err := siblingsOf(ctx, r, on)
	if err != nil {
		return nil, err
	}
	for _, id := range unique(ids) {
		uses[id] = e.useLines(kept(fitments, func(f graph.Fitment) bool { return f.Part == id }), siblings)
	}
	return uses, nil
}

func (e *evidence) useLines(fitments []graph.Fitment, siblings []graph.VariantID) []Use {
	variants, cites := map[graph.PositionID][]graph.VariantID{}, map[graph.PositionID][]graph.Cite{}
	for _, f := range fitments {
		variants[f.Position] = append(variants[f.Position], f.On...)
		cites[f.Position] = append(cites[f.Position], f.Said...)
	}
	var lines []Use
	for _, id := range keysOf(variants) {
		for _, c := range coveragesOf(unique(variants[id]), siblings) {
			lines = append(lines, Use{Position: id, Coverage: c, Covers: c.String(), Sources: distinct(e.voices(cites[id], nil))})
		}
	}
	return lines
}
