package donor_test

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/once"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// bench is a machine whose parts are replaced one at a time.
type bench struct {
	before *machine.Setup
	joints []graph.Joint
	places []graph.Position
}

func benchOf(t *testing.T, facts graph.Facts, on string) bench {
	t.Helper()
	r := once.New(readertest.New(facts))
	before, err := machine.NewSetup(context.Background(), r, queries.MachineQuestion{On: on}, "")
	if err != nil {
		t.Fatal(err)
	}
	b := bench{before: before}
	for _, p := range facts.Positions {
		if slices.Contains(p.On, before.Variant.ID) {
			b.places = append(b.places, p)
		}
	}
	for _, j := range facts.Joints {
		if slices.Contains(j.On, before.Variant.ID) {
			b.joints = append(b.joints, j)
		}
	}
	ids := lists.Mapped(b.places, func(p graph.Position) graph.PositionID { return p.ID })
	if err := before.Load(context.Background(), ids...); err != nil {
		t.Fatal(err)
	}
	return b
}

// workFor is the work of putting parts on at places, or of leaving them empty, with all that
// the swap asks for.
func (b bench) workFor(t *testing.T, changes map[graph.PositionID]graph.PartID) ([]donor.WorkStep, swap.SwapAnswer) {
	t.Helper()
	after, err := b.before.With(t.Context(), changes)
	if err != nil {
		t.Fatal(err)
	}
	a, err := swap.SwapTo(t.Context(), examine.From(b.before), after)
	if err != nil {
		t.Fatal(err)
	}
	work, err := donor.OrderOfWork(t.Context(), b.before, &a)
	if err != nil {
		t.Fatal(err)
	}
	return work.Steps, a
}

// replace is the work of putting another of the same on at one place.
func (b bench) replace(t *testing.T, id graph.PositionID) ([]donor.WorkStep, swap.SwapAnswer) {
	t.Helper()
	a := swap.SwapAnswer{Swaps: []swap.SwapLine{{Position: id, Now: b.before.Seat(id).Part.ID}}}
	work, err := donor.OrderOfWork(context.Background(), b.before, &a)
	if err != nil || len(work.Cycle) > 0 {
		t.Errorf("%s: circle %v, %v", id.Local(), work.Cycle, err)
	}
	return work.Steps, a
}

// judged is the work of putting another of the same on at one place, with all that the swap
// asks for besides.
func (b bench) judged(t *testing.T, id graph.PositionID) []donor.WorkStep {
	t.Helper()
	after, err := b.before.With(t.Context(), map[graph.PositionID]graph.PartID{id: b.before.Seat(id).Part.ID})
	if err != nil {
		t.Fatal(err)
	}
	a, err := swap.SwapTo(t.Context(), examine.From(b.before), after)
	if err != nil {
		t.Fatal(err)
	}
	work, err := donor.OrderOfWork(t.Context(), b.before, &a)
	if err != nil || len(work.Cycle) > 0 {
		t.Errorf("%s: circle %v, %v", id.Local(), work.Cycle, err)
	}
	return work.Steps
}

// turns are the numbers of the steps that take each place off and put it on, from 1, and
// that tighten each bolt.
type turns struct {
	off, on, tight map[string]int
	joint          map[string]int // the step that tightens it
	do             map[string]int // the first step of a sort
}

func turnsOf(steps []donor.WorkStep) turns {
	n := turns{off: map[string]int{}, on: map[string]int{}, tight: map[string]int{}, joint: map[string]int{},
		do: map[string]int{}}
	for i, step := range steps {
		at := step.Position.Local()
		if n.do[step.Do] == 0 {
			n.do[step.Do] = i + 1
		}
		switch step.Do {
		case donor.DoOff, donor.DoOut:
			n.off[at] = i + 1
		case donor.DoFit, donor.DoBack, donor.DoIn:
			n.on[at] = i + 1
		case donor.DoTight:
			n.joint[queries.LocalName(string(step.Joint))] = i + 1
			if n.tight[at] == 0 { // what is clamped; the bolt in its own thread comes after
				n.tight[at] = i + 1
			}
		}
	}
	return n
}

