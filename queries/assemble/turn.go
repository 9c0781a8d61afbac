package assemble

import (
	"slices"

	"matewell/graph"
	"matewell/queries/machine"
)

// turn is a rule of the order in which a machine in pieces goes together that no joint
// tells of, by kinds of part. All of them are common practice, no source.
type turn struct {
	first, then []string // kinds
	beside      bool     // of one assembly alone, and of one side where both have one
}

// musts are those without which the later part can't go on, or must come off again.
var musts = []turn{
	{[]string{"jet-kit"}, []string{"carburettors"}, true}, // not reached once the rack is in
	{[]string{"clutch-pushrod"}, []string{"clutch-arm", "clutch-slave"}, true},
	{[]string{"panel", "fuel-tank", "front-mudguard"}, []string{"decal"}, true},
	{[]string{"fork-seal", "fork-dust-seal"}, []string{"fork-spring", "fork-cap"}, true}, // driven in with the leg open
	{[]string{"thermostat"}, []string{"rubber-hose"}, true},                              // it lies under the neck of one
	{[]string{"exhaust-header"}, []string{"exhaust-collector", "silencer"}, true},
	{[]string{"exhaust-collector"}, []string{"silencer"}, true},
	{[]string{"bolt"}, []string{"circlip"}, true}, // it keeps a pin in
	{[]string{"chain"}, []string{"chain-link"}, true},
	{[]string{"chain-slider"}, []string{"chain"}, true},
	{[]string{"handlebar"}, []string{"bar-cap"}, true}, // laid into the yoke before the cap shuts it in
}

// hosts are what something sits in or on where no joint says so: without the one the other
// can't be fitted, whichever of the two comes first.
var hosts = []turn{
	{[]string{"carburettors"}, []string{"jet-kit"}, true},
	{[]string{"airbox"}, []string{"air-filter", "airbox-boot"}, true},
	{[]string{"radiator"}, []string{"radiator-cap", "fan", "thermo-switch"}, true},
	{[]string{"fuel-tank"}, []string{"fuel-cap", "fuel-tap"}, true},
	{[]string{"clutch-hub"}, []string{"clutch-plates"}, true},
}

// lates are those that only keep what is in the way, or what is dangerous, for the end.
var lates = []turn{
	{[]string{"engine-plate", "carburettors", "airbox", "ignition-coil", "wiring-loom", "throttle-cable", "choke-cable",
		"clutch-cable", "exhaust-header", "exhaust-collector", "radiator", "shock", "clip-on", "handlebar"},
		[]string{"fuel-tank"}, false},
	{[]string{"wiring-loom", "igniter", "ignition-coil", "regulator", "relay", "fuse-box", "fuse", "horn", "switchgear",
		"ignition-switch", "headlamp", "tail-lamp", "indicator", "clocks", "fuel-tank"}, []string{"battery"}, false},
	{[]string{"battery"}, []string{"clip"}, true},
	{[]string{"insert"}, []string{"screen"}, true},
	{[]string{"indicator"}, []string{"nut"}, true},
	{[]string{"front-mudguard"}, []string{"front-wheel"}, false}, // between the legs while there is room
}

// under are the kinds that go into, onto or under what is held, before that.
var under = []string{"collar", "grommet", "gasket", "o-ring"}

// lamps are the kinds that hang on what they are joined to, and carry nothing but bulbs.
var lamps = []string{"headlamp", "tail-lamp", "indicator", "plate-lamp", "reflector", "screen"}

// carries are the kinds that such things hang on.
var carries = []string{"panel", "fairing-stay", "headlamp-bracket", "plate-holder", "rear-mudguard", "frame",
	"subframe"}

// hung are the kinds that go onto an engine only once that hangs in the frame.
var hung = []string{"exhaust-header", "carburettors", "chain", "drive-belt", "drive-shaft"}

// inTurn says of the places of a machine what each must follow, and what it better follows.
func inTurn(s *machine.Setup, m Machine) (must, late map[graph.PositionID][]graph.PositionID) {
	must, late = map[graph.PositionID][]graph.PositionID{}, map[graph.PositionID][]graph.PositionID{}
	follow(m.Positions, musts, must)
	follow(m.Positions, lates, late)
	for _, p := range m.Positions {
		switch on := m.ownerOf(p); {
		case on == "" && p.Kind == "bar-cap":
			m.underCap(p, must)
		case on == "":
		case slices.Contains(under, string(p.Kind)):
			must[on] = append(must[on], p.ID)
		default:
			must[p.ID] = append(must[p.ID], on)
			delete(late, p.ID) // it goes in with that
		}
	}
	m.dustSeals(s, must)
	mounts := m.mounts(s)
	for _, p := range m.Positions {
		if slices.Contains(hung, string(p.Kind)) {
			must[p.ID] = append(must[p.ID], mounts...)
		}
	}
	for _, j := range m.Joints {
		for _, id := range j.Ends() {
			on := j.Other(id)
			hangs := slices.Contains(lamps, string(s.Position(id).Kind)) && slices.Contains(carries, string(s.Position(on).Kind))
			isBulb := s.Position(id).Kind == "bulb" && slices.Contains(lamps, string(s.Position(on).Kind))
			if j.Holds && !j.Electric && hangs || isBulb {
				must[id] = append(must[id], on)
			}
			if hangs && s.Position(id).Kind == "screen" {
				for _, p := range m.Positions {
					if p.Kind == "insert" && p.Assembly == s.Position(on).Assembly {
						must[p.ID] = append(must[p.ID], on) // the nuts that its screws go into
					}
				}
			}
		}
		for _, wheel := range m.Wheels {
			if j.Around == "" || !wheel.has(j.Other(j.Around)) {
				continue
			}
			for _, bolt := range m.boltsOf(j.Around) { // a caliper goes over its disc with the wheel in
				must[bolt] = append(append(must[bolt], wheel.Hub), wheel.Axles...)
			}
		}
	}
	return must, late
}

// needed says of each place what must be there for it to be fitted at all: what is joined
// to it and nearer to the frame, and what it sits in.
func needed(m Machine) map[graph.PositionID][]graph.PositionID {
	needs := map[graph.PositionID][]graph.PositionID{}
	follow(m.Positions, hosts, needs)
	depth := m.Held(func(graph.PositionID) bool { return true })
	for _, j := range m.Joints {
		for _, id := range j.Ends() {
			on := j.Other(id)
			isHeld := j.Holds && !j.Electric && j.Shaft == "" && depth[on] > 0 && depth[id] > depth[on]
			if isHeld && !m.Bolts[id] && !m.Bolts[on] && !m.Bends[id] && !m.Bends[on] {
				needs[id] = append(needs[id], on)
			}
		}
	}
	return needs
}

// follow adds what each place follows by some rules.
func follow(positions []graph.Position, rules []turn, into map[graph.PositionID][]graph.PositionID) {
	for _, rule := range rules {
		for _, first := range positions {
			if !slices.Contains(rule.first, string(first.Kind)) {
				continue
			}
			for _, then := range positions {
				apart := then.Assembly != first.Assembly || then.Side != "" && first.Side != "" && then.Side != first.Side
				if slices.Contains(rule.then, string(then.Kind)) && !(rule.beside && apart) {
					into[then.ID] = append(into[then.ID], first.ID)
				}
			}
		}
	}
}
