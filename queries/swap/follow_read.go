package swap

import (
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// prepare reads in few calls what the first step of every trail needs: what
// touches the partners, what the new parts meet on their donors, and, where that
// does not put everything right, adapters and parts of the same kind.
func (f *follower) prepare(s *machine.Setup, problems []examine.Outcome) error {
	problems = lists.Kept(slices.Clone(problems), func(o examine.Outcome) bool { return !onlyMeasuring(o) })
	var partners []graph.PositionID
	for _, o := range problems {
		partners = append(partners, f.partnersOf(s, o)...)
	}
	if err := f.read(s, lists.Unique(partners)); err != nil {
		return err
	}
	var open []examine.Outcome
	partners = nil
	for _, o := range problems {
		tried, err := f.tryDonors(s, o, f.partnersOf(s, o))
		if err != nil {
			return err
		}
		if !slices.ContainsFunc(tried, func(c candidate) bool { return c.isClean() && c.putsRight(o) }) {
			open = append(open, o)
			partners = append(partners, f.partnersOf(s, o)...)
		}
	}
	if err := f.readAdapters(s, open); err != nil {
		return err
	}
	return f.readKinds(s, partners)
}

// onlyMeasuring reports whether nothing but a measurement can help.
func onlyMeasuring(o examine.Outcome) bool {
	return o.After == graph.Unknown && !examine.HasOrders(o.Checks)
}

// read reads the surroundings of positions that were not read yet, and what
// sits at the positions of the same names on the donors.
func (f *follower) read(s *machine.Setup, positions []graph.PositionID) error {
	missing := lists.Kept(positions, func(id graph.PositionID) bool { return f.around[id] == nil })
	if len(missing) == 0 {
		return nil
	}
	around, err := examine.ConnectionsAt(f.ctx, s, missing)
	if err != nil {
		return err
	}
	for _, id := range missing {
		f.around[id] = around
	}
	for _, id := range lists.KeysOf(f.donors) {
		d := f.donors[id]
		if err := d.setup.Load(f.ctx, lists.Mapped(missing,
			func(p graph.PositionID) graph.PositionID { return onDonor(d, p) })...); err != nil {
			return err
		}
	}
	return nil
}

// ReadKinds reads the parts of the kinds that sit at positions.
func (f *follower) readKinds(s *machine.Setup, positions []graph.PositionID) error {
	var ids []graph.PartID
	for _, kind := range lists.Unique(lists.Mapped(positions,
		func(id graph.PositionID) graph.KindID { return s.Seat(id).Part.Kind })) {
		if _, read := f.kinds[kind]; read || IsHardware(kind) {
			continue
		}
		of, err := s.Library().Reader().PartsOfKind(f.ctx, kind)
		if err != nil {
			return err
		}
		if len(of) > machine.MaxOfKind {
			of = nil
		}
		f.kinds[kind] = of
		ids = append(ids, of...)
	}
	return s.Library().ReadParts(f.ctx, ids)
}

// IsHardware names the kinds of which there are hundreds.
func IsHardware(kind graph.KindID) bool {
	return slices.Contains([]graph.KindID{"", "bolt", "nut", "washer", "stud", "clip", "circlip", "split-pin", "insert"},
		kind)
}

// onDonor is the position of a donor that goes by the same name.
func onDonor(d donorSeat, p graph.PositionID) graph.PositionID {
	return graph.PositionID(string(d.setup.Variant.Model) + ":" + p.Local())
}
