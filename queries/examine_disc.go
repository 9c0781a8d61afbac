package queries

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/mating"
)

// discLine is a disc, what carries it in a row, and what holds the caliper that
// it runs in. It is found over the joints from disc to wheel, disc to caliper
// and caliper to leg.
type discLine struct {
	stack            graph.Stack
	member, holder   int // as in mating.DiscLineCase
	left             bool
	mount, disc, lug graph.FeatureRef
	caliper          graph.FeatureRef // its mount
	// known is true when it can be judged as the machine was built. Then it
	// judges the slot over the disc, whatever is put on, and the caliper on its
	// leg does not.
	known bool
}

func (d discLine) places() []graph.PositionID {
	places := append(stackPlaces(d.stack), d.mount.Position, d.disc.Position, d.lug.Position)
	if d.known {
		places = append(places, d.caliper.Position)
	}
	return unique(kept(places,
		func(id graph.PositionID) bool { return id != "" }))
}

// discLines judges where each disc runs in its caliper, wherever something that
// decides it was changed.
func (x *examiner) discLines() []Outcome {
	var all []Outcome
	for _, d := range x.discs {
		if x.concerns(d.places()) && (x.whole || slices.ContainsFunc(d.places(), x.isChanged)) {
			all = append(all, x.discLine(d))
		}
	}
	return all
}

func (x *examiner) discLine(d discLine) Outcome {
	o := Outcome{What: OfDisc, ID: string(d.disc.Position), Ends: x.ends(append(d.meets(), d.stack.Row...)...)}
	was := x.was(OfDisc+o.ID, func() []mating.Check { return x.discChecks(x.before, d) })
	return x.judged(o, was, x.discChecks(x.after, d))
}

func (x *examiner) discChecks(s *Setup, d discLine) []mating.Check {
	if absent := s.absent(d.places()...); len(absent) > 0 {
		return absent
	}
	return mating.JudgeDiscLine(x.discCase(s, d))
}

// lugEnd is the place of what holds the caliper among meets, and so among the
// ends of the outcome.
const lugEnd = 2

// meets are the features that decide it besides those of the row.
func (d discLine) meets() []graph.FeatureRef {
	refs := []graph.FeatureRef{d.disc, d.mount, d.lug}
	if d.known {
		refs = append(refs, d.caliper)
	}
	return refs
}

func (x *examiner) discCase(s *Setup, d discLine) mating.DiscLineCase {
	in := mating.DiscLineCase{Stack: x.stackCase(s, d.stack), Member: d.member, Holder: d.holder, Left: d.left,
		Mount: s.side(d.mount), Disc: s.side(d.disc), Lug: s.side(d.lug)}
	if d.known {
		in.Caliper = s.side(d.caliper)
		in.Own = x.asBuilt(s, d.lug.Position) && x.asBuilt(s, d.caliper.Position)
	}
	return in
}

func (x *examiner) asBuilt(s *Setup, id graph.PositionID) bool {
	return s.Seat(id).Part.ID == x.built.Seat(id).Part.ID
}

// discLineOf is the disc line that judges the slot of a caliper over its disc,
// for the joint that holds the caliper.
func (c *connections) discLineOf(j graph.Joint) (discLine, bool) {
	for _, d := range c.discs {
		if d.known && (j.A == d.caliper && j.B == d.lug || j.B == d.caliper && j.A == d.lug) {
			return d, true
		}
	}
	return discLine{}, false
}

// findDiscs finds where each disc of the machine runs, and which of them is
// known as built.
func (c *connections) findDiscs(s *Setup) {
	built := s.AsBuilt()
	x := &examiner{built: built, before: built, after: built, connections: c}
	c.discs = c.findDiscLines(built)
	for i, d := range c.discs {
		checks := x.discChecks(built, d)
		c.discs[i].known = d.caliper.Position != "" && mating.Worst(checks) != graph.Unknown
	}
}