// before checks that one thing is done before another, where both are done.
func before(t *testing.T, what string, turn map[string]int, first, second string) {
	t.Helper()
	if turn[first] > 0 && turn[second] > 0 && turn[first] > turn[second] {
		t.Errorf("%s: %s comes after %s", what, first, second)
	}
}

// wheelParts are what a machine's wheels are called, for the checks below.
type wheelParts struct {
	hub, axle string
	inside    []string // what is in and on it
	calipers  []string
	carries   []string // what must not open while it is in
	sprung    []string
}

var demoWheels = []wheelParts{
	{"front-wheel/wheel", "front-wheel/axle", []string{"front-wheel/tyre", "front-wheel/bearing-left",
		"front-wheel/bearing-right", "front-wheel/distance-tube", "front-wheel/seal-left", "front-wheel/seal-right",
		"front-brake/disc-left", "front-brake/disc-right", "front-brake/disc-bolt-left", "front-wheel/valve"},
		[]string{"front-brake/caliper-left", "front-brake/caliper-right"},
		[]string{"fork/leg-left", "fork/leg-right", "yokes/lower", "yokes/ring-nut", "yokes/pinch-bolt-lower-left",
			"yokes/pinch-bolt-lower-right", "yokes/bearing-lower", "fork/seal-left"}, nil},
	{"rear-wheel/wheel", "rear-wheel/axle", []string{"rear-wheel/tyre", "rear-wheel/bearing-left",
		"rear-wheel/bearing-right", "rear-wheel/distance-tube", "rear-wheel/seal-right", "rear-brake/disc",
		"final-drive/carrier", "final-drive/carrier-bearing", "final-drive/carrier-seal", "final-drive/sprocket-rear"},
		[]string{"rear-brake/caliper"}, []string{"rear-suspension/swingarm"}, []string{"rear-suspension/shock"}},
}

var singleWheels = []wheelParts{
	{"front-wheel/hub", "front-wheel/axle", []string{"front-wheel/tyre", "front-wheel/rim", "front-wheel/spokes",
		"front-wheel/bearing-left", "front-wheel/tube", "front-brake/shoes"}, nil,
		[]string{"fork/leg-left", "fork/leg-right"}, nil},
	{"rear-wheel/hub", "rear-wheel/axle", []string{"rear-wheel/tyre", "rear-wheel/rim", "rear-wheel/bearing-right",
		"rear-wheel/tube", "final-drive/sprocket-rear", "rear-brake/shoes"}, nil, []string{"rear-suspension/swingarm"}, nil},
}

// Every place of two machines, replaced alone: whatever it is, wheels are out before what
// carries them opens and before what is in them is worked on, and go back in one piece.
// Common practice, no source.
func TestOrderOfEverySingleTake(t *testing.T) {
	demotest.Alone(t)
	for _, m := range []struct {
		facts  graph.Facts
		on     string
		wheels []wheelParts
	}{
		{demotest.Facts(t), "skerry-620/2003/eu/late", demoWheels},
		{demotest.Facts(t), "skerry-620/2001/eu", demoWheels},
		{demotest.Facts(t), "fjeld-750/2003/eu", demoWheels},
		{demotest.Single(t), "tern-125/1974/any", singleWheels},
	} {
		b, share := benchOf(t, m.facts, m.on), sampletest.Share(t, 32, 4)
		for _, p := range b.places {
			if b.before.Seat(p.ID).Empty || !share(m.on+" "+p.ID.Local()) {
				continue
			}
			steps, a := b.replace(t, p.ID)
			n, what := turnsOf(steps), fmt.Sprintf("%s %s", m.on, p.ID.Local())
			if n.off[p.ID.Local()] == 0 || n.on[p.ID.Local()] == 0 {
				t.Errorf("%s: not replaced at all", what)
			}
			for _, wheel := range m.wheels {
				wheelInTurn(t, what, steps, n, wheel)
			}
			b.innerInTurn(t, what, steps, n, a)
			b.opened(t, what, steps, n, p.ID)
			b.tightened(t, what, n)
			b.renewed(t, what, steps, n, p.ID)
		}
	}
}

