package assemble

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// Machine is how a whole machine is joined together.
type Machine struct {
	// Case has every place with what must be on before it, and every joint;
	// nothing in it is replaced yet.
	Case
	Positions []graph.Position // those of the variant, sorted
	Known     map[graph.JointID]graph.Joint
	Bolts     map[graph.PositionID]bool // places of bolts, nuts and washers of joints
	// Owners are what the bolts, clips and gaskets that no joint names belong to, by name.
	Owners map[graph.PositionID]graph.PositionID
}

// Read reads how the machine of a setup is joined together, and loads all that
// sits on it.
func Read(ctx context.Context, s *machine.Setup) (Machine, error) {
	v := s.Variant
	m := Machine{Known: map[graph.JointID]graph.Joint{}, Bolts: map[graph.PositionID]bool{},
		Owners: map[graph.PositionID]graph.PositionID{}, Case: Case{
			Bends: map[graph.PositionID]bool{}, There: map[graph.PositionID]bool{},
			Lines: map[graph.PositionID]bool{}, Chains: map[graph.PositionID]bool{}, Clips: map[graph.PositionID]bool{},
			Rods:  map[graph.PositionID]bool{},
			Glued: map[graph.PositionID]bool{}, OnSpot: map[graph.PositionID]bool{},
			Sides: map[graph.PositionID]string{},
			After: map[graph.PositionID][]graph.PositionID{}}}
	all, err := s.Library().Reader().PositionsOf(ctx, v.Model)
	if err != nil {
		return m, err
	}
	m.Positions = lists.Kept(all, func(p graph.Position) bool { return slices.Contains(p.On, v.ID) })
	ids := lists.Mapped(m.Positions, func(p graph.Position) graph.PositionID { return p.ID })
	if err := s.Load(ctx, ids...); err != nil {
		return m, err
	}
	if err := readKinds(ctx, s, m.Positions); err != nil {
		return m, err
	}
	for _, p := range m.Positions {
		seat := s.Seat(p.ID)
		if p.Side != "" {
			m.Sides[p.ID] = p.Side
		}
		m.After[p.ID], m.There[p.ID] = p.After, !seat.Empty || seat.Scrap.ID != ""
		if kinds := kindsAt(s, p.ID); slices.ContainsFunc(kinds, machine.RunsRound) {
			m.Lines[p.ID], m.Chains[p.ID] = true, true
		} else if p.Kind == "decal" {
			m.Glued[p.ID] = true
		} else if p.Kind == "brake-rod" {
			m.Rods[p.ID] = true
		} else if m.Root == "" && slices.Contains(kinds, "frame-geometry") {
			m.Root = p.ID
		}
	}
	return m, m.readJoints(ctx, s, ids)
}

// Held are the places that hang together with the frame over what is there, by joints
// that hold, and not by a hose, cable, lead or plug: how many joints each is from it, from
// 1. It is nil when no frame is known.
func (m *Machine) Held(isThere func(graph.PositionID) bool) map[graph.PositionID]int {
	if m.Root == "" || !isThere(m.Root) {
		return nil
	}
	return depthsOver(m.Case, func(j Joint) bool {
		return j.Holds && !j.Electric && isThere(j.A) && isThere(j.B) && !m.Bends[j.A] && !m.Bends[j.B]
	}, nil)
}

