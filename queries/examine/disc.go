package examine

import (
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
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
	places := append(d.stack.Places(), d.mount.Position, d.disc.Position, d.lug.Position)
	if d.known {
		places = append(places, d.caliper.Position)
	}
	return lists.Unique(lists.Kept(places,
		func(id graph.PositionID) bool { return id != "" }))
}

func discRun(x *Examiner, d discLine) Outcome {
	o := Outcome{What: OfDisc, ID: string(d.disc.Position)}
	if !x.checksOnly {
		o.Ends = x.Ends(append(d.meets(), d.stack.Row...)...)
	}
	was, is := x.checks(OfDisc+o.ID, func(s *machine.Setup) []mating.Check { return discChecks(x, s, d) })
	return x.Judged(o, was, is)
}

func discChecks(x *Examiner, s *machine.Setup, d discLine) []mating.Check {
	places := lists.Kept(d.places(), func(id graph.PositionID) bool { return !s.IsLeftOut(id) || d.meetsAt(id) })
	if absent := s.Absent(places...); len(absent) > 0 {
		return absent
	}
	in := discCase(x, s, d)
	in.Brief = x.isBrief(s)
	return mating.JudgeDiscLine(in)
}

// meetsAt reports whether something that it needs besides the row is at a place.
func (d discLine) meetsAt(id graph.PositionID) bool {
	return slices.ContainsFunc(d.meets(), func(ref graph.FeatureRef) bool { return ref.Position == id })
}

// LugEnd is the place of what holds the caliper among meets, and so among the
// ends of the outcome.
const LugEnd = 2

// meets are the features that decide it besides those of the row.
func (d discLine) meets() []graph.FeatureRef {
	refs := []graph.FeatureRef{d.disc, d.mount, d.lug}
	if d.known {
		refs = append(refs, d.caliper)
	}
	return refs
}

func discCase(x *Examiner, s *machine.Setup, d discLine) mating.DiscLineCase {
	in := mating.DiscLineCase{Stack: stackCase(x, s, d.stack), Member: memberOn(s, d.stack, d.member),
		Holder: memberOn(s, d.stack, d.holder), Left: d.left,
		Mount: s.Side(d.mount), Disc: s.Side(d.disc), Lug: s.Side(d.lug)}
	in.Hub = hubEnds(s, d.mount.Position)
	in.Under = under(x, s, d.disc.Position)
	in.Packed, in.Bracketed = s.PackedUnder(d.caliper.Position), isBracketed(x, s, d)
	if d.known {
		in.Caliper = s.Side(d.caliper)
		in.Pistons = s.KindAt(d.caliper.Position, "pistons")
		in.Own = asBuilt(x, s, d.lug.Position) && asBuilt(x, s, d.caliper.Position)
	}
	return in
}

func asBuilt(x *Examiner, s *machine.Setup, id graph.PositionID) bool {
	return s.Seat(id).IsSame(x.Built.Seat(id))
}

// discLineOf is the disc line that judges the slot of a caliper over its disc,
// for the joint that holds the caliper.
func discLineOf(c *Connections, j graph.Joint) (discLine, bool) {
	for _, d := range c.discs {
		if d.known && (j.A == d.caliper && j.B == d.lug || j.B == d.caliper && j.A == d.lug) {
			return d, true
		}
	}
	return discLine{}, false
}

// findDiscs finds where each disc of the machine runs, and which of them is
// known as built.
func findDiscs(c *Connections, s *machine.Setup) {
	built := s.AsBuilt()
	x := examiner(c, From(built), built)
	c.discs = findDiscLines(c, built)
	for i, d := range c.discs {
		checks := discChecks(x, built, d)
		c.discs[i].known = d.caliper.Position != "" && mating.Worst(checks) != graph.Unknown
	}
}