func wheelInTurn(t *testing.T, what string, steps []donor.WorkStep, n turns, wheel wheelParts) {
	t.Helper()
	isOff := func(id string) bool { return n.off[id] > 0 }
	open := slices.ContainsFunc(slices.Concat(wheel.inside, wheel.carries), isOff)
	if (open || isOff(wheel.axle)) && !isOff(wheel.hub) {
		t.Errorf("%s: the wheel stays in: %v", what, slices.Sorted(maps.Keys(n.off)))
	}
	if isOff(wheel.hub) && !isOff(wheel.axle) {
		t.Errorf("%s: the wheel comes out with its axle", what)
	}
	if (isOff(wheel.hub) || slices.ContainsFunc(wheel.sprung, isOff)) && !slices.ContainsFunc(steps[:n.firstOff()],
		func(s donor.WorkStep) bool { return s.Do == donor.DoSupport && s.Position.Local() == wheel.hub }) {
		t.Errorf("%s: nothing holds up the machine", what)
	}
	before(t, what+" off", n.off, wheel.axle, wheel.hub)
	before(t, what+" on", n.on, wheel.hub, wheel.axle)
	for _, id := range slices.Concat(wheel.inside, wheel.carries) {
		before(t, what+" off", n.off, wheel.hub, id)
		before(t, what+" on", n.on, id, wheel.hub)
	}
	for _, id := range wheel.calipers {
		if isOff(wheel.hub) && !isOff(id) {
			t.Errorf("%s: %s stays round its disc", what, id)
		}
		before(t, what+" off", n.off, id, wheel.axle)
		before(t, what+" on", n.on, wheel.axle, id)
	}
	for _, step := range steps {
		if slices.ContainsFunc(step.With, func(id graph.PositionID) bool { return id.Local() == wheel.axle }) {
			t.Errorf("%s: %s comes off as one with the axle", what, step.Position)
		}
	}
}

// firstOff is the number of the first step that takes something off, less one.
func (n turns) firstOff() int {
	first := max(n.do[donor.DoOff], n.do[donor.DoOut])
	for _, do := range []string{donor.DoOff, donor.DoOut} {
		if n.do[do] > 0 {
			first = min(first, n.do[do])
		}
	}
	return max(0, first-1)
}

// innerInTurn checks bearings, tubes, seals and spacers, and the steering head.
func (b bench) innerInTurn(t *testing.T, what string, steps []donor.WorkStep, n turns, a swap.SwapAnswer) {
	t.Helper()
	for _, wheel := range []string{"front-wheel", "rear-wheel"} {
		for _, tube := range []string{wheel + "/distance-tube", wheel + "/tube"} {
			left, right := n.on[wheel+"/bearing-left"], n.on[wheel+"/bearing-right"]
			if at := n.on[tube]; at > 0 && (left == 0 || right == 0 || at > max(left, right) || at < min(left, right)) {
				t.Errorf("%s: %s goes in at %d, the bearings at %d and %d", what, tube, at, left, right)
			}
		}
		for _, side := range []string{"left", "right"} {
			before(t, what, n.on, wheel+"/bearing-"+side, wheel+"/seal-"+side)
			before(t, what, n.off, wheel+"/seal-"+side, wheel+"/bearing-"+side)
			before(t, what, n.on, wheel+"/seal-"+side, wheel+"/spacer-"+side)
			before(t, what, n.off, wheel+"/spacer-"+side, wheel+"/seal-"+side)
			if wheel == "front-wheel" && n.off[wheel+"/bearing-"+side] > 0 && n.off[wheel+"/seal-"+side] == 0 &&
				!b.before.Seat(graph.PositionID(b.before.Variant.Model)+":"+graph.PositionID(wheel+"/seal-"+side)).Empty {
				t.Errorf("%s: the bearing comes out through its seal", what)
			}
		}
	}
	before(t, what, n.on, "final-drive/carrier-bearing", "final-drive/carrier")
	before(t, what, n.off, "final-drive/carrier", "final-drive/carrier-bearing")
	for _, step := range steps {
		at := step.Position.Local()
		if step.Do == donor.DoBack && strings.Contains(at, "/bearing-") {
			t.Errorf("%s: %s goes back", what, at)
		}
		if step.New && !slices.ContainsFunc(a.Renew, func(r swap.RenewRow) bool { return r.Position == step.Position }) {
			t.Errorf("%s: %s is new, but not among what to renew", what, at)
		}
	}
	if n.off["yokes/lower"] > 0 {
		for _, id := range []string{"yokes/ring-nut", "yokes/bearing-upper", "yokes/dust-seal", "yokes/bearing-lower"} {
			if n.off[id] == 0 || n.on[id] == 0 {
				t.Errorf("%s: the stem comes out through %s", what, id)
			}
		}
		before(t, what, n.on, "yokes/bearing-lower", "yokes/lower")
		before(t, what, n.on, "yokes/lower", "yokes/bearing-upper")
		before(t, what, n.on, "yokes/dust-seal", "yokes/ring-nut")
		before(t, what, n.on, "yokes/ring-nut", "yokes/upper")
	}
}