// readJoints reads what meets what, and what follows from that.
func (m *Machine) readJoints(ctx context.Context, s *machine.Setup, ids []graph.PositionID) error {
	v := s.Variant
	runs, err := s.Library().RunsTouching(ctx, v.ID, ids)
	if err != nil {
		return err
	}
	for _, run := range runs {
		m.Bends[run.Line] = true
		m.Lines[run.Line] = m.Lines[run.Line] || run.From.Position != run.Line && run.To.Position != run.Line
	}
	joints, err := s.Library().JointsTouching(ctx, v.ID, ids)
	for _, j := range joints {
		m.Known[j.ID] = j
		if onlySuits(s, j) {
			continue
		}
		one := JointOf(s, j)
		for _, id := range one.Fasteners {
			m.Clips[id] = IsHoseClip(s.Position(id).Kind)
			m.Bolts[id] = true
		}
		for _, id := range one.Between {
			m.Bolts[id] = m.Bolts[id] || machine.IsHardware(s.Position(id).Kind)
		}
		if one.Nut != "" {
			m.Bolts[one.Nut] = true
		}
		m.Joints = append(m.Joints, one)
	}
	if err != nil {
		return err
	}
	m.Small, m.Studs = map[graph.PositionID]bool{}, map[graph.PositionID]graph.PositionID{}
	for _, p := range m.Positions {
		m.Small[p.ID] = m.Bolts[p.ID] || machine.IsHardware(p.Kind)
	}
	for _, j := range m.Joints {
		for _, id := range j.Ends() {
			if on := j.Other(id); kindEnds(s, id, "stud") && !m.Bolts[on] {
				m.Studs[id] = on
			}
		}
	}
	m.Joints = append(m.Joints, inHubs(s, m.Joints)...)
	m.Joints = append(m.Joints, underHeads(s, joints)...)
	m.Joints = append(m.Joints, sitting(s, *m)...)
	m.Joints = append(m.Joints, covered(s, m.Joints, joints)...)
	m.Joints = append(m.Joints, laced(m.Positions)...)
	m.Joints = append(m.Joints, damped(s, joints)...)
	m.Joints = append(m.Joints, byRunOnly(s, m.Joints, runs)...)
	m.Joints = append(m.Joints, barEnds(s, *m)...)
	m.Joints = append(m.Joints, behindCovers(s, *m)...)
	m.Joints = append(m.Joints, m.owned(s)...)
	stacks, err := s.Library().StacksTouching(ctx, v.ID, ids)
	for _, stack := range stacks {
		m.Rows = append(m.Rows, Row{Within: stack.Within.Position,
			Row: lists.Mapped(stack.Row, func(ref graph.FeatureRef) graph.PositionID { return ref.Position })})
	}
	m.Wheels = wheelsOf(s, *m)
	m.Turns = heldMeanwhile(s, *m)
	m.Must, m.Late = inTurn(s, *m)
	m.Needs = needed(*m)
	return err
}

// readKinds reads the kinds of what sits at some places, or belongs there: a part that
// nobody measured comes off and goes on as every one of its kind does.
func readKinds(ctx context.Context, s *machine.Setup, positions []graph.Position) error {
	var kinds []graph.KindID
	for _, p := range positions {
		kinds = append(kinds, cmp.Or(s.Seat(p.ID).Part.Kind, p.Kind))
	}
	return s.Library().ReadKinds(ctx, kinds)
}

// kindsAt are the sorts of feature of what sits at a place; of an empty one those that
// every part has which belongs there, so that a machine in boxes goes together in the
// order in which it came apart.
func kindsAt(s *machine.Setup, id graph.PositionID) []string {
	if seat := s.Seat(id); seat.Empty {
		return queries.FeatureKindsOf(graph.Part{}, s.Library().Kind(seat.Position.Kind))
	}
	return s.FeatureKindsAt(id)
}

// IsHoseClip reports whether one of these holds one end of a hose.
func IsHoseClip(kind graph.KindID) bool {
	return slices.Contains([]graph.KindID{"hose-clamp", "hose-clip", "clip"}, kind)
}

// electric are kinds of features that carry current where they meet.
var electric = []string{"connector", "battery", "regulator", "stator", "ignition-output", "consumer"}

// covered join what lies over something to that: a seal to the bearing behind it, a dust
// seal to the seal behind it, a cap to the spring under it, a cover to its gasket. Nobody
// writes these down as joints. Common practice, no source: the one comes out first and
// goes in last.
func covered(s *machine.Setup, joints []Joint, known []graph.Joint) []Joint {
	has := func(id graph.PositionID, kind string) bool { return slices.Contains(kindsAt(s, id), kind) }
	over := func(id, under graph.PositionID) bool {
		switch {
		case has(id, "seal") && has(under, "bearing"), kindEnds(s, id, "cap") && has(under, "spring"),
			kindEnds(s, id, "fork-boot") && has(under, "seal"):
			return true
		}
		return has(id, "seal") && has(under, "seal") && kindEnds(s, id, "dust-seal") && !kindEnds(s, under, "dust-seal")
	}
	in := map[graph.PositionID][]graph.PositionID{} // what sits in or on each
	for _, j := range joints {
		for _, id := range j.Ends() {
			isInner := has(id, "seal") || has(id, "bearing") || has(id, "spring") || kindEnds(s, id, "cap") ||
				kindEnds(s, id, "fork-boot")
			if j.Holds && j.Shaft == "" && isInner {
				in[j.Other(id)] = append(in[j.Other(id)], id)
			}
		}
	}
	var found []Joint
	for _, host := range lists.KeysOf(in) {
		sitting := lists.Unique(in[host])
		for _, id := range sitting {
			for _, under := range sitting {
				a, b := s.Position(id).Side, s.Position(under).Side
				if id != under && over(id, under) && (a == b || a == "" || b == "") {
					found = append(found, Joint{A: id, B: under, Inner: under})
				}
			}
		}
	}
	for _, j := range known {
		for _, gasket := range j.Renew {
			if has(gasket, "gasket") && gasket != j.A.Position {
				found = append(found, Joint{A: j.A.Position, B: gasket, Inner: gasket})
			}
		}
	}
	return found
}

