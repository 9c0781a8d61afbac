package differ

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// loadFurther judges by runs, rows, chains and circuits what differs in a
// feature that no joint judges, such as the length of a hose. Only positions
// that one of them touches are looked at.
func (d *differing) loadFurther(ctx context.Context, at []graph.PositionID) error {
	touched, err := d.touchedPositions(ctx, at)
	if err != nil || len(touched) == 0 {
		return err
	}
	setups := map[graph.VariantID]*machine.Setup{}
	for _, v := range slices.Concat(d.a.Variants, d.b.Variants) {
		if len(setups) == 0 {
			setups[v.ID] = machine.SetupOf(d.r, v, "")
			continue
		}
		setups[v.ID] = setups[lists.KeysOf(setups)[0]].Sibling(v, "")
	}
	for _, local := range d.locals {
		for _, pair := range d.pairs {
			a, b := d.sides(local, pair)
			if len(a) == 0 || len(b) == 0 || slices.Equal(machine.PartsIn(a), machine.PartsIn(b)) {
				continue
			}
			if !touched[a[0].Position] && !touched[b[0].Position] {
				continue
			}
			x, y := facing(a, b)
			toB, toA := d.transplants(x, y, d.positions[a[0].Position], d.positions[b[0].Position], pair)
			for _, t := range []transplant{toB, toA} {
				if err := d.judgeFurther(ctx, t, setups[t.onOther]); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// touchedPositions are the positions that a run, a row or a chain touches.
func (d *differing) touchedPositions(ctx context.Context, at []graph.PositionID) (map[graph.PositionID]bool, error) {
	runs, err := d.r.RunsAt(ctx, at...)
	if err != nil {
		return nil, err
	}
	stacks, err := d.r.StacksAt(ctx, at...)
	if err != nil {
		return nil, err
	}
	touched := map[graph.PositionID]bool{}
	for _, run := range runs {
		touched[run.Line] = true
		for _, ref := range slices.Concat(run.MovedBy, run.LengthenedBy) {
			touched[ref.Position] = true
		}
	}
	for _, st := range stacks {
		touched[st.Within.Position] = true
		for _, ref := range st.Row {
			touched[ref.Position] = true
		}
	}
	for _, id := range at {
		for _, v := range slices.Concat(d.a.IDs(), d.b.IDs()) {
			part := d.around.Parts[d.built.PartAt(id, v)]
			touched[id] = touched[id] || machine.HasKind(part, "sprocket") || machine.HasKind(part, "chain")
		}
	}
	return touched, nil
}

func (d *differing) judgeFurther(ctx context.Context, t transplant, before *machine.Setup) error {
	key := swapKeyOf(t)
	if _, done := d.further[key]; done || t.part.ID == t.sitting || len(d.openFeatures(t)) == 0 {
		return nil
	}
	after, err := before.With(ctx, map[graph.PositionID]graph.PartID{t.to.ID: t.part.ID})
	if err != nil {
		return err
	}
	outcomes, err := examine.Examine(ctx, before, after)
	if err != nil {
		return err
	}
	checks := []mating.Check{}
	for _, o := range outcomes {
		switch o.What {
		case examine.OfRun, examine.OfStack, examine.OfDisc, examine.OfChain, examine.OfCircuit:
			checks = append(checks, o.Checks...)
		}
	}
	d.further[key] = checks
	return nil
}

// openFeatures are the features with another dimension that no joint judges.
func (d *differing) openFeatures(t transplant) []string {
	judged := d.judgedFeatures(t)
	var open []string
	for _, diff := range t.compare.differences {
		if diff.Class != ClassCosmetic && diff.Dim != "" && !slices.Contains(judged, diff.Feature) {
			open = append(open, diff.Feature)
		}
	}
	return lists.Unique(open)
}