// meet reports whether two places are the ends of one joint.
func (b bench) meet(one, other graph.PositionID) bool {
	return slices.ContainsFunc(b.joints, func(j graph.Joint) bool {
		ends := []graph.PositionID{j.A.Position, j.B.Position}
		return slices.Contains(ends, one) && slices.Contains(ends, other)
	})
}

// opened checks that each joint of what is replaced opens and closes, but for studs, which stay
// in what they are screwed into; that a hose opens only where it must; and that the battery is
// off while something electric is.
func (b bench) opened(t *testing.T, what string, steps []donor.WorkStep, n turns, replaced graph.PositionID) {
	t.Helper()
	electric := false
	for _, j := range b.joints {
		ends := []graph.PositionID{j.A.Position, j.B.Position}
		if !slices.Contains(ends, replaced) {
			continue
		}
		electric = electric || b.before.Side(j.A).Feature.Kind == "connector"
		for _, bolt := range slices.Concat(j.Fasteners, j.Renew) {
			if b.before.Position(bolt).Kind == "stud" && !b.meet(bolt, replaced) {
				if n.off[bolt.Local()] > 0 {
					t.Errorf("%s: %s is taken out of what stays", what, bolt.Local())
				}
				continue
			}
			if at := bolt.Local(); !b.before.Seat(bolt).Empty && (n.off[at] == 0 || n.on[at] == 0) {
				t.Errorf("%s: %s is not opened and closed (%s)", what, at, j.ID)
			}
		}
	}
	if electric && (len(steps) == 0 || steps[0].Do != donor.DoPart || steps[len(steps)-1].Do != donor.DoJoin) {
		t.Errorf("%s: something electric opens with the battery on", what)
	}
	if at := replaced.Local(); at == "front-brake/master-cylinder" && n.off["front-brake/banjo-bolt-splitter"] > 0 ||
		strings.HasPrefix(at, "front-brake/caliper-") && !strings.Contains(at, "bolt") &&
			n.off["front-brake/banjo-bolt-master"] > 0 {
		t.Errorf("%s: a hose opens at the end that stays", what)
	}
	if n.off["lamps/headlamp-bracket"] > 0 && n.off["lamps/headlamp-bolt"] > 0 && n.off["lamps/headlamp"] == 0 {
		t.Errorf("%s: the headlamp hangs by its plug", what)
	}
	for _, side := range []string{"left", "right"} {
		if n.off["fork/seal-"+side] > 0 && n.off["fork/cap-"+side] == 0 &&
			slices.ContainsFunc(b.places, func(p graph.Position) bool { return p.ID.Local() == "fork/cap-"+side }) {
			t.Errorf("%s: the seal comes out of a leg that stays shut", what)
		}
	}
	if replaced.Local() == "controls/handlebar" {
		for _, id := range []string{"controls/switch-left", "controls/switch-right", "controls/twist-grip", "clutch/lever",
			"front-brake/master-cylinder"} {
			isThere := slices.ContainsFunc(b.places, func(p graph.Position) bool { return p.ID.Local() == id })
			if isThere && (n.off[id] == 0 || n.on[id] == 0) {
				t.Errorf("%s: %s does not move over", what, id)
			}
		}
	}
	if at := replaced.Local(); strings.HasPrefix(at, "front-brake/disc-") && !strings.Contains(at, "bolt") {
		pads := strings.Replace(at, "disc", "pads", 1)
		if !slices.ContainsFunc(steps, func(s donor.WorkStep) bool { return s.Position.Local() == pads && s.New }) {
			t.Errorf("%s: the new disc gets no new pads", what)
		}
	}
}