// laced join the hub of a spoked wheel to the wheel that it is of, where the machine has a place for both,
// and a tube to the tyre that it lies in.
func laced(positions []graph.Position) []Joint {
	var found []Joint
	for _, one := range positions {
		for _, other := range positions {
			switch {
			case one.Assembly != other.Assembly:
			case one.Kind.Ends("wheel-hub") && other.Kind.Ends("wheel"):
				found = append(found, Joint{A: one.ID, B: other.ID, Holds: true})
			case one.Kind.Ends("tyre") && other.Kind.Ends("inner-tube"):
				found = append(found, Joint{A: one.ID, B: other.ID, Inner: other.ID, Along: true})
			}
		}
	}
	return found
}

// damped join the bolt that holds the damper of a conventional fork leg, and with it the tube, to the oil
// seal over which the tube is drawn out: it is out first. Common practice, no source.
func damped(s *machine.Setup, joints []graph.Joint) []Joint {
	seals := map[graph.PositionID][]graph.PositionID{} // of each leg
	for _, j := range joints {
		for _, id := range []graph.PositionID{j.A.Position, j.B.Position} {
			if kindEnds(s, id, "fork-seal") {
				leg := j.A.Position
				if leg == id {
					leg = j.B.Position
				}
				seals[leg] = append(seals[leg], id)
			}
		}
	}
	var found []Joint
	for _, j := range joints {
		for _, ends := range [][2]graph.FeatureRef{{j.A, j.B}, {j.B, j.A}} {
			leg := ends[1].Position
			if ends[1].Feature != "damper-thread" || machine.LegFormOf(s.Seat(leg).Part) == graph.UpsideDown {
				continue
			}
			for _, seal := range lists.Unique(seals[leg]) {
				found = append(found, Joint{A: ends[0].Position, B: seal, Inner: seal})
			}
		}
	}
	return found
}

// sitRule is what a kind of part sits on or in, of its own assembly, and what shuts it in
// there.
type sitRule struct {
	kind, on, under string
	along           bool // it comes out with what shuts it in
	shuts           bool // it comes off before what it sits on
	always          bool // where a joint names it too: that says how it mates, and not in which order
}

// sits are the rules for what no joint names, or not in its order. Common practice, no source.
var sits = []sitRule{
	{kind: "grip", on: "throttle-grip", always: true}, // of two the first that is there on its side
	{kind: "grip", on: "handlebar", always: true},
	{kind: "grip", on: "clip-on", always: true},
	{kind: "valve", on: "wheel", under: "tyre", along: true, always: true},
	{kind: "cush-rubbers", on: "wheel", under: "sprocket-carrier", always: true},
	{kind: "dust-seal", on: "swingarm"},
	{kind: "fork-dust-seal", on: "fork-leg"},
	{kind: "fork-boot", on: "fork-leg"},
	{kind: "chain-link", on: "chain", shuts: true, always: true},
}

// sitting join what no joint names to what it sits on or in, and to what shuts it in there.
// Few write these down as joints.
func sitting(s *machine.Setup, m Machine) []Joint {
	joined, done := map[graph.PositionID]bool{}, map[graph.PositionID]bool{}
	for _, j := range m.Joints {
		for _, id := range j.Places() {
			joined[id] = true
		}
	}
	beside := m.assembliesBeside()
	var found []Joint
	for _, p := range m.Positions {
		for _, rule := range sits {
			if done[p.ID] || joined[p.ID] && !rule.always || string(p.Kind) != rule.kind {
				continue
			}
			for _, on := range m.seatsFor(s, p, rule) {
				done[p.ID] = true
				one := Joint{A: p.ID, B: on, Holds: !rule.shuts}
				if rule.shuts {
					one.Inner = on
				}
				found = append(found, one)
			}
			for _, over := range m.Positions {
				isBeside := over.Assembly == p.Assembly || beside[over.ID][p.Assembly]
				if done[p.ID] && rule.under != "" && isBeside && kindEnds(s, over.ID, rule.under) {
					found = append(found, Joint{A: over.ID, B: p.ID, Inner: p.ID, Along: rule.along})
				}
			}
		}
	}
	return found
}

