package queries

import (
	"slices"

	"matewell/graph"
)

// maxOfKind is how many parts of one kind are tried; hardware, of which there
// are hundreds, is ordered by its sizes instead.
const maxOfKind = 60

// prepare reads in few calls what the first step of every trail needs: what
// touches the partners, what the new parts meet on their donors, and, where that
// does not put everything right, adapters and parts of the same kind.
func (f *follower) prepare(s *Setup, problems []Outcome) error {
	problems = kept(slices.Clone(problems), func(o Outcome) bool { return !onlyMeasuring(o) })
	var partners []graph.PositionID
	for _, o := range problems {
		partners = append(partners, f.partnersOf(s, o)...)
	}
	if err := f.read(s, unique(partners)); err != nil {
		return err
	}
	var open []Outcome
	partners = nil
	for _, o := range problems {
		tried, err := f.tryDonors(s, o, f.partnersOf(s, o))
		if err != nil {
			return err
		}
		if !slices.ContainsFunc(tried, func(c candidate) bool { return c.isClean() && c.closes(o) }) {
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
func onlyMeasuring(o Outcome) bool { return o.After == graph.Unknown && !hasOrders(o.Checks) }

// read reads the surroundings of positions that were not read yet, and what
// sits at the positions of the same names on the donors.
func (f *follower) read(s *Setup, positions []graph.PositionID) error {
	missing := kept(positions, func(id graph.PositionID) bool { return f.around[id] == nil })
	if len(missing) == 0 {
		return nil
	}
	around, err := connectionsAt(f.ctx, s, missing)
	if err != nil {
		return err
	}
	for _, id := range missing {
		f.around[id] = around
	}
	for _, id := range keysOf(f.donors) {
		d := f.donors[id]
		if err := d.setup.Load(f.ctx, mapped(missing, func(p graph.PositionID) graph.PositionID { return onDonor(d, p) })...); err != nil {
			return err
		}
	}
	return nil
}

// readKinds reads the parts of the kinds that sit at positions.
func (f *follower) readKinds(s *Setup, positions []graph.PositionID) error {
	var ids []graph.PartID
	for _, kind := range unique(mapped(positions, func(id graph.PositionID) graph.KindID { return s.Seat(id).Part.Kind })) {
		if _, read := f.kinds[kind]; read || isHardware(kind) {
			continue
		}
		of, err := s.Library().reader().PartsOfKind(f.ctx, kind)
		if err != nil {
			return err
		}
		if len(of) > maxOfKind {
			of = nil
		}
		f.kinds[kind] = of
		ids = append(ids, of...)
	}
	return s.Library().readParts(f.ctx, ids)
}

// isHardware names the kinds of which there are hundreds.
func isHardware(kind graph.KindID) bool {
	return slices.Contains([]graph.KindID{"", "bolt", "nut", "washer", "stud", "clip", "circlip", "split-pin", "insert"}, kind)
}

// onDonor is the position of a donor that goes by the same name.
func onDonor(d donorSeat, p graph.PositionID) graph.PositionID {
	return graph.PositionID(string(d.setup.Variant.Model) + ":" + p.Local())
}