// renewed checks that whatever a joint that opens renews is a step of the work, new when
// it goes on, after what it secures and before the bolts over what it seals.
func (b bench) renewed(t *testing.T, what string, steps []donor.WorkStep, n turns,
	replaced graph.PositionID) {
	t.Helper()
	rides := map[graph.PositionID]graph.PositionID{}
	for _, step := range steps {
		for _, id := range step.With {
			rides[id] = step.Position
		}
	}
	asOne := func(id graph.PositionID) graph.PositionID {
		if on, ok := rides[id]; ok && n.off[id.Local()] == 0 {
			return on
		}
		return id
	}
	for _, j := range b.joints {
		one, other := j.A.Position, j.B.Position
		if n.off[one.Local()]+n.off[other.Local()] == 0 || asOne(one) == asOne(other) {
			continue
		}
		isBack := func(id graph.PositionID) bool {
			return slices.ContainsFunc(steps,
				func(s donor.WorkStep) bool { return s.Do == donor.DoBack && s.Position == asOne(id) })
		}
		isHose := strings.Contains(one.Local(), "brake/hose") && asOne(one) != one
		if isHose && isBack(one) && isBack(other) { // it hangs between the two and stays shut
			continue
		}
		for _, id := range j.Renew {
			isNew := slices.ContainsFunc(steps,
				func(s donor.WorkStep) bool { return s.Position == id && (s.New || id == replaced) })
			if !b.before.Seat(id).Empty && !isNew {
				t.Errorf("%s: %s goes on new nowhere, though %s opens", what, id.Local(), j.ID)
			}
			if strings.Contains(id.Local(), "split-pin") {
				for _, end := range []graph.PositionID{one, other} {
					before(t, what+" on", n.on, end.Local(), id.Local())
					before(t, what+" off", n.off, id.Local(), end.Local())
				}
			}
			for _, bolt := range j.Fasteners {
				if strings.Contains(id.Local(), "gasket") || strings.Contains(id.Local(), "o-ring") {
					before(t, what+" on", n.on, id.Local(), bolt.Local())
				}
			}
		}
	}
}

// tightened checks the turn of the torques.
func (b bench) tightened(t *testing.T, what string, n turns) {
	t.Helper()
	for _, turn := range [][2]string{{"yokes/stem-bolt", "yokes/pinch-bolt-upper-left"},
		{"yokes/pinch-bolt-lower-left", "yokes/pinch-bolt-upper-left"}, {"yokes/stem-bolt", "controls/bar-clamp-bolt"},
		{"yokes/pinch-bolt-upper-right", "front-wheel/pinch-bolt-left"}, {"yokes/stem-bolt", "front-wheel/pinch-bolt-right"},
		{"front-wheel/pinch-bolt-right", "front-wheel/pinch-bolt-left"},
		{"front-wheel/pinch-bolt-left", "front-brake/caliper-bolt-left"}, {"front-brake/disc-bolt-left", "yokes/stem-bolt"},
		{"front-brake/disc-bolt-left", "front-wheel/pinch-bolt-left"},
		{"controls/bar-clamp-bolt", "front-brake/master-clamp-bolt"},
		{"front-brake/master-clamp-bolt", "front-brake/banjo-bolt-master"},
		{"front-brake/caliper-bolt-left", "front-brake/banjo-bolt-left"},
		{"final-drive/sprocket-nut-rear", "rear-wheel/axle-nut"},
		{"rear-brake/disc-bolt", "rear-wheel/axle-nut"}} {
		before(t, what+" tight", n.tight, turn[0], turn[1])
	}
	before(t, what+" tight", n.joint, "axle-in-right-leg", "pinch-bolt-right-thread")
	if n.joint["axle-in-right-leg"] > 0 && n.joint["pinch-bolt-right-thread"] == 0 {
		t.Errorf("%s: the bolt that pinches the axle, for which a source gives a torque, is tightened nowhere", what)
	}
}

