package queries

import (
	"cmp"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/mating"
)

func (x *examiner) run(run graph.Run) Outcome {
	refs := append([]graph.FeatureRef{{Position: run.Line}, run.From, run.To}, run.MovedBy...)
	o := Outcome{What: OfRun, ID: string(run.ID), run: run, Ends: x.ends(append(refs, run.LengthenedBy...)...)}
	was := x.was(OfRun+string(run.ID), func() []mating.Check { return x.runChecks(x.before, run) })
	return x.judged(o, was, x.runChecks(x.after, run))
}

// runChecks judges a line. Its path was measured on the machine as built, so
// an end moves by the difference to what was built, also on a bike on which
// somebody had changed it before.
func (x *examiner) runChecks(s *Setup, run graph.Run) []mating.Check {
	if absent := s.absent(run.Line); len(absent) > 0 {
		return absent
	}
	return mating.JudgeRun(x.runCase(s, run))
}

func (x *examiner) runCase(s *Setup, run graph.Run) mating.RunCase {
	in := mating.RunCase{Run: run.ID, Line: x.lineSide(s, run), Needs: x.rankedNeeds(run), Spare: x.rankedReadings(run.Spare, measure.Length),
		Inner: x.rankedReadings(run.Inner, measure.Length), Guides: run.Guides, Fittings: x.fittings(s, run)}
	in.Moves = x.moves(s, run.MovedBy)
	in.Lengthens = x.moves(s, run.LengthenedBy)
	return in
}

// lineSide is the feature of the line that has a length.
func (x *examiner) lineSide(s *Setup, run graph.Run) mating.Side {
	seat := s.Seat(run.Line)
	for _, kind := range []string{"hose", "cable", "lead"} {
		if f, ok := ofKind(seat.Part, kind); ok {
			return mating.Side{Position: run.Line, Part: seat.Part.ID, Feature: f}
		}
	}
	kind := "hose"
	if was, ok := ofKind(x.built.Seat(run.Line).Part, "cable"); ok {
		kind = was.Kind
	}
	return mating.Side{Position: run.Line, Part: seat.Part.ID, Feature: graph.Feature{Name: kind, Kind: kind}}
}

// moves pairs each part that carries an end with the one that was built, where
// they differ.
func (x *examiner) moves(s *Setup, refs []graph.FeatureRef) []mating.Move {
	var moves []mating.Move
	for _, ref := range refs {
		was, now := x.built.Seat(ref.Position), s.Seat(ref.Position)
		if was.Part.ID != now.Part.ID {
			moves = append(moves, mating.Move{Was: x.built.side(ref), Now: s.side(ref)})
		}
	}
	return moves
}

// rankedNeeds are the needs of a run with the best reading first.
func (x *examiner) rankedNeeds(run graph.Run) []graph.RunNeed {
	return mapped(run.Needs, func(n graph.RunNeed) graph.RunNeed {
		n.Length = x.rankedReadings(n.Length, measure.Length)
		return n
	})
}

func (x *examiner) rankedReadings(readings []graph.Reading, t measure.Type) []graph.Reading {
	return x.after.Library().evidence().rankReadings(graph.DimSpec{Type: t}, readings, &x.after.Variant)
}

// fittings says what the ends of another line must be: what each end of the
// present one meets.
func (x *examiner) fittings(s *Setup, run graph.Run) []mating.Field {
	var fields []mating.Field
	for _, j := range x.known {
		for _, ends := range [][2]graph.FeatureRef{{j.A, j.B}, {j.B, j.A}} {
			if ends[0].Position != run.Line {
				continue
			}
			if text := fittingText(s.side(ends[0]).Feature, s.side(ends[1]).Feature); text != "" {
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
		words = append(words, portEnd(end, bestText(meets, "thread")))
		if seat := bestText(meets, "seat"); seat != "" {
			words = append(words, "seat "+seat)
		}
		words = append(words, "bent "+cmp.Or(bestText(end, "angle"), "as the one that is there: measure it"))
	case "nipple-seat":
		words = append(words, bestText(meets, "form"), "nipple", bestText(meets, "diameter"))
	case "connector":
		words = append(words, "plug", bestText(meets, "family"))
	default:
		return ""
	}
	return strings.Join(kept(words, func(w string) bool { return w != "" }), " ")
}

// portEnd is the end of a hose at a port: an eye by its sizes, else the thread
// that screws in.
func portEnd(end graph.Feature, thread string) string {
	if end.Kind != "banjo" {
		return end.Kind + " for " + thread
	}
	text := "banjo for " + thread
	if eye := bestText(end, "eye"); eye != "" {
		text += ", eye " + eye
	}
	if thick := bestText(end, "thickness"); thick != "" {
		text += ", " + thick + " thick"
	}
	return text + ","
}

// bestText is the best reading of a dimension as written; empty when nobody
// gave it.
func bestText(f graph.Feature, dim string) string {
	if readings := f.Dims[dim]; len(readings) > 0 {
		return readings[0].Text
	}
	return ""
}