// seatsFor are the places of its assembly and side that something sits on or in by a rule.
func (m Machine) seatsFor(s *machine.Setup, p graph.Position, rule sitRule) []graph.PositionID {
	var seats []graph.PositionID
	for _, on := range m.Positions {
		side := on.Side
		if on.Kind == "throttle-grip" && side == "" {
			side = "right"
		}
		isThere := on.Assembly == p.Assembly && (side == "" || p.Side == "" || side == p.Side)
		if isThere && kindEnds(s, on.ID, rule.on) {
			seats = append(seats, on.ID)
		}
	}
	return seats
}

// assembliesBeside are the assemblies of what each place is joined to.
func (m Machine) assembliesBeside() map[graph.PositionID]map[graph.AssemblyID]bool {
	beside := map[graph.PositionID]map[graph.AssemblyID]bool{}
	for _, j := range m.Joints {
		for _, id := range j.Ends() {
			if beside[id] == nil {
				beside[id] = map[graph.AssemblyID]bool{}
			}
			beside[id][j.Other(id).Assembly()] = true
		}
	}
	return beside
}

// barEnds join what shuts in the grip on each end of a bar, or the twist grip: the weight, and
// the bolt that goes through it into the bar, which nobody writes down as a joint of either;
// and notes that all of them go on where the bar stands, grips after what else is clamped to
// it. Common practice, no source: the bolt comes out first, and the grip comes off last.
func barEnds(s *machine.Setup, m Machine) []Joint {
	isBar := func(id graph.PositionID) bool { return kindEnds(s, id, "handlebar") || kindEnds(s, id, "clip-on") }
	isBolt := func(p graph.Position) bool {
		return machine.IsHardware(p.Kind) && !m.Bolts[p.ID] && slices.ContainsFunc(m.Joints, func(j Joint) bool {
			return slices.Contains(j.Ends(), p.ID) && isBar(j.Other(p.ID))
		})
	}
	var ends []graph.Position
	layer := map[graph.PositionID]int{} // from the grip outwards, from 1
	side := map[graph.PositionID]string{}
	for _, p := range m.Positions {
		side[p.ID] = string(p.Side)
		switch {
		case p.Kind == "throttle-grip":
			layer[p.ID] = 1
			side[p.ID] = cmp.Or(side[p.ID], "right")
		case p.Kind == "grip":
			layer[p.ID] = 1
		case p.Kind == "bar-weight":
			layer[p.ID] = 2
		case isBolt(p):
			layer[p.ID] = 3
		default:
			continue
		}
		m.OnSpot[p.ID] = true
		ends = append(ends, p)
	}
	var found []Joint
	for _, over := range ends {
		for _, under := range ends {
			isOver := layer[under.ID] > 0 && layer[over.ID] > layer[under.ID]
			if isOver && side[over.ID] != "" && side[over.ID] == side[under.ID] && over.Assembly == under.Assembly {
				found = append(found, Joint{A: over.ID, B: under.ID, Inner: under.ID})
			}
		}
	}
	return found
}

// heldMeanwhile says what goes on before each place where both come off, though neither
// hangs on the other. Common practice, no source: the nut of a front sprocket is turned while
// the chain, and the rear wheel with its brake, hold the shaft; a grip goes onto a bar after
// what else is clamped there.
func heldMeanwhile(s *machine.Setup, m Machine) map[graph.PositionID][]graph.PositionID {
	turns := map[graph.PositionID][]graph.PositionID{}
	isKind := func(id graph.PositionID, kind string) bool { return kindEnds(s, id, kind) }
	for _, j := range m.Joints {
		for _, id := range j.Ends() {
			on := j.Other(id)
			switch {
			case (isKind(id, "front-sprocket") || isKind(id, "front-pulley")) && !m.Chains[on]:
				for _, bolt := range j.Fasteners {
					turns[bolt] = append(turns[bolt], m.driven(s, id)...)
				}
			case isKind(id, "grip") && !isKind(id, "throttle-grip") && j.Holds:
				for _, k := range m.Joints {
					if other := k.Other(on); slices.Contains(k.Ends(), on) && k.Holds && !m.OnSpot[other] && !m.Bolts[other] {
						turns[id] = append(turns[id], other)
					}
				}
			}
		}
	}
	for _, cover := range m.Joints { // a gasket is laid on once all is in that its cover shuts in
		for _, j := range m.Joints {
			for _, gasket := range j.Between {
				if cover.ID == "" && cover.Inner == cover.B && slices.Contains(j.Ends(), cover.A) && isKind(gasket, "gasket") &&
					cover.Inner != gasket {
					turns[gasket] = append(turns[gasket], cover.Inner)
				}
			}
		}
	}
	for _, wheel := range m.Wheels {
		for _, j := range m.Joints { // in the ends of the swingarm before the wheel is between them
			if j.Shaft != "" && slices.Contains(wheel.Axles, j.Shaft) && isKind(j.Other(j.Shaft), "chain-adjuster") {
				turns[wheel.Hub] = append(turns[wheel.Hub], j.Other(j.Shaft))
			}
		}
		turns = m.hubFirst(s, wheel, m.tyreFirst(s, wheel, turns))
	}
	return turns
}