// The end of a cable that stays by its other end is pulled off before what it goes to
// comes off, and pushed on after that is on.
func TestWorkFreesWhatStays(t *testing.T) {
	a := answered(t, donor.DonorQuestion{On: "skerry-620/2003/eu/late", From: "skerry-620s/2004/eu",
		Take: []string{"carburettors/rack"}})
	if len(a.Plans) == 0 {
		t.Fatal(a.Outcome)
	}
	at := func(do string, id graph.PositionID) int {
		return slices.IndexFunc(a.Plans[0].Work, func(s donor.WorkStep) bool { return s.Do == do && s.Position == id })
	}
	const cable, rack = "skerry-620:controls/choke-cable", "skerry-620:carburettors/rack"
	free, off, on, hook := at(donor.DoFree, cable), at(donor.DoOff, rack), at(donor.DoFit, rack), at(donor.DoHook, cable)
	if free < 0 || free > off || off > on || on > hook {
		t.Errorf("pulled off %d, rack off %d and on %d, pushed on %d", free, off, on, hook)
	}
}

// What a mechanic minds where one thing of a demonstration machine is replaced: what else
// comes off with it and in which turn, what does not, what is laid out new, and what is
// loosened, measured and set. All of it is common practice, no source.
func TestWorkAsAMechanicDoesIt(t *testing.T) {
	b := benchOf(t, demotest.Facts(t), "skerry-620/2003/eu/late")
	for _, tt := range []struct {
		replace string
		off     []string // come off in this turn, and go on in the opposite one
		stays   []string // do not come off
		new     []string
		does    []string // "do place", in this turn among the others
	}{
		{"final-drive/sprocket-front", []string{"final-drive/sprocket-cover", "final-drive/sprocket-nut",
			"final-drive/tab-washer", "final-drive/sprocket-front"},
			[]string{"final-drive/chain", "final-drive/chain-link", "rear-wheel/wheel", "rear-wheel/axle-nut"},
			[]string{"final-drive/tab-washer", "final-drive/sprocket-nut"},
			[]string{"loosen final-drive/tab-washer", "take out final-drive/sprocket-nut", "loosen rear-wheel/axle-nut",
				"pull off final-drive/chain", "take off final-drive/sprocket-front", "push on final-drive/chain",
				"tighten rear-wheel/axle-nut", "tighten final-drive/sprocket-nut", "secure final-drive/tab-washer",
				"put back final-drive/sprocket-cover", "tighten final-drive/sprocket-cover-bolt"}},
		{"final-drive/chain", []string{"final-drive/sprocket-cover", "final-drive/chain-link", "final-drive/chain"},
			[]string{"final-drive/sprocket-rear", "final-drive/sprocket-front", "rear-wheel/wheel", "rear-brake/caliper"},
			[]string{"final-drive/chain-link"},
			[]string{"loosen rear-wheel/axle-nut", "take off final-drive/chain-link", "tighten rear-wheel/axle-nut"}},
		{"rear-wheel/wheel", []string{"rear-wheel/axle-nut", "rear-wheel/axle", "rear-wheel/wheel",
			"final-drive/carrier", "rear-wheel/tyre", "rear-wheel/valve"},
			[]string{"final-drive/chain", "final-drive/chain-link", "final-drive/sprocket-cover"},
			[]string{"rear-wheel/valve", "rear-wheel/seal-right", "rear-wheel/axle-nut"},
			[]string{"pull off final-drive/chain", "take off rear-wheel/wheel", "put back rear-wheel/cush-rubbers",
				"put back final-drive/carrier", "tighten rear-brake/disc-bolt", "fit rear-wheel/wheel",
				"push on final-drive/chain", "tighten rear-wheel/axle-nut"}},
		{"rear-suspension/swingarm", []string{"final-drive/chain-link", "final-drive/chain", "rear-wheel/axle",
			"rear-wheel/wheel", "rear-wheel/adjuster-left", "rear-suspension/swingarm", "rear-suspension/pivot-cap-left",
			"rear-suspension/pivot-bearing-left"}, nil, []string{"final-drive/chain-link"}, nil},
		{"yokes/upper", []string{"controls/handlebar", "yokes/stem-bolt", "yokes/upper"},
			[]string{"fork/leg-left", "front-wheel/wheel", "front-brake/caliper-left", "yokes/pinch-bolt-lower-left",
				"bodywork/front-mudguard"}, nil,
			[]string{"measure fork/leg-left", "take off yokes/upper", "tighten yokes/stem-bolt",
				"tighten yokes/pinch-bolt-upper-left"}},
		{"yokes/lower", []string{"front-wheel/wheel", "fork/leg-left", "yokes/lower"},
			[]string{"front-brake/banjo-bolt-splitter-left", "front-brake/banjo-washer-splitter-left"}, nil, nil},
		{"fork/leg-left", []string{"front-wheel/wheel", "fork/leg-left", "fork/cap-left", "fork/spring-left"},
			nil, []string{"fork/seal-left"},
			[]string{"measure fork/leg-left", "take out yokes/pinch-bolt-upper-left", "loosen fork/cap-left",
				"take out yokes/pinch-bolt-lower-left", "drain fork/leg-left", "fill fork/leg-left", "pump fork/leg-left",
				"put back fork/cap-left", "fit fork/leg-left", "tighten yokes/pinch-bolt-lower-left", "tighten fork/cap-left",
				"tighten yokes/pinch-bolt-upper-left"}},
		{"controls/handlebar", []string{"controls/bar-weight-bolt-left", "controls/bar-weight-left", "controls/grip-left",
			"controls/switch-left", "controls/handlebar"}, []string{"controls/grip-right"}, nil,
			[]string{"take off controls/bar-weight-right", "take off controls/twist-grip", "put back controls/twist-grip",
				"put back controls/bar-weight-right"}},
		{"clutch/line", []string{"clutch/line"}, []string{"clutch/lever", "clutch/lever-clamp-bolt"}, nil,
			[]string{"loosen clutch/line", "take off clutch/line"}},
	} {
		t.Run(tt.replace, func(t *testing.T) {
			steps := b.judged(t, graph.PositionID(string(b.before.Variant.Model)+":"+tt.replace))
			n := turnsOf(steps)
			for i, id := range tt.off {
				if n.off[id] == 0 || n.on[id] == 0 {
					t.Errorf("%s: off at %d, on at %d", id, n.off[id], n.on[id])
				}
				if i > 0 {
					before(t, "off", n.off, tt.off[i-1], id)
					before(t, "on", n.on, id, tt.off[i-1])
				}
			}
			for _, id := range tt.stays {
				if n.off[id]+n.on[id] > 0 {
					t.Errorf("%s comes off", id)
				}
			}
			for _, id := range tt.new {
				if !slices.ContainsFunc(steps, func(s donor.WorkStep) bool { return s.Position.Local() == id && s.New }) {
					t.Errorf("%s goes on new nowhere", id)
				}
			}
			at := -1
			for _, do := range tt.does {
				next := slices.IndexFunc(steps, func(s donor.WorkStep) bool { return s.Do+" "+s.Position.Local() == do })
				if next <= at {
					t.Errorf("%q is step %d, after step %d", do, next+1, at+1)
				}
				at = next
			}
		})
	}
}