// findDiscLines finds them on a machine, in the order of the rows.
func (c *connections) findDiscLines(s *Setup) []discLine {
	var found []discLine
	for _, st := range append(slices.Clone(c.stacks), c.rows...) {
		for i, ref := range st.Row {
			for _, j := range c.known {
				mount, disc, ok := endsOf(j, func(own, other graph.FeatureRef) bool {
					return own.Position == ref.Position && s.kindOf(own) == "bolt-pattern" && hasKind(s.Seat(other.Position).Part, "disc-rim")
				})
				if !ok {
					continue
				}
				if d, ok := c.discLineAt(s, st, i+1, mount, disc.Position); ok {
					found = append(found, d)
				}
			}
		}
	}
	return found
}

// discLineAt finds the caliper of a disc and what holds it: another member of
// the row, what the row sits within, or its twin on the other side.
func (c *connections) discLineAt(s *Setup, st graph.Stack, member int, mount graph.FeatureRef, disc graph.PositionID) (discLine, bool) {
	d := discLine{stack: st, member: member, mount: mount}
	rim, slot, ok := c.meets(func(own, other graph.FeatureRef) bool {
		return own.Position == disc && s.kindOf(own) == "disc-rim" && s.kindOf(other) == "caliper-slot"
	})
	if !ok {
		return d, false
	}
	mounted, lug, ok := c.meets(func(own, other graph.FeatureRef) bool {
		return own.Position == slot.Position && s.kindOf(own) == "caliper-mount" && s.kindOf(other) == "caliper-mount"
	})
	if !ok {
		return d, false
	}
	d.disc, d.lug, d.caliper = rim, lug, mounted
	d.holder = 1 + slices.IndexFunc(st.Row, func(ref graph.FeatureRef) bool { return ref.Position == lug.Position })
	if d.holder > 0 {
		d.left = d.holder < member
		return d, d.holder != member
	}
	side := s.Seat(lug.Position).Position.Side
	d.left = side == "left"
	return d, side != "" && (lug.Position == st.Within.Position || lug.Position == twinOf(st.Within.Position))
}

// meets is the first joint that was read, either way round, whose ends are what
// is looked for.
func (c *connections) meets(is func(own, other graph.FeatureRef) bool) (own, other graph.FeatureRef, ok bool) {
	for _, j := range c.known {
		if own, other, ok := endsOf(j, is); ok {
			return own, other, true
		}
	}
	return graph.FeatureRef{}, graph.FeatureRef{}, false
}

func endsOf(j graph.Joint, is func(own, other graph.FeatureRef) bool) (own, other graph.FeatureRef, ok bool) {
	switch {
	case is(j.A, j.B):
		return j.A, j.B, true
	case is(j.B, j.A):
		return j.B, j.A, true
	}
	return graph.FeatureRef{}, graph.FeatureRef{}, false
}

// addRows reads the rows that decide where a changed disc, or one whose caliper
// hangs on something changed, runs. The rows themselves are not judged again.
func (c *connections) addRows(ctx context.Context, s *Setup) error {
	var wheels []graph.PositionID
	for _, j := range c.known {
		if mount, _, ok := endsOf(j, func(own, other graph.FeatureRef) bool {
			return s.kindOf(own) == "bolt-pattern" && hasKind(s.Seat(other.Position).Part, "disc-rim")
		}); ok {
			wheels = append(wheels, mount.Position)
		}
	}
	rows, err := s.Library().stacksTouching(ctx, s.Variant.ID, unique(wheels))
	if err != nil {
		return err
	}
	var places []graph.PositionID
	for _, st := range rows {
		if !slices.ContainsFunc(c.stacks, func(have graph.Stack) bool { return have.ID == st.ID }) {
			c.rows = append(c.rows, st)
			places = append(places, stackPlaces(st)...)
		}
	}
	return s.Load(ctx, places...)
}