// hubFirst has the bearings and seals of a hub go in before the carrier of its sprocket covers
// them. Common practice, no source.
func (m Machine) hubFirst(s *machine.Setup, wheel Wheel,
	turns map[graph.PositionID][]graph.PositionID) map[graph.PositionID][]graph.PositionID {
	for _, carrier := range lists.KeysOf(wheel.On) {
		for _, j := range m.Joints {
			if kindEnds(s, carrier, "sprocket-carrier") && j.Pressed && j.Seat == wheel.Hub {
				turns[carrier] = append(turns[carrier], j.Other(wheel.Hub))
			}
		}
	}
	return turns
}

// tyreFirst has the tyre go onto its rim before bearings, seals and discs are on the wheel: it
// is levered on, and they would suffer. Common practice, no source.
func (m Machine) tyreFirst(s *machine.Setup, wheel Wheel,
	turns map[graph.PositionID][]graph.PositionID) map[graph.PositionID][]graph.PositionID {
	for _, j := range m.Joints {
		tyre := j.Other(j.Seat)
		if j.Seat == "" || !wheel.has(tyre) || !slices.Contains(kindsAt(s, tyre), "tyre") {
			continue
		}
		for _, id := range lists.KeysOf(wheel.On) {
			if slices.ContainsFunc(kindsAt(s, id), func(kind string) bool {
				return kind == "bearing" || kind == "seal" || kind == "disc-rim"
			}) {
				turns[id] = append(turns[id], tyre)
			}
		}
	}
	return turns
}

// driven are the chain on a sprocket, its link, and the wheel that it drives with its axle,
// nut and brake.
func (m Machine) driven(s *machine.Setup, sprocket graph.PositionID) []graph.PositionID {
	var all []graph.PositionID
	for _, j := range m.Joints {
		chain := j.Other(sprocket)
		if !slices.Contains(j.Ends(), sprocket) || !m.Chains[chain] {
			continue
		}
		all = append(all, chain)
		for _, p := range m.Positions {
			if kindEnds(s, p.ID, "chain-link") && p.Assembly == s.Position(chain).Assembly {
				all = append(all, p.ID)
			}
		}
		for _, wheel := range m.Wheels {
			if !slices.ContainsFunc(m.Joints, func(k Joint) bool {
				return slices.Contains(k.Ends(), chain) && wheel.has(k.Other(chain))
			}) {
				continue
			}
			all = append(append(append(all, wheel.Hub), wheel.Axles...), wheel.Around...)
			for _, id := range append(slices.Clone(wheel.Axles), wheel.Around...) {
				all = append(all, m.boltsOf(id)...)
			}
		}
	}
	return lists.Unique(all)
}

// behind is what each kind of part shuts in, of what is in its own assembly, and whether
// that is with its bolts and nuts. Common practice, no source.
var behind = []struct {
	over  string
	inner []string
	bolts bool
}{
	{"clutch-plates", []string{"clutch-hub", "clutch-basket"}, false},
	{"clutch-springs", []string{"clutch-plates"}, false},
	{"clutch-cover", []string{"clutch-hub", "clutch-basket", "clutch-plates", "clutch-springs"}, true},
	{"sprocket-cover", []string{"front-sprocket", "chain", "front-pulley", "drive-belt"}, true},
}

// behindCovers join what lies over something to that, which nobody writes down as a joint:
// the cover comes off first and goes on last.
func behindCovers(s *machine.Setup, m Machine) []Joint {
	var found []Joint
	for _, over := range m.Positions {
		for _, kind := range behind {
			if !kindEnds(s, over.ID, kind.over) {
				continue
			}
			own := m.boltsOf(over.ID)
			var under []graph.PositionID
			for _, p := range m.Positions {
				if p.Assembly != over.Assembly || p.ID == over.ID || !slices.ContainsFunc(kind.inner,
					func(kind string) bool { return kindEnds(s, p.ID, kind) }) {
					continue
				}
				under = append(under, p.ID)
				if kind.bolts {
					under = append(under, m.boltsOf(p.ID)...)
				}
			}
			for _, id := range lists.Unique(under) {
				if !slices.Contains(own, id) {
					found = append(found, Joint{A: over.ID, B: id, Inner: id})
				}
			}
		}
	}
	return found
}