// Cables that came off, or came off with what they are on, get their free play; nothing else
// asks for any. Common practice, no source.
func TestFreePlayIsSet(t *testing.T) {
	b := benchOf(t, demotest.Facts(t), "skerry-620/2003/eu/late")
	for replace, want := range map[string]string{"clutch/line": "clutch", "controls/throttle-cable-open": "throttle",
		"controls/handlebar": "choke clutch throttle", "controls/choke-cable": "choke", "front-wheel/tyre": ""} {
		steps, _ := b.replace(t, graph.PositionID(string(b.before.Variant.Model)+":"+replace))
		var found []string
		for _, step := range steps {
			if name, _, ok := strings.Cut(step.Text, " cable"); ok && step.Do == donor.DoAlign {
				found = append(found, name)
			}
		}
		slices.Sort(found)
		if got := strings.Join(found, " "); got != want {
			t.Errorf("%s: free play of %q, want %q", replace, got, want)
		}
	}
}

// A rear sprocket comes off its carrier, and the carrier stays in the wheel with its bearing
// and seal; of the clips on two hoses only those of the hose that comes off come off with it; a
// chain that is replaced takes its link along, also where only its kind says that they belong
// together. Common practice, no source.
func TestWhatStaysTogether(t *testing.T) {
	b := benchOf(t, demotest.Facts(t), "fjeld-750/2004/uk")
	n := turnsOf(b.judged(t, "fjeld-750:final-drive/sprocket-rear"))
	if n.off["final-drive/sprocket-rear"] == 0 || n.off["rear-wheel/wheel"] == 0 ||
		n.off["final-drive/carrier"]+n.off["final-drive/carrier-bearing"]+n.off["final-drive/carrier-seal"] > 0 {
		t.Errorf("sprocket: %v", n.off)
	}
	n = turnsOf(b.judged(t, "fjeld-750:final-drive/chain"))
	before(t, "chain off", n.off, "final-drive/chain-link", "final-drive/chain")
	if n.off["final-drive/chain-link"] == 0 || n.on["final-drive/chain-link"] == 0 {
		t.Errorf("the chain is parted and its link stays: %v", n.off)
	}
	b = benchOf(t, demotest.Facts(t), "skerry-620/2003/eu/late")
	steps := b.judged(t, "skerry-620:cooling/hose-top")
	clips := slices.IndexFunc(steps, func(s donor.WorkStep) bool {
		return s.Do == donor.DoOut && s.Position.Local() == "cooling/hose-clip"
	})
	n = turnsOf(steps)
	if clips < 0 || steps[clips].Quantity != 2 || n.joint["hose-top-a"] == 0 || n.joint["hose-bottom-a"] > 0 {
		t.Errorf("two clips come off one hose, got step %d of %v", clips+1, steps)
	}
}

