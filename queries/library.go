package queries

import (
	"context"

	"matewell/graph"
)

// library keeps what one question has read, so that nothing is read twice and
// each sort of thing is read for many positions or parts in one call.
type library struct {
	r         graph.Reader
	voices    *evidence
	positions map[graph.PositionID]graph.Position
	fitments  map[graph.PositionID][]graph.Fitment // on any variant
	parts     map[graph.PartID]graph.Part          // as read, readings not ranked
	findings  map[graph.PartID][]graph.Finding
	kinds     map[graph.KindID]graph.Kind
	best      map[rankedKey]graph.Part
	asked     map[string]bool // "part Tarnholt 207.4418b": asked for, there or not

	joints   *touching[graph.JointID, graph.Joint]
	runs     *touching[graph.RunID, graph.Run]
	circuits *touching[graph.CircuitID, graph.Circuit]
	stacks   *touching[graph.StackID, graph.Stack]
}

func newLibrary(r graph.Reader) *library {
	return &library{r: r, voices: newEvidence(),
		positions: map[graph.PositionID]graph.Position{},
		fitments:  map[graph.PositionID][]graph.Fitment{},
		parts:     map[graph.PartID]graph.Part{},
		findings:  map[graph.PartID][]graph.Finding{},
		kinds:     map[graph.KindID]graph.Kind{},
		best:      map[rankedKey]graph.Part{},
		asked:     map[string]bool{},
		joints:    touchingJoints(r), runs: touchingRuns(r), circuits: touchingCircuits(r), stacks: touchingStacks(r)}
}

// reader is what the library reads from, for what it does not keep.
func (l *library) reader() graph.Reader { return l.r }

// evidence is who says what was read.
func (l *library) evidence() *evidence { return l.voices }

// has reports whether a part was read, and is there.
func (l *library) has(id graph.PartID) bool {
	_, ok := l.parts[id]
	return ok
}

// part is a part as read, its readings not ranked; none for one that was not.
func (l *library) part(id graph.PartID) graph.Part { return l.parts[id] }

// kind is a kind as read; none for one that was not.
func (l *library) kind(id graph.KindID) graph.Kind { return l.kinds[id] }

// position is a position as read; false for one that was not.
func (l *library) position(id graph.PositionID) (graph.Position, bool) {
	p, ok := l.positions[id]
	return p, ok
}

// listedAt is what is listed at a position that was read, on any variant.
func (l *library) listedAt(id graph.PositionID) []graph.Fitment { return l.fitments[id] }

// findingsOf is what was found out about a part that was read.
func (l *library) findingsOf(id graph.PartID) []graph.Finding { return l.findings[id] }

// fresh gives those identities that were not asked for yet, sorted, and notes
// that they now are. The empty identity is none.
func fresh[T ~string](l *library, what string, ids []T) []T {
	var missing []T
	for _, id := range unique(append([]T(nil), ids...)) {
		key := what + " " + string(id)
		if id != "" && !l.asked[key] {
			l.asked[key] = true
			missing = append(missing, id)
		}
	}
	return missing
}

// readPositions reads positions and what is listed at them.
func (l *library) readPositions(ctx context.Context, ids []graph.PositionID) error {
	missing := fresh(l, "position", ids)
	if len(missing) == 0 {
		return nil
	}
	positions, err := l.r.Positions(ctx, missing...)
	if err != nil {
		return err
	}
	for _, p := range positions {
		l.positions[p.ID] = p
	}
	fitments, err := l.r.FitmentsAt(ctx, missing...)
	for _, f := range fitments {
		l.fitments[f.Position] = append(l.fitments[f.Position], f)
	}
	return err
}

// readParts reads parts, what was found out about them, and the sources of
// both.
func (l *library) readParts(ctx context.Context, ids []graph.PartID) error {
	missing := fresh(l, "part", ids)
	if len(missing) == 0 {
		return nil
	}
	parts, err := l.r.Parts(ctx, missing...)
	if err != nil {
		return err
	}
	findings, err := l.r.FindingsOf(ctx, missing...)
	if err != nil {
		return err
	}
	l.voices.addFindings(findings)
	var cites []graph.Cite
	for _, p := range parts {
		l.parts[p.ID] = p
		cites = append(cites, readingCites(p)...)
	}
	for _, f := range findings {
		l.findings[f.Part] = append(l.findings[f.Part], f)
	}
	if err := l.voices.load(ctx, l.r, cites); err != nil {
		return err
	}
	return l.readKinds(ctx, kindsToName(parts, l.findings))
}

// kindsToName are the kinds of parts on which somebody measured a feature that
// the part does not list: the kind says what sort of feature it is.
func kindsToName(parts []graph.Part, findings map[graph.PartID][]graph.Finding) []graph.KindID {
	var kinds []graph.KindID
	for _, p := range parts {
		for _, f := range findings[p.ID] {
			for _, m := range f.Measured {
				if _, ok := p.Feature(m.Feature); !ok {
					kinds = append(kinds, p.Kind)
				}
			}
		}
	}
	return kinds
}

func (l *library) readKinds(ctx context.Context, ids []graph.KindID) error {
	missing := fresh(l, "kind", ids)
	if len(missing) == 0 {
		return nil
	}
	kinds, err := l.r.Kinds(ctx, missing...)
	for _, k := range kinds {
		l.kinds[k.ID] = k
	}
	return err
}

// readPartsOf reads the parts of kinds. Of more than maxOfKind none is read, or
// given.
func (l *library) readPartsOf(ctx context.Context, kinds []graph.KindID) ([]graph.PartID, error) {
	if len(kinds) == 0 {
		return nil, nil
	}
	ids, err := l.r.PartsOfKind(ctx, kinds...)
	if err != nil || len(ids) > maxOfKind {
		return nil, err
	}
	return ids, l.readParts(ctx, ids)
}

// ranked is a part that was read, its readings best first for a variant. All
// who ask for it share it.
func (l *library) ranked(id graph.PartID, v *graph.Variant) (graph.Part, bool) {
	p, ok := l.parts[id]
	if !ok {
		return graph.Part{}, false
	}
	key := rankedKey{part: id}
	if v != nil {
		key.on = v.ID
	}
	ranked, have := l.best[key]
	if !have {
		ranked = l.voices.ranked(p, l.kinds[p.Kind], l.findings[id], v)
		l.best[key] = ranked
	}
	return ranked, true
}

// rankedKey is a part as it is ranked for a variant; for none, the part alone.
type rankedKey struct {
	part graph.PartID
	on   graph.VariantID
}

// readingCites are the sources of a part's readings.
func readingCites(p graph.Part) []graph.Cite {
	var cites []graph.Cite
	for _, f := range p.Features {
		for _, readings := range f.Dims {
			for _, r := range readings {
				cites = append(cites, r.Cite)
			}
		}
	}
	return cites
}