// boltsOf are the bolts and nuts of the joints of a place.
func (m Machine) boltsOf(id graph.PositionID) []graph.PositionID {
	var bolts []graph.PositionID
	for _, j := range m.Joints {
		if !slices.Contains(j.Ends(), id) {
			continue
		}
		bolts = append(bolts, j.Fasteners...)
		if j.Nut != "" && j.Nut != id {
			bolts = append(bolts, j.Nut)
		}
	}
	return bolts
}

// underCap has the bolts that hold a bar down in its yoke follow the cap they go through,
// where no joint names that.
func (m Machine) underCap(cap graph.Position, must map[graph.PositionID][]graph.PositionID) {
	for _, j := range m.Joints {
		out := j.A.Assembly() != cap.Assembly || j.B.Assembly() != cap.Assembly
		in := j.A.Assembly() == cap.Assembly || j.B.Assembly() == cap.Assembly
		for _, bolt := range j.Fasteners {
			if out && in && bolt.Assembly() == cap.Assembly {
				must[bolt] = append(must[bolt], cap.ID)
			}
		}
	}
}

// dustSeals have a fork's dust seal go on over its oil seal, and before it onto the tube of an
// upside-down leg.
func (m Machine) dustSeals(s *machine.Setup, must map[graph.PositionID][]graph.PositionID) {
	turned := slices.ContainsFunc(m.Positions, func(p graph.Position) bool {
		return p.Kind == "fork-leg" && machine.LegFormOf(s.Seat(p.ID).Part) == graph.UpsideDown
	})
	rule := turn{[]string{"fork-seal"}, []string{"fork-dust-seal"}, true}
	if turned {
		rule.first, rule.then = rule.then, rule.first
	}
	follow(m.Positions, []turn{rule}, must)
}

// ownerOf is what a bolt, nut, clip, collar, rubber or gasket belongs to that no joint names: the
// place of its assembly by whose name it is called, tank/tank of tank/tank-bolt, clutch/springs
// of clutch/spring-bolt; empty where there is none.
func (m Machine) ownerOf(p graph.Position) graph.PositionID {
	isJoined := slices.ContainsFunc(m.Joints, func(j Joint) bool {
		return slices.Contains(j.Fasteners, p.ID) || slices.Contains(j.Between, p.ID)
	})
	if isJoined || !machine.IsHardware(p.Kind) && !slices.Contains(under, string(p.Kind)) {
		return ""
	}
	words := strings.Split(strings.TrimPrefix(string(p.ID), string(p.Assembly)+"/"), "-")
	at := slices.IndexFunc(words, func(w string) bool {
		return slices.Contains([]string{"bolt", "nut", "screw", "clip", "circlip", "washer", "collar", "rubber",
			"grommet", "gasket", "seal"}, w)
	})
	if at < 1 {
		return ""
	}
	name, rest := strings.Join(words[:at], "-"), strings.Join(words[at+1:], "-")
	for _, called := range []string{name + "-" + rest, name, name + "s"} {
		for _, other := range m.Positions {
			if other.ID != p.ID && other.Assembly == p.Assembly &&
				string(other.ID) == string(p.Assembly)+"/"+strings.TrimSuffix(called, "-") {
				return other.ID
			}
		}
	}
	return ""
}

// owned join the bolts, nuts, clips and gaskets that no joint names to what they belong to by
// name: they come off before that, or with it, and are told, so that nothing comes off with a
// bolt in it because nobody wrote the joint down.
func (m Machine) owned(s *machine.Setup) []Joint {
	joined := map[graph.PositionID]bool{}
	for _, j := range m.Joints {
		for _, id := range j.Places() {
			joined[id] = true
		}
	}
	var found []Joint
	for _, p := range m.Positions {
		on := m.ownerOf(p)
		switch {
		case on == "" || joined[p.ID] || m.Lines[on]:
		case kindEnds(s, p.ID, "gasket"):
			m.Owners[p.ID] = on
			found = append(found, Joint{A: on, B: p.ID, Inner: p.ID, Along: p.Renew})
		case machine.IsHardware(p.Kind) && !slices.Contains(under, string(p.Kind)):
			m.Owners[p.ID], m.Bolts[p.ID] = on, true
			found = append(found, Joint{A: p.ID, B: on, Inner: on})
		}
	}
	return found
}

