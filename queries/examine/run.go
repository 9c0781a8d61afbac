package examine

import (
	"cmp"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

func runOutcome(x *Examiner, run graph.Run) Outcome {
	refs := append([]graph.FeatureRef{{Position: run.Line}, run.From, run.To}, run.MovedBy...)
	for _, id := range x.risersOf(run) {
		refs = append(refs, graph.FeatureRef{Position: id})
	}
	o := Outcome{What: OfRun, ID: string(run.ID), Run: run, Ends: x.Ends(append(refs, run.LengthenedBy...)...)}
	was, is := x.checks(OfRun+string(run.ID), func(s *machine.Setup) []mating.Check { return runChecks(x, s, run) })
	return x.Judged(o, was, is)
}

// runChecks judges a line. Its path was measured on the machine as built, so
// an end moves by the difference to what was built, also on a bike on which
// somebody had changed it before.
func runChecks(x *Examiner, s *machine.Setup, run graph.Run) []mating.Check {
	if absent := s.Absent(run.Line); len(absent) > 0 {
		return absent
	}
	in := runCase(x, s, run)
	in.Brief = x.isBrief(s)
	return mating.JudgeRun(in)
}

func runCase(x *Examiner, s *machine.Setup, run graph.Run) mating.RunCase {
	in := mating.RunCase{Run: run.ID, Line: lineSide(x, s, run), Needs: rankedNeeds(x, run),
		Spare: rankedReadings(x, run.Spare, measure.Length),
		Inner: rankedReadings(x, run.Inner, measure.Length), Guides: run.Guides, Fittings: fittings(x, s, run)}
	if !x.Built.Seat(run.Line).Empty {
		in.Built = lineSide(x, x.Built, run)
	}
	in.Turns, in.Travels = motion(x, run)
	in.Behind = isBehind(x, s, run)
	in.Moves = moves(x, s, run.MovedBy)
	in.Lengthens = moves(x, s, run.LengthenedBy)
	in.Raises = raises(x, s, run)
	seen := map[graph.PositionID]bool{}
	for _, ref := range slices.Concat([]graph.FeatureRef{run.From, run.To}, run.MovedBy, run.LengthenedBy) {
		if moved, ok := s.MovedAt(ref.Position); ok && !seen[ref.Position] {
			in.Moves, seen[ref.Position] = append(in.Moves, movedEnd(s, ref, moved)), true
		}
	}
	_, in.GuidesMoved = s.MovedAt(run.Line)
	return in
}

// motion says what the ends of a run go with, against one another: the bars, where
// one of them sits on what the bars carry, and a wheel, where one sits on a leg or is
// a brake at the wheel. A line to a brake in front does both.
func motion(x *Examiner, run graph.Run) (turns, travels bool) {
	turns = len(run.MovedBy)+len(run.LengthenedBy) > 0
	travels = len(run.LengthenedBy) > 0
	for _, c := range x.Circuits {
		if c.Wheel == "" || !slices.Contains(c.Fed, run.From.Position) && !slices.Contains(c.Fed, run.To.Position) {
			continue
		}
		turns, travels = turns || c.Wheel == "front", true
	}
	return turns, travels
}

// isBehind reports whether a line is of a brake at the rear wheel alone, and no end of it is
// on what turns with the bars, or moved by that.
func isBehind(x *Examiner, s *machine.Setup, run graph.Run) bool {
	behind := false
	for _, c := range x.Circuits {
		if !slices.Contains(c.Members, run.Line) {
			continue
		}
		if behind = c.Wheel == "rear"; !behind {
			return false
		}
	}
	steers := func(id graph.PositionID) bool {
		kind := s.Position(id).Kind
		return slices.Contains([]graph.KindID{"handlebar", "clip-on", "riser", "yoke-upper", "yoke-lower", "fork-leg"}, kind)
	}
	ends := slices.Concat(run.MovedBy, run.LengthenedBy, []graph.FeatureRef{run.From, run.To})
	return behind && !slices.ContainsFunc(ends, func(ref graph.FeatureRef) bool { return steers(ref.Position) })
}

// movedEnd is an end of a run, or what carries it, that hangs elsewhere than as built, by
// how far it was moved. How far nobody says is for the rule to ask.
func movedEnd(s *machine.Setup, end graph.FeatureRef, m graph.Moved) mating.Move {
	at := func(part graph.PartID, forward, left, up string) mating.Side {
		f := graph.Feature{Name: end.Feature, Kind: "place", Dims: map[string][]graph.Reading{}}
		for dim, text := range map[string]string{"x": forward, "y": left, "z": up} {
			f.Dims[dim] = []graph.Reading{{Text: cmp.Or(text, "0 mm"), Cite: graph.Cite{Pos: m.Pos}}}
		}
		return mating.Side{Position: end.Position, Part: part, Feature: f}
	}
	// where it was is nobody's reading of the part: no conflict with where it is
	move := mating.Move{Was: at("", "", "", ""), Now: at(s.Seat(end.Position).Part.ID, m.Forward, m.Left, m.Up)}
	if m.Forward+m.Left+m.Up == "" {
		move.Now.Feature.Dims = nil
	}
	return move
}

// lineSide is the feature of the line that has a length.
func lineSide(x *Examiner, s *machine.Setup, run graph.Run) mating.Side {
	seat := s.Seat(run.Line)
	for _, kind := range machine.LineKinds() {
		if f, ok := machine.FeatureOfKind(seat.Part, kind); ok {
			return mating.Side{Position: run.Line, Part: seat.Part.ID, Feature: f}
		}
	}
	return mating.Side{Position: run.Line, Part: seat.Part.ID, Feature: expectedLine(x, s, seat)}
}

// expectedLine is the feature that has a length of a line on which nobody measured
// any: as its kind calls it, else what belongs there, else as that of what was
// built.
func expectedLine(x *Examiner, s *machine.Setup, seat machine.Seat) graph.Feature {
	for _, kind := range []graph.KindID{seat.Part.Kind, seat.Position.Kind} {
		for _, f := range s.Library().Kind(kind).Features {
			if slices.Contains(machine.LineKinds(), f.Kind) {
				return graph.Feature{Name: f.Name, Kind: f.Kind}
			}
		}
	}
	built := x.Built.Seat(seat.Position.ID).Part
	for _, kind := range machine.LineKinds() {
		if was, ok := machine.FeatureOfKind(built, kind); ok {
			return graph.Feature{Name: was.Name, Kind: kind}
		}
	}
	return graph.Feature{Name: "hose", Kind: "hose"}
}

// moves pairs each part that carries an end with the one that was built, where
// they differ.
func moves(x *Examiner, s *machine.Setup, refs []graph.FeatureRef) []mating.Move {
	var moves []mating.Move
	for _, ref := range refs {
		was, now := x.Built.Seat(ref.Position), s.Seat(ref.Position)
		if !was.IsSame(now) {
			moves = append(moves, mating.Move{Was: x.Built.Side(ref), Now: s.Side(ref)})
		}
	}
	return moves
}

// raises pairs each riser of the bar that carries an end of a run with the one that was
// built, where they differ.
func raises(x *Examiner, s *machine.Setup, run graph.Run) []mating.Raise {
	riser := func(s *machine.Setup, id graph.PositionID) mating.Riser {
		return mating.Riser{Length: s.KindAt(id, "fork-length"), Set: s.KindAt(id, "riser-set")}
	}
	var all []mating.Raise
	for _, id := range x.risersOf(run) {
		if !asBuilt(x, s, id) {
			all = append(all, mating.Raise{Was: riser(x.Built, id), Now: riser(s, id)})
		}
	}
	return all
}

// rankedNeeds are the needs of a run with the best reading first.
func rankedNeeds(x *Examiner, run graph.Run) []graph.RunNeed {
	return lists.Mapped(run.Needs, func(n graph.RunNeed) graph.RunNeed {
		n.Length = rankedReadings(x, n.Length, measure.Length)
		return n
	})
}

func rankedReadings(x *Examiner, readings []graph.Reading, t measure.Type) []graph.Reading {
	return x.After.Library().Evidence().RankReadings(graph.DimSpec{Type: t}, readings, &x.After.Variant)
}

// fittings says what the ends of another line must be: what each end of the
// present one meets.
func fittings(x *Examiner, s *machine.Setup, run graph.Run) []mating.Field {
	var fields []mating.Field
	for j := range x.JointsAt(run.Line) {
		for _, ends := range [][2]graph.FeatureRef{{j.A, j.B}, {j.B, j.A}} {
			if ends[0].Position != run.Line {
				continue
			}
			if text := fittingText(s.Side(ends[0]).Feature, s.Side(ends[1]).Feature); text != "" {
				fields = append(fields, mating.Field{Name: ends[0].Feature + " to " + ends[1].Position.Local(), Value: text})
			}
		}
	}
	slices.SortFunc(fields, func(a, b mating.Field) int { return strings.Compare(a.Name, b.Name) })
	return slices.Compact(fields)
}

// fittingText is one end as one would order it: by what it must suit, and by
// the angle of the end that is there.
func fittingText(end, meets graph.Feature) string {
	var words []string
	switch meets.Kind {
	case "port":
		words = append(words, portEnd(end, machine.BestText(meets, "thread")))
		if seat := machine.BestText(meets, "seat"); seat != "" {
			words = append(words, "seat "+seat)
		}
		words = append(words, "bent "+cmp.Or(machine.BestText(end, "angle"), "as the one that is there: measure it"))
	case "nipple-seat":
		words = append(words, nippleEnd(end, meets))
	case "connector":
		words = append(words, "plug", machine.BestText(meets, "family"))
	default:
		return ""
	}
	return strings.Join(lists.Kept(words, func(w string) bool { return w != "" }), " ")
}

// nippleEnd is the end of a cable in its seat: the nipple that is there where it goes in, since one as big as its
// seat does not turn in it, else one to suit the seat.
func nippleEnd(end, seat graph.Feature) string {
	form, size := machine.BestText(seat, "form"), machine.BestText(seat, "diameter")
	if size == "" {
		return strings.TrimSpace(form + " nipple")
	}
	own := machine.BestText(end, "diameter")
	has, err := measure.ParseQuantity(own, measure.Length)
	takes, errSeat := measure.ParseQuantity(size, measure.Length)
	if err == nil && errSeat == nil && machine.BestText(end, "form") == form && has.Nominal <= takes.Nominal {
		return form + " nipple " + own
	}
	return form + " nipple to turn in a seat of " + size
}

// portEnd is the end of a hose at a port: an eye by its sizes, else the thread
// that screws in.
func portEnd(end graph.Feature, thread string) string {
	if end.Kind != "banjo" {
		return end.Kind + " for " + thread
	}
	if thread == "" {
		thread = "the port's thread (measure it)"
	}
	text := "banjo for " + thread
	if eye := machine.BestText(end, "eye"); eye != "" {
		text += ", eye " + eye
	}
	if thick := machine.BestText(end, "thickness"); thick != "" {
		text += ", " + thick + " thick"
	}
	return text + ","
}