// findDiscLines finds them on a machine, in the order of the rows.
func findDiscLines(c *Connections, s *machine.Setup) []discLine {
	var found []discLine
	for _, st := range append(slices.Clone(c.stacks), c.rows...) {
		for i, ref := range st.Row {
			for j := range c.JointsAt(ref.Position) {
				mount, disc, ok := endsOf(j, func(own, other graph.FeatureRef) bool {
					return own.Position == ref.Position && s.KindOf(own) == "bolt-pattern" &&
						machine.HasKind(s.Seat(other.Position).Part, "disc-rim")
				})
				if !ok {
					continue
				}
				if d, ok := discLineAt(c, s, st, i+1, mount, disc.Position); ok {
					found = append(found, d)
				}
			}
		}
	}
	return found
}

// discLineAt finds the caliper of a disc and what holds it: another member of
// the row, what the row sits within, or its twin on the other side.
func discLineAt(c *Connections, s *machine.Setup, st graph.Stack, member int, mount graph.FeatureRef,
	disc graph.PositionID) (discLine, bool) {
	d := discLine{stack: st, member: member, mount: mount}
	rim, slot, ok := c.meets(disc, func(own, other graph.FeatureRef) bool {
		return s.KindOf(own) == "disc-rim" && s.KindOf(other) == "caliper-slot"
	})
	if !ok {
		return d, false
	}
	mounted, lug, ok := c.meets(slot.Position, func(own, other graph.FeatureRef) bool {
		return s.KindOf(own) == "caliper-mount" && s.KindOf(other) == "caliper-mount"
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
	return d, side != "" && (lug.Position == st.Within.Position || lug.Position == machine.OtherSide(st.Within.Position))
}

func endsOf(j *graph.Joint, is func(own, other graph.FeatureRef) bool) (own, other graph.FeatureRef, ok bool) {
	switch {
	case is(j.A, j.B):
		return j.A, j.B, true
	case is(j.B, j.A):
		return j.B, j.A, true
	}
	return graph.FeatureRef{}, graph.FeatureRef{}, false
}

// addRows reads the rows that decide where a changed disc, or one whose caliper
// hangs on something changed, runs, those of hubs whose bearings were met, and those that
// an axle or pivot goes through. The rows themselves are not judged again.
func addRows(ctx context.Context, c *Connections, s *machine.Setup) error {
	var wheels []graph.PositionID
	for i := range c.Known {
		j := &c.Known[i]
		if mount, _, ok := endsOf(j, func(own, other graph.FeatureRef) bool {
			return s.KindOf(own) == "bolt-pattern" && machine.HasKind(s.Seat(other.Position).Part, "disc-rim")
		}); ok {
			wheels = append(wheels, mount.Position)
		}
		if _, hub, ok := endsOf(j, func(own, other graph.FeatureRef) bool {
			return s.KindOf(own) == "bearing" && s.KindOf(other) == "bearing-seat"
		}); ok {
			wheels = append(wheels, hub.Position) // for the spacers beside it
		}
		if _, holder, ok := endsOf(j, func(own, other graph.FeatureRef) bool {
			return s.KindOf(own) == "shaft" && s.HasAt(other.Position, "gap")
		}); ok {
			wheels = append(wheels, holder.Position) // for what an axle or pivot carries between its ends
		}
	}
	rows, err := s.Library().StacksTouching(ctx, s.Variant.ID, lists.Unique(wheels))
	if err != nil {
		return err
	}
	var places []graph.PositionID
	for _, st := range rows {
		if !slices.ContainsFunc(c.stacks, func(have graph.Stack) bool { return have.ID == st.ID }) {
			c.rows = append(c.rows, st)
			places = append(places, st.Places()...)
		}
	}
	return s.Load(ctx, places...)
}

// hubEnds are the end faces of the hub at a place.
func hubEnds(s *machine.Setup, hub graph.PositionID) mating.HubEnds {
	h := mating.HubEnds{Hub: s.KindAt(hub, "hub-row")}
	for _, f := range s.Seat(hub).Part.Features {
		side := s.Side(graph.FeatureRef{Position: hub, Feature: f.Name})
		switch {
		case f.Kind != "bearing-seat":
		case strings.Contains(f.Name, "left"):
			h.Left = side
		case strings.Contains(f.Name, "right"):
			h.Right = side
		}
	}
	return h
}