// mounts are what hangs the engine in the frame: plates, and the bolts, nuts and washers of
// the joints between engine, plates and frame.
func (m Machine) mounts(s *machine.Setup) []graph.PositionID {
	isOf := func(id graph.PositionID) bool {
		return id == m.Root || slices.Contains([]graph.KindID{"engine", "engine-plate"}, s.Position(id).Kind)
	}
	var all []graph.PositionID
	for _, j := range m.Joints {
		if !isOf(j.A) || !isOf(j.B) || !j.Holds {
			continue
		}
		all = append(all, j.Fasteners...)
		for _, id := range j.Ends() {
			if s.Position(id).Kind != "engine" && id != m.Root {
				all = append(all, id)
			}
		}
	}
	return lists.Unique(all)
}

// byRunOnly join each line to the ends of its run that no joint names.
func byRunOnly(s *machine.Setup, joints []Joint, runs []graph.Run) []Joint {
	var found []Joint
	for _, run := range runs {
		for _, ref := range []graph.FeatureRef{run.From, run.To} {
			id := ref.Position
			isJoined := slices.ContainsFunc(joints, func(j Joint) bool {
				return slices.Contains(j.Ends(), run.Line) && slices.Contains(j.Ends(), id)
			})
			if id != run.Line && !isJoined && slices.Contains(kindsAt(s, run.Line), "hose") {
				found = append(found, Joint{A: run.Line, B: id, Line: run.Line, Fluid: true})
			}
		}
	}
	return found
}

// inHubs join each distance tube to the bearings that shut it in: those of its
// assembly on the same axle. Nobody writes these down as joints.
func inHubs(s *machine.Setup, joints []Joint) []Joint {
	kindHas := func(id graph.PositionID, word string) bool {
		return strings.Contains(string(s.Position(id).Kind), word)
	}
	joints = lists.Kept(slices.Clone(joints), func(j Joint) bool { return j.Shaft != "" })
	var found []Joint
	for _, tube := range joints {
		for _, bearing := range joints {
			if tube.Shaft != bearing.Shaft {
				continue
			}
			in, on := tube.Other(tube.Shaft), bearing.Other(bearing.Shaft)
			if kindHas(in, "distance-tube") && kindHas(on, "bearing") && s.Position(in).Assembly == s.Position(on).Assembly {
				found = append(found, Joint{A: in, B: on, Holds: true, Inner: in})
			}
		}
	}
	return found
}

// underHeads join the washers of a joint to its bolts, which go in after them, and its
// studs to their nuts; a split pin or a clip goes in after all that.
func underHeads(s *machine.Setup, joints []graph.Joint) []Joint {
	isWasher := func(id graph.PositionID) bool {
		return slices.Contains(kindsAt(s, id), "washer") || kindEnds(s, id, "tab-washer")
	}
	var found []Joint
	for _, j := range joints {
		all := fastenersOf(s, j)
		for _, washer := range all {
			for _, bolt := range all {
				if isWasher(washer) && !isWasher(bolt) || kindEnds(s, washer, "stud") && kindEnds(s, bolt, "nut") ||
					!isPinOrClip(s, washer) && isPinOrClip(s, bolt) {
					found = append(found, Joint{A: washer, B: bolt, Inner: washer})
				}
			}
		}
	}
	return found
}

// suiting are kinds of feature by which two parts suit one another, as the throats of a rack and
// of an air box do by their spacing: whatever they touch and hold one another by is a joint of its
// own. Common practice, no source.
var suiting = []string{"tyre-room", "tyre-need", "throat-row", "yoke-offset", "cable-pull", "cable-draw", "ferrule",
	"ferrule-seat", "signal-in", "signal-out", "stator", "regulator", "bar-fitting"}

// onlySuits reports whether a joint says that two parts suit one another, and not how they touch.
func onlySuits(s *machine.Setup, j graph.Joint) bool {
	return len(j.Fasteners) == 0 && slices.ContainsFunc([]graph.FeatureRef{j.A, j.B}, func(ref graph.FeatureRef) bool {
		return slices.Contains(suiting, s.Side(ref).Feature.Kind)
	})
}