// A gasket goes on with its cover, once all is in that it shuts in; decals stay on a tank that
// goes back. Common practice, no source.
func TestGasketAndDecals(t *testing.T) {
	b := benchOf(t, demotest.Facts(t), "skerry-620/2003/eu/late")
	n := turnsOf(b.judged(t, "skerry-620:clutch/plates"))
	for _, turn := range [][2]string{{"clutch/plates", "clutch/cover-gasket"}, {"clutch/springs", "clutch/cover-gasket"},
		{"clutch/cover-gasket", "clutch/cover"}, {"clutch/cover", "clutch/cover-bolt"}} {
		before(t, "on", n.on, turn[0], turn[1])
		before(t, "off", n.off, turn[1], turn[0])
	}
	if n.on["clutch/cover-gasket"] == 0 || n.on["engine/drain-washer"] == 0 {
		t.Errorf("no new gasket or washer of the drain plug: %v", n.on)
	}
	n = turnsOf(b.judged(t, "skerry-620:carburettors/rack"))
	if n.off["tank/tank"] == 0 || n.off["tank/decal-left"]+n.off["tank/decal-right"] > 0 {
		t.Errorf("the tank comes off with its decals on: %v", n.off)
	}
}

// Common practice, no source: the ring of a tap lies on the tank before the tap is screwed over it,
// and comes off after it. Fuel is shut off before anything of it is opened and looked at last; what
// cools the engine is drained where a thermostat or a hose of it comes out.
func TestFuelAndCoolant(t *testing.T) {
	b := benchOf(t, demotest.Facts(t), "skerry-620/2003/eu/late")
	says := func(steps []donor.WorkStep, do, what string) int {
		return slices.IndexFunc(steps, func(s donor.WorkStep) bool { return s.Do == do && strings.HasPrefix(s.Text, what) })
	}
	for place, want := range map[graph.PositionID][2]bool{"skerry-620:tank/tank": {true, false},
		"skerry-620:carburettors/rack": {true, false}, "skerry-620:cooling/thermostat": {false, true},
		"skerry-620:cooling/radiator": {false, true}, "skerry-620:front-brake/lever": {}} {
		steps := b.judged(t, place)
		for i, what := range []string{"fuel", "coolant"} {
			drained, filled := says(steps, donor.DoDrain, what), says(steps, donor.DoFill, what)
			if drained >= 0 != want[i] || filled >= 0 != want[i] || want[i] && filled < len(steps)-3 {
				t.Errorf("%s: %s drained in step %d, filled in %d of %d; want %v", place, what, drained, filled,
					len(steps), want[i])
			}
		}
	}
	n := turnsOf(benchOf(t, demotest.Facts(t), "fjeld-750/2004/uk").judged(t, "fjeld-750:tank/tank"))
	before(t, "on", n.on, "tank/tap-o-ring", "tank/tap")
	before(t, "on", n.on, "tank/tap", "tank/tank")
	before(t, "off", n.off, "tank/tap", "tank/tap-o-ring")
}
