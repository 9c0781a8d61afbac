package swap

import (
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// services are what the change asks for besides parts: new fluid, fork oil and coolant,
// pads with a new disc, a link for a new chain, and what proves the work. Fitted are the parts that go on
// as well, by position.
func services(x *judging, outcomes []examine.Outcome, fitted map[graph.PositionID]graph.PartID) []RenewRow {
	return slices.Concat(newFluid(x, outcomes), newOil(x), newCoolant(x, outcomes), newTyres(x, outcomes),
		newFriction(x, fitted), newLinks(x, outcomes))
}

// newCoolant says what fills the cooling again where the change takes a hose of it off.
func newCoolant(x *judging, outcomes []examine.Outcome) []RenewRow {
	var rows []RenewRow
	for _, o := range outcomes {
		if !o.Disturbed {
			continue
		}
		for _, e := range o.Ends {
			p := x.After.Seat(e.Position).Position
			if p.Kind != "rubber-hose" || !p.UsesUp("coolant") {
				continue
			}
			if len(rows) == 0 { // it is filled once, whatever comes off
				rows = []RenewRow{{Position: p.ID, Text: mating.CoolantService(true), refills: true}}
			}
			rows[0].For = append(rows[0].For, o.Joint.ID)
		}
	}
	return rows
}

// newLinks says of each new chain what closes it, where no joint of the machine held a
// link against it.
func newLinks(x *judging, outcomes []examine.Outcome) []RenewRow {
	var rows []RenewRow
	for _, id := range x.After.Changed() {
		chain, isChain := machine.FeatureOfKind(x.After.Seat(id).Part, "chain")
		if !isChain {
			continue
		}
		isAt := func(ref graph.FeatureRef) bool { return ref == graph.FeatureRef{Position: id, Feature: chain.Name} }
		judged := slices.ContainsFunc(outcomes, func(o examine.Outcome) bool {
			return isAt(o.Joint.A) && x.After.KindOf(o.Joint.B) == "joining-link" ||
				isAt(o.Joint.B) && x.After.KindOf(o.Joint.A) == "joining-link"
		})
		if text := mating.LinkService(mating.ChainLink{NewChain: true, Judged: judged}); text != "" {
			rows = append(rows, RenewRow{Position: id, Text: text, For: jointsAt(x, id), Link: true})
		}
	}
	return rows
}

// newFluid says of each circuit that the change opens what goes in again.
func newFluid(x *judging, outcomes []examine.Outcome) []RenewRow {
	var rows []RenewRow
	for _, circuit := range outcomes {
		if circuit.What != examine.OfCircuit || !slices.ContainsFunc(circuit.Ends, x.takesFluid) {
			continue
		}
		row := RenewRow{Position: circuit.Ends[0].Position, For: lists.Unique(openedIn(x, circuit, outcomes))}
		row.Text = mating.FluidService(mating.WetCircuit{Opened: len(row.For) > 0, Fluids: circuit.Why,
			Agreed: circuit.After == graph.Fits})
		if row.Text != "" {
			rows = append(rows, row)
		}
	}
	return rows
}

// legKinds are the kinds of part that a fork leg is, or is opened to reach. A dust
// seal is outside.
func legKinds() []graph.KindID {
	return []graph.KindID{"fork-leg", "fork-tube", "fork-spring", "fork-cap", "fork-seal"}
}

// LegOpened is the fork leg, of those given, that is opened to reach what sits at a place,
// so that its oil goes in anew: the one on its side, else the place itself. Empty for
// anything that is not in a leg.
func LegOpened(at graph.Position, legs []graph.Position) graph.PositionID {
	if !slices.Contains(legKinds(), at.Kind) {
		return ""
	}
	for _, leg := range legs {
		if leg.ID != at.ID && leg.Side == at.Side && at.Kind != "fork-leg" {
			return leg.ID
		}
	}
	return at.ID
}

// newOil says of each fork leg that the change opens what oil goes in.
func newOil(x *judging) []RenewRow {
	var rows []RenewRow
	legs := lists.Mapped(x.legs, func(id graph.PositionID) graph.Position { return x.After.Seat(id).Position })
	for _, id := range x.After.Changed() {
		leg := LegOpened(x.After.Seat(id).Position, legs)
		if leg == "" || x.After.Seat(id).Empty {
			continue
		}
		oil := x.After.KindAt(leg, "oil-fill").Feature
		row := RenewRow{Position: leg, For: jointsAt(x, id), Oil: true, refills: true}
		row.Text = mating.OilService(mating.LegOil{Opened: true, Grade: machine.BestText(oil, "grade"),
			Level: machine.BestText(oil, "level")})
		if !slices.ContainsFunc(rows, func(r RenewRow) bool { return r.Position == leg }) {
			rows = append(rows, row)
		}
	}
	return rows
}

// jointsAt are the joints of a place that were read.
func jointsAt(x *judging, id graph.PositionID) []graph.JointID {
	at := []graph.JointID{}
	for _, j := range x.Joints {
		if j.A.Position == id || j.B.Position == id {
			at = append(at, j.ID)
		}
	}
	return lists.Unique(at)
}

// newTyres says of each tyre that goes onto a rim what proves that it sits there.
func newTyres(x *judging, outcomes []examine.Outcome) []RenewRow {
	var rows []RenewRow
	for _, o := range outcomes {
		for _, ref := range []graph.FeatureRef{o.Joint.A, o.Joint.B} {
			tyre := x.After.Seat(ref.Position).Position
			isTold := slices.ContainsFunc(rows, func(r RenewRow) bool { return r.Position == ref.Position })
			if o.What == examine.OfJoint && o.Disturbed && x.After.KindOf(ref) == "tyre" && !isTold &&
				tyre.Kind == "tyre" {
				rows = append(rows, RenewRow{Position: ref.Position, For: []graph.JointID{o.Joint.ID}, Work: true,
					Text: mating.TyreService(true)})
				rows = append(rows, valvesOf(x, tyre.Assembly, o.Joint.ID)...)
			}
		}
	}
	return rows
}

// valvesOf are the valves of a wheel whose tyre comes off: they go on new with it. Common
// practice, no source.
func valvesOf(x *judging, of graph.AssemblyID, opened graph.JointID) []RenewRow {
	var rows []RenewRow
	for _, id := range x.valves {
		if seat := x.After.Seat(id); seat.Position.Assembly == of && !seat.Empty && !seat.Changed {
			rows = append(rows, RenewRow{Position: id, Part: seat.Part.ID, Quantity: x.After.Quantity(id),
				Text: machine.NameOf(seat.Part), For: []graph.JointID{opened}})
		}
	}
	return rows
}

// newFriction says what new discs and pads ask for, each at the pads.
func newFriction(x *judging, fitted map[graph.PositionID]graph.PartID) []RenewRow {
	var rows []RenewRow
	add := func(id graph.PositionID, f mating.Friction) {
		gets, work := mating.FrictionService(f)
		for i, text := range slices.Concat(gets, work) {
			row := RenewRow{Position: id, Text: text, For: jointsAt(x, id), Work: i >= len(gets)}
			if seat := x.After.Seat(id); !row.Work && slices.Contains(x.pads, id) && !seat.Empty {
				row.Part, row.Quantity = seat.Part.ID, x.After.Quantity(id)
			}
			rows = append(rows, row)
		}
	}
	told := map[graph.PositionID]bool{}
	isNew := func(id graph.PositionID) bool {
		_, comes := fitted[id]
		return comes || x.After.Seat(id).Changed
	}
	for _, disc := range x.After.Changed() {
		if !machine.HasKind(x.After.Seat(disc).Part, "disc-rim") {
			continue
		}
		pads := padsOf(x, disc)
		for _, id := range pads {
			told[id] = true
			add(id, mating.Friction{NewDisc: true, NewPads: isNew(id)})
		}
		if len(pads) == 0 {
			add(disc, mating.Friction{NewDisc: true})
		}
	}
	for _, id := range x.pads {
		if isNew(id) && !told[id] {
			add(id, mating.Friction{NewPads: true})
		}
	}
	return rows
}

// padsOf are the places of the pads that run on a disc: those of its assembly, on
// its side where they have one.
func padsOf(x *judging, disc graph.PositionID) []graph.PositionID {
	side := x.After.Seat(disc).Position.Side
	return lists.Kept(slices.Clone(x.pads), func(id graph.PositionID) bool {
		return id.Assembly() == disc.Assembly() && x.After.Seat(id).Position.Side == side
	})
}

// openedIn are the joints of a circuit that fluid comes out of when the change is
// made.
func openedIn(x *judging, circuit examine.Outcome, outcomes []examine.Outcome) []graph.JointID {
	var opened []graph.JointID
	in := func(id graph.PositionID) bool {
		return slices.ContainsFunc(circuit.Ends, func(e examine.End) bool { return e.Position == id })
	}
	for _, o := range outcomes {
		wet := o.Disturbed && (in(o.Joint.A.Position) || in(o.Joint.B.Position)) &&
			(slices.Contains(machine.WetKinds(), x.After.KindOf(o.Joint.A)) ||
				slices.Contains(machine.WetKinds(), x.After.KindOf(o.Joint.B)))
		if wet {
			opened = append(opened, o.Joint.ID)
		}
	}
	return opened
}