// JointOf is what the order of work needs of a joint on the machine of a setup,
// whose places must be loaded.
func JointOf(s *machine.Setup, j graph.Joint) Joint {
	one := Joint{ID: j.ID, A: j.A.Position, B: j.B.Position, Fasteners: fastenersOf(s, j), Holds: true}
	for _, id := range j.Renew {
		switch {
		case slices.Contains(one.Ends(), id):
			one.Anew = append(one.Anew, id)
		case !slices.Contains(one.Places(), id):
			one.Between = append(one.Between, id)
		}
	}
	for _, ref := range []graph.FeatureRef{j.A, j.B} {
		kind := s.Side(ref).Feature.Kind
		if machine.OnlyPasses(kind) {
			one.Holds = false
		}
		if slices.Contains(machine.WetKinds(), kind) {
			one.Fluid = true
		}
		one.Electric = one.Electric || slices.Contains(electric, kind)
		switch kind {
		case "caliper-slot":
			one.Around = ref.Position
		case "drum":
			one.Drum = ref.Position
		case "shoe-carrier":
			one.Lining = one.Other(ref.Position)
		}
		if kind == "shaft" && isAxle(s, ref.Position) {
			one.Shaft = ref.Position
		}
	}
	for _, id := range one.Ends() {
		if kindEnds(s, id, "nut") && isAxle(s, one.Other(id)) && !kindEnds(s, one.Other(id), "nut") {
			one.Nut = id
		}
	}
	if isAxle(s, one.A) && isAxle(s, one.B) {
		one.Shaft = ""
	}
	for _, id := range one.Ends() { // what lies under its head goes in with it
		if !isScrew(s, id) {
			continue
		}
		one.Screw = id
		isUnder := func(id graph.PositionID) bool { return isLaidBetween(s, id) && !kindEnds(s, id, "tab-washer") }
		one.Between = append(one.Between, lists.Kept(slices.Clone(one.Fasteners), isUnder)...)
		one.Fasteners = lists.Kept(one.Fasteners, func(id graph.PositionID) bool { return !isUnder(id) })
	}
	for _, ends := range [][2]graph.FeatureRef{{j.A, j.B}, {j.B, j.A}} {
		if seat := seated[s.Side(ends[0]).Feature.Kind]; seat != "" && s.Side(ends[1]).Feature.Kind == seat {
			one.Seat, one.Pressed = ends[1].Position, seat == "bearing-seat" || seat == "seal-seat"
		}
		if runs := s.Side(ends[0]).Feature.Kind == "seal"; runs && isSpacer(s, ends[1]) {
			one.Inner = ends[0].Position // the spacer that runs in a seal shuts it in
			if s.Position(one.Inner).Renew && !slices.Contains(one.Anew, one.Inner) {
				one.Anew = append(one.Anew, one.Inner)
			}
		}
	}
	return one
}

// fastenersOf are the fasteners of a joint, and what else secures it that is renewed with
// it and is no washer: a split pin, a clip.
func fastenersOf(s *machine.Setup, j graph.Joint) []graph.PositionID {
	all := slices.Clone(j.Fasteners)
	for _, id := range j.Renew {
		isEnd := id == j.A.Position || id == j.B.Position
		if !isEnd && !slices.Contains(all, id) && !isLaidBetween(s, id) {
			all = append(all, id)
		}
	}
	return all
}

// isScrew reports whether an end of a joint is screwed into the other, with a washer under its head.
func isScrew(s *machine.Setup, id graph.PositionID) bool {
	return kindEnds(s, id, "bolt") || kindEnds(s, id, "screw") || kindEnds(s, id, "plug")
}

// isPinOrClip reports whether something secures a pin or a nut that is in already.
func isPinOrClip(s *machine.Setup, id graph.PositionID) bool {
	return kindEnds(s, id, "split-pin") || kindEnds(s, id, "clip") || kindEnds(s, id, "circlip")
}

// isLaidBetween reports whether something lies between two others, and does not hold them.
func isLaidBetween(s *machine.Setup, id graph.PositionID) bool {
	if isPinOrClip(s, id) || kindEnds(s, id, "pin") {
		return false
	}
	kinds := kindsAt(s, id)
	return kindEnds(s, id, "tab-washer") || slices.Contains(kinds, "washer") || slices.Contains(kinds, "gasket") ||
		slices.Contains(kinds, "seal")
}

// isSpacer reports whether what a seal runs on comes out of it endwise: it takes up room
// in a row.
func isSpacer(s *machine.Setup, ref graph.FeatureRef) bool {
	kinds := kindsAt(s, ref.Position)
	return s.Side(ref).Feature.Kind == "shaft" && slices.Contains(kinds, "row-width") &&
		!slices.Contains(kinds, "seal-seat")
}

// seated are the kinds of feature that are pressed or laid into another kind.
var seated = map[string]string{"bearing": "bearing-seat", "seal": "seal-seat", "tyre": "rim", "cush-rubber": "cush-bay"}

// isAxle reports whether something is put through what it carries.
func isAxle(s *machine.Setup, id graph.PositionID) bool {
	kind := string(s.Position(id).Kind)
	return strings.Contains(kind, "axle") || strings.Contains(kind, "spindle") || strings.Contains(kind, "pivot-shaft")
}

func kindEnds(s *machine.Setup, id graph.PositionID, word string) bool {
	return s.Position(id).Kind.Ends(word)
}
