package store

import (
	"slices"
	"strings"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// touches says which positions a record has to do with. It follows from the
// record's other facts.
func touches(p page, positions []graph.PositionID) {
	for _, id := range positions {
		if id != "" {
			p.derive(termTouches, iri(id))
		}
	}
}

// at are the positions of features behind those of a list.
func at(list []graph.PositionID, features ...graph.FeatureRef) []graph.PositionID {
	list = slices.Clone(list)
	for _, f := range features {
		list = append(list, f.Position)
	}
	return list
}

func jointTouches(v graph.Joint) []graph.PositionID {
	return at(slices.Concat(v.Fasteners, v.Renew), v.A, v.B)
}

func runTouches(v graph.Run) []graph.PositionID {
	return at(append([]graph.PositionID{v.Line}, v.Hot...), slices.Concat([]graph.FeatureRef{v.From, v.To}, v.MovedBy,
		v.LengthenedBy)...)
}

func circuitTouches(v graph.Circuit) []graph.PositionID {
	return slices.Concat(v.Feeds, v.Fed, v.Members)
}

func stackTouches(v graph.Stack) []graph.PositionID {
	return at(nil, slices.Concat([]graph.FeatureRef{v.Within, v.Centre}, v.Row)...)
}

func jointCodec() codec[graph.JointID, graph.Joint] {
	return codec[graph.JointID, graph.Joint]{
		class:  classJoint,
		name:   "joint",
		list:   func(f *graph.Facts) *[]graph.Joint { return &f.Joints },
		merge:  mergeJoints,
		homeOf: func(id graph.JointID) quad.IRI { return modelBefore(id) },
		edges: func(v graph.Joint, e *edgesTo) {
			edge(e, edgeOf+"joint", v.Model)
			edge(e, edgeTouches+"joint", jointTouches(v)...)
		},
		id:    func(v graph.Joint) graph.JointID { return v.ID },
		write: writeJoint,
		read:  readJoint,
	}
}

func writeJoint(s *sheet, v graph.Joint) {
	p := s.about(iri(v.ID), classJoint, v.Said)
	link(p, termModel, v.Model)
	p.feature(termSideA, v.A)
	p.feature(termSideB, v.B)
	link(p, termFastener, v.Fasteners...)
	p.readings(termTorque, v.Torque)
	link(p, termRenews, v.Renew...)
	p.text(termAllow, v.Allow)
	link(p, termOn, v.On...)
	touches(p, jointTouches(v))
}

func readJoint(r *record) graph.Joint {
	return graph.Joint{
		ID:        self[graph.JointID](r),
		Model:     linked[graph.ModelID](r, termModel),
		A:         r.feature(termSideA),
		B:         r.feature(termSideB),
		Fasteners: links[graph.PositionID](r, termFastener),
		Torque:    readings(r, termTorque),
		Renew:     links[graph.PositionID](r, termRenews),
		Allow:     r.text(termAllow),
		On:        links[graph.VariantID](r, termOn),
		Said:      r.said(),
	}
}

func runCodec() codec[graph.RunID, graph.Run] {
	return codec[graph.RunID, graph.Run]{
		class:  classRun,
		name:   "run",
		list:   func(f *graph.Facts) *[]graph.Run { return &f.Runs },
		merge:  mergeRuns,
		homeOf: func(id graph.RunID) quad.IRI { return modelBefore(id) },
		edges: func(v graph.Run, e *edgesTo) {
			edge(e, edgeOf+"run", v.Model)
			edge(e, edgeTouches+"run", runTouches(v)...)
		},
		id:    func(v graph.Run) graph.RunID { return v.ID },
		write: writeRun,
		read:  readRun,
	}
}

func writeRun(s *sheet, v graph.Run) {
	p := s.about(iri(v.ID), classRun, v.Said)
	link(p, termModel, v.Model)
	link(p, termLine, v.Line)
	p.feature(termFrom, v.From)
	p.feature(termTo, v.To)
	for _, need := range v.Needs {
		p.readings(under(termNeed, need.Lock, need.Fork), need.Length)
	}
	p.readings(termInner, v.Inner)
	p.readings(termSpare, v.Spare)
	p.features(termMovedBy, v.MovedBy)
	p.features(termLengthenedBy, v.LengthenedBy)
	p.list(termGuides, texts(v.Guides))
	link(p, termHot, v.Hot...)
	p.readings(termGap, v.Gap)
	p.readings(termLeastGap, v.LeastGap)
	link(p, termOn, v.On...)
	touches(p, runTouches(v))
}

func readRun(r *record) graph.Run {
	guides := r.list(termGuides)
	return graph.Run{
		ID:           self[graph.RunID](r),
		Model:        linked[graph.ModelID](r, termModel),
		Line:         linked[graph.PositionID](r, termLine),
		From:         r.feature(termFrom),
		To:           r.feature(termTo),
		Needs:        needs(r),
		Inner:        readings(r, termInner),
		Spare:        readings(r, termSpare),
		MovedBy:      r.features(termMovedBy),
		LengthenedBy: r.features(termLengthenedBy),
		Guides:       plainTexts(guides),
		Hot:          links[graph.PositionID](r, termHot),
		Gap:          readings(r, termGap),
		LeastGap:     readings(r, termLeastGap),
		On:           links[graph.VariantID](r, termOn),
		Said:         r.said(),
	}
}

// needs gives the attitudes in their fixed order: left, centre, right, each
// extended before compressed; unknown words last, by name.
func needs(r *record) []graph.RunNeed {
	var list []graph.RunNeed
	for name, length := range quantities(r, termNeed) {
		lock, fork, _ := strings.Cut(name, "/")
		list = append(list, graph.RunNeed{Lock: unescape(lock), Fork: unescape(fork), Length: length})
	}
	slices.SortFunc(list, func(a, b graph.RunNeed) int {
		return compareAttitudes([2]string{a.Lock, a.Fork}, [2]string{b.Lock, b.Fork})
	})
	return list
}

// compareAttitudes compares lock and fork of two attitudes.
func compareAttitudes(a, b [2]string) int {
	key := func(v [2]string) string {
		return rank(v[0], "left", "centre", "right") + v[0] + "\x00" + rank(v[1], "extended", "compressed") + v[1]
	}
	return strings.Compare(key(a), key(b))
}

// rank sorts the words given in their order, before all others.
func rank(word string, words ...string) string {
	i := slices.Index(words, word)
	if i < 0 {
		i = len(words)
	}
	return string(rune('0' + i))
}

func circuitCodec() codec[graph.CircuitID, graph.Circuit] {
	return codec[graph.CircuitID, graph.Circuit]{
		class:  classCircuit,
		name:   "circuit",
		list:   func(f *graph.Facts) *[]graph.Circuit { return &f.Circuits },
		merge:  mergeCircuits,
		homeOf: func(id graph.CircuitID) quad.IRI { return modelBefore(id) },
		edges: func(v graph.Circuit, e *edgesTo) {
			edge(e, edgeOf+"circuit", v.Model)
			edge(e, edgeTouches+"circuit", circuitTouches(v)...)
		},
		id:    func(v graph.Circuit) graph.CircuitID { return v.ID },
		write: writeCircuit,
		read:  readCircuit,
	}
}

func writeCircuit(s *sheet, v graph.Circuit) {
	p := s.about(iri(v.ID), classCircuit, v.Said)
	link(p, termModel, v.Model)
	p.text(termCarries, v.Carries)
	p.list(termFeeds, iris(v.Feeds))
	p.list(termFed, iris(v.Fed))
	link(p, termMember, v.Members...)
	p.text(termWheel, v.Wheel)
	p.readings(termFilledWith, v.Fill)
	link(p, termOn, v.On...)
	touches(p, circuitTouches(v))
}

func readCircuit(r *record) graph.Circuit {
	feeds := r.list(termFeeds)
	fed := r.list(termFed)
	return graph.Circuit{
		ID:      self[graph.CircuitID](r),
		Model:   linked[graph.ModelID](r, termModel),
		Carries: r.text(termCarries),
		Feeds:   idsOf[graph.PositionID](feeds),
		Fed:     idsOf[graph.PositionID](fed),
		Members: links[graph.PositionID](r, termMember),
		Wheel:   r.text(termWheel),
		Fill:    readings(r, termFilledWith),
		On:      links[graph.VariantID](r, termOn),
		Said:    r.said(),
	}
}

func stackCodec() codec[graph.StackID, graph.Stack] {
	return codec[graph.StackID, graph.Stack]{
		class:  classStack,
		name:   "stack",
		list:   func(f *graph.Facts) *[]graph.Stack { return &f.Stacks },
		merge:  mergeStacks,
		homeOf: func(id graph.StackID) quad.IRI { return modelBefore(id) },
		edges: func(v graph.Stack, e *edgesTo) {
			edge(e, edgeOf+"stack", v.Model)
			edge(e, edgeTouches+"stack", stackTouches(v)...)
		},
		id:    func(v graph.Stack) graph.StackID { return v.ID },
		write: writeStack,
		read:  readStack,
	}
}

func writeStack(s *sheet, v graph.Stack) {
	p := s.about(iri(v.ID), classStack, v.Said)
	link(p, termModel, v.Model)
	p.feature(termWithin, v.Within)
	p.features(termRow, v.Row)
	p.feature(termCentre, v.Centre)
	link(p, termOn, v.On...)
	touches(p, stackTouches(v))
}

func readStack(r *record) graph.Stack {
	return graph.Stack{
		ID:     self[graph.StackID](r),
		Model:  linked[graph.ModelID](r, termModel),
		Within: r.feature(termWithin),
		Row:    r.features(termRow),
		Centre: r.feature(termCentre),
		On:     links[graph.VariantID](r, termOn),
		Said:   r.said(),
	}
}
