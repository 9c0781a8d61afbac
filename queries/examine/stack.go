package examine

import (
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

func stack(x *Examiner, st graph.Stack) Outcome {
	o := Outcome{What: OfStack, ID: string(st.ID), Ends: x.Ends(append([]graph.FeatureRef{st.Within}, st.Row...)...)}
	was, is := x.checks(OfStack+string(st.ID), func(s *machine.Setup) []mating.Check { return stackChecks(x, s, st) })
	return x.Judged(o, was, is)
}

func stackChecks(x *Examiner, s *machine.Setup, st graph.Stack) []mating.Check {
	places := []graph.PositionID{st.Within.Position}
	for _, ref := range rowOn(s, st).Row {
		places = append(places, ref.Position)
	}
	if absent := s.Absent(lists.Unique(places)...); len(absent) > 0 {
		return absent
	}
	in := stackCase(x, s, st)
	in.Keep, in.Brief = keepOf(x, s, st), x.isBrief(s)
	return mating.JudgeStack(in)
}

// keepOf is the carrier of the rear sprocket in a row: it must stay where it was
// as built for the chain to run straight. Another carrier brings a face of its
// own, which the chain is judged by, and which was measured in a row of its own.
func keepOf(x *Examiner, s *machine.Setup, st graph.Stack) *mating.Keep {
	for i, ref := range st.Row {
		part, built := s.Seat(ref.Position).Part, x.Built.Seat(ref.Position).Part
		plane, ok := machine.FeatureOfKind(part, "sprocket-plane")
		if !ok {
			continue
		}
		k := &mating.Keep{Name: "rear sprocket", Member: memberOn(s, st, i+1), Was: stackCase(x, x.Built, st),
			WasMember: memberOn(x.Built, st, i+1)}
		if part.ID == built.ID {
			return k
		}
		if was, ok := machine.FeatureOfKind(built, "sprocket-plane"); ok {
			k.Plane = s.Side(graph.FeatureRef{Position: ref.Position, Feature: plane.Name})
			k.WasPlane = x.Built.Side(graph.FeatureRef{Position: ref.Position, Feature: was.Name})
			return k
		}
	}
	return nil
}

// rowOn is a row without what is left out of it on one state of the machine.
func rowOn(s *machine.Setup, st graph.Stack) graph.Stack {
	isOut := func(ref graph.FeatureRef) bool { return s.IsLeftOut(ref.Position) }
	if slices.ContainsFunc(st.Row, isOut) {
		st.Row = slices.DeleteFunc(slices.Clone(st.Row), isOut)
	}
	return st
}

// memberOn is the number, counted from 1, that a member of a whole row has in rowOn; 0 for
// none.
func memberOn(s *machine.Setup, st graph.Stack, member int) int {
	if member == 0 {
		return 0
	}
	return 1 + slices.Index(rowOn(s, st).Row, st.Row[member-1])
}

func stackCase(x *Examiner, s *machine.Setup, st graph.Stack) mating.StackCase {
	in := mating.StackCase{Stack: st.ID, Within: s.Side(st.Within), Seals: map[graph.PositionID]mating.Side{},
		Held: map[graph.PositionID]mating.Hold{}}
	for i, ref := range rowOn(s, st).Row {
		in.Row = append(in.Row, mating.Member{Side: s.Side(ref), Spacer: IsSpacer(s.Seat(ref.Position))})
		if hold, ok := holdOf(x, s, ref.Position, st); ok {
			in.Held[ref.Position] = hold
		}
		if seal := sealOn(x, s, ref.Position); !seal.IsZero() {
			in.Seals[ref.Position] = seal
		}
		if ref == st.Centre {
			in.Centre = i + 1
		}
	}
	in.Shaft = shaftThrough(x, s, st)
	classes := x.SafetyOf(x.Ends(append([]graph.FeatureRef{st.Within}, st.Row...)...))
	in.Safety, in.Head = FirstSafety(classes), slices.Equal(classes, []graph.Safety{graph.SafetySteering})
	return in
}

// holdOf is what holds a member of a row besides the axle: its bolts, hole on hole, or its
// anchor, an eye between cheeks, where it carries a brake; at what the row lies in, or by way
// of parts outside the row at that. It is false for a member that only sits on the axle.
func holdOf(x *Examiner, s *machine.Setup, member graph.PositionID, st graph.Stack) (mating.Hold, bool) {
	seen := map[graph.PositionID]bool{member: true}
	for _, ref := range st.Row {
		seen[ref.Position] = true
	}
	brake := carriesBrake(s, member)
	type way struct {
		at   graph.PositionID
		hold mating.Hold
	}
	for next := []way{{at: member}}; len(next) > 0; {
		from := next[0]
		next = next[1:]
		for j := range x.JointsAt(from.at) {
			to := way{at: j.A.Position, hold: from.hold}
			if to.at == from.at {
				to.at = j.B.Position
			}
			switch a, b := s.KindOf(j.A), s.KindOf(j.B); {
			case a == "bolt-pattern" && b == "bolt-pattern":
			case !brake:
				continue
			case a == "eye" && b == "clevis":
				to.hold = anchored(from.hold, mating.EyePair{Eye: s.Side(j.A), Clevis: s.Side(j.B)})
			case a == "clevis" && b == "eye":
				to.hold = anchored(from.hold, mating.EyePair{Eye: s.Side(j.B), Clevis: s.Side(j.A)})
			default:
				continue
			}
			switch {
			case to.at == st.Within.Position:
				return to.hold, true
			case !seen[to.at]:
				seen[to.at] = true
				next = append(next, to)
			}
		}
	}
	return mating.Hold{}, false
}

// carriesBrake reports whether a brake hangs on what sits at a place: a brake plate, or a
// caliper's bracket.
func carriesBrake(s *machine.Setup, id graph.PositionID) bool {
	return s.HasAt(id, "shoe-carrier") || s.HasAt(id, "caliper-mount")
}

// anchored is a hold by another eye as well.
func anchored(h mating.Hold, pair mating.EyePair) mating.Hold {
	return mating.Hold{Anchor: true, Pairs: append(slices.Clone(h.Pairs), pair)}
}

// sealOn is the seal that runs on a spacer.
func sealOn(x *Examiner, s *machine.Setup, spacer graph.PositionID) mating.Side {
	_, seal, ok := x.meets(spacer, func(own, other graph.FeatureRef) bool {
		return s.KindOf(own) == "shaft" && s.KindOf(other) == "seal"
	})
	if !ok {
		return mating.Side{}
	}
	return s.Side(seal)
}

// IsSpacer tells a plain spacer, which can be made to another width, by what
// belongs at its position or by the part's own kind.
func IsSpacer(seat machine.Seat) bool {
	for _, kind := range []graph.KindID{seat.Position.Kind, seat.Part.Kind} {
		for _, word := range []string{"spacer", "shim", "collar"} {
			if strings.Contains(string(kind), word) {
				return true
			}
		}
	}
	return false
}

// shaftThrough is the shaft that most joints put through members of the row or through
// what the row sits within; of two alike the one that what it sits within holds.
func shaftThrough(x *Examiner, s *machine.Setup, st graph.Stack) mating.Side {
	along := map[graph.PositionID]int{st.Within.Position: 3}
	for _, ref := range st.Row {
		along[ref.Position] = max(along[ref.Position], 2)
	}
	var shafts []graph.FeatureRef
	joins := map[graph.FeatureRef]int{}
	for j := range x.JointsAt(lists.KeysOf(along)...) {
		for _, ends := range [][2]graph.FeatureRef{{j.A, j.B}, {j.B, j.A}} {
			if along[ends[0].Position] > 0 && along[ends[1].Position] == 0 && s.KindOf(ends[1]) == "shaft" {
				if joins[ends[1]] == 0 {
					shafts = append(shafts, ends[1])
				}
				joins[ends[1]] += along[ends[0].Position]
			}
		}
	}
	if len(shafts) == 0 {
		return mating.Side{}
	}
	best := shafts[0]
	for _, ref := range shafts[1:] {
		if joins[ref] > joins[best] {
			best = ref
		}
	}
	return s.Side(best)
}
