package store

import (
	"slices"
	"strings"

	"matewell/graph"
)

// touches makes a record findable by every position it has to do with.
func (p page) touches(positions []graph.PositionID, features ...graph.FeatureRef) {
	for _, id := range positions {
		p.derive(termTouches, iri(id))
	}
	for _, f := range features {
		if f.Position != "" {
			p.derive(termTouches, iri(f.Position))
		}
	}
}

func jointCodec() codec[graph.JointID, graph.Joint] {
	return codec[graph.JointID, graph.Joint]{
		class: classJoint,
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
	p.holdsOn(v.On)
	p.touches(slices.Concat(v.Fasteners, v.Renew), v.A, v.B)
}

func readJoint(r *record) graph.Joint {
	return graph.Joint{
		ID:        self[graph.JointID](r),
		Model:     linked[graph.ModelID](r, termModel),
		A:         r.feature(termSideA),
		B:         r.feature(termSideB),
		Fasteners: links[graph.PositionID](r, termFastener),
		Torque:    r.readings(termTorque),
		Renew:     links[graph.PositionID](r, termRenews),
		Allow:     r.text(termAllow),
		On:        r.variants(),
		Said:      r.said(),
	}
}

func runCodec() codec[graph.RunID, graph.Run] {
	return codec[graph.RunID, graph.Run]{
		class: classRun,
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
	p.holdsOn(v.On)
	if v.Line != "" {
		p.touches([]graph.PositionID{v.Line})
	}
	p.touches(nil, slices.Concat([]graph.FeatureRef{v.From, v.To}, v.MovedBy, v.LengthenedBy)...)
}

func readRun(r *record) graph.Run {
	guides, _ := r.list(termGuides)
	return graph.Run{
		ID:           self[graph.RunID](r),
		Model:        linked[graph.ModelID](r, termModel),
		Line:         linked[graph.PositionID](r, termLine),
		From:         r.feature(termFrom),
		To:           r.feature(termTo),
		Needs:        r.needs(),
		Inner:        r.readings(termInner),
		Spare:        r.readings(termSpare),
		MovedBy:      r.features(termMovedBy),
		LengthenedBy: r.features(termLengthenedBy),
		Guides:       plainTexts(guides),
		On:           r.variants(),
		Said:         r.said(),
	}
}

// needs gives the attitudes in their fixed order: left, centre, right, each
// extended before compressed; unknown words last, by name.
func (r *record) needs() []graph.RunNeed {
	var list []graph.RunNeed
	for name, length := range r.quantities(termNeed) {
		lock, fork, _ := strings.Cut(name, "/")
		list = append(list, graph.RunNeed{Lock: unescape(lock), Fork: unescape(fork), Length: length})
	}
	return sortedBy(list, func(n graph.RunNeed) string {
		return rank(n.Lock, "left", "centre", "right") + n.Lock + "\x00" +
			rank(n.Fork, "extended", "compressed") + n.Fork
	})
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
		class: classCircuit,
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
	p.holdsOn(v.On)
	p.touches(slices.Concat(v.Feeds, v.Fed, v.Members))
}

func readCircuit(r *record) graph.Circuit {
	feeds, _ := r.list(termFeeds)
	fed, _ := r.list(termFed)
	return graph.Circuit{
		ID:      self[graph.CircuitID](r),
		Model:   linked[graph.ModelID](r, termModel),
		Carries: r.text(termCarries),
		Feeds:   idsOf[graph.PositionID](feeds),
		Fed:     idsOf[graph.PositionID](fed),
		Members: links[graph.PositionID](r, termMember),
		Wheel:   r.text(termWheel),
		On:      r.variants(),
		Said:    r.said(),
	}
}

func stackCodec() codec[graph.StackID, graph.Stack] {
	return codec[graph.StackID, graph.Stack]{
		class: classStack,
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
	p.holdsOn(v.On)
	p.touches(nil, slices.Concat([]graph.FeatureRef{v.Within, v.Centre}, v.Row)...)
}

func readStack(r *record) graph.Stack {
	return graph.Stack{
		ID:     self[graph.StackID](r),
		Model:  linked[graph.ModelID](r, termModel),
		Within: r.feature(termWithin),
		Row:    r.features(termRow),
		Centre: r.feature(termCentre),
		On:     r.variants(),
		Said:   r.said(),
	}
}
