package shop

import (
	"cmp"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// worked is what is worked on: opened places, with the jobs there and what shares a fluid
// with them.
type worked struct {
	setup    *machine.Setup
	opened   []graph.PositionID
	circuits []graph.Circuit
	places   []graph.Position // the opened ones, and all of the circuits
	jobs     []graph.Job
}

// fluids are what fills the circuits that hold fluid: the grade that every part allows
// that says so, which the jobs narrow down, and as much as the circuit takes, else a job says.
func (w worked) fluids() []Consumed {
	var all []Consumed
	for _, c := range w.circuits {
		if !holdsFluid(c) {
			continue
		}
		one := Consumed{What: c.Carries, At: slices.Clone(c.Feeds)}
		one.Amount, one.Unknown = amountOf(c.Fill, 1)
		allowed, said := allowedIn(w.setup, c)
		spec := ""
		for _, f := range w.fillsOf(c) {
			spec = cmp.Or(spec, f.Spec)
			if n := amountIn(f.Amount); n > one.Amount && len(c.Fill) == 0 {
				one.Amount, one.Unknown = n, 0
			}
		}
		one.Grade, one.Open = gradeText(allowed, said, spec)
		all = append(all, one)
	}
	return all
}

// holdsFluid reports whether filling a circuit is part of the work.
func holdsFluid(c graph.Circuit) bool { return c.Carries != "current" && c.Carries != "fuel" }

// fillsOf are what jobs at the places of a circuit say of its fluid.
func (w worked) fillsOf(c graph.Circuit) []graph.JobFill {
	var all []graph.JobFill
	for _, j := range w.jobs {
		if !slices.ContainsFunc(j.Places, func(id graph.PositionID) bool { return slices.Contains(c.Members, id) }) {
			continue
		}
		all = append(all, lists.Kept(slices.Clone(j.Fill), func(f graph.JobFill) bool {
			return f.Text == c.Carries && f.Scope.Covers(w.setup.Variant)
		})...)
	}
	return all
}

// fills are what the jobs at the opened places use up, but for what a place of theirs
// takes by its own word, and for the fluid of a circuit.
func (w worked) fills() []Consumed {
	var all []Consumed
	for _, j := range w.jobs {
		at := lists.Kept(slices.Clone(w.places), func(p graph.Position) bool {
			return slices.Contains(j.Places, p.ID) && slices.Contains(w.opened, p.ID)
		})
		if len(at) == 0 {
			continue
		}
		for _, f := range j.Fill {
			if !f.Scope.Covers(w.setup.Variant) || w.isSaid(j, at, f) {
				continue
			}
			one := Consumed{What: f.Text, Grade: f.Spec, Amount: amountIn(f.Amount),
				At: lists.Mapped(at, func(p graph.Position) graph.PositionID { return p.ID })}
			if each := eachOf(f.Amount); each != "" {
				one.At = lists.Kept(one.At, func(id graph.PositionID) bool { return w.isA(id, each) })
				one.Amount *= float64(len(one.At))
			}
			if strings.HasSuffix(f.Text, "fluid") { // pads come out and no union is opened
				one.At = lists.Kept(one.At, func(id graph.PositionID) bool { return holdsWet(w.setup, id) })
			}
			if one.Amount == 0 {
				one.Unknown = 1
			}
			if len(one.At) > 0 {
				all = append(all, one)
			}
		}
	}
	return all
}

// holdsWet reports whether fluid passes through what sits at a place.
func holdsWet(s *machine.Setup, id graph.PositionID) bool {
	return slices.ContainsFunc(s.FeatureKindsAt(id), func(kind string) bool {
		return slices.Contains(machine.WetKinds(), kind)
	})
}

// isSaid reports whether a place takes that by its own word, or a circuit holds it.
func (w worked) isSaid(j graph.Job, at []graph.Position, f graph.JobFill) bool {
	takes := slices.ContainsFunc(at, func(p graph.Position) bool {
		return p.UsesUp(f.Text)
	})
	return takes || slices.ContainsFunc(w.circuits, func(c graph.Circuit) bool {
		return holdsFluid(c) && (f.Text == c.Carries || f.Text == "fluid") &&
			slices.ContainsFunc(j.Places, func(id graph.PositionID) bool { return slices.Contains(c.Members, id) })
	})
}

// isA reports whether a word names what sits at a place: "leg" a fork leg.
func (w worked) isA(id graph.PositionID, word string) bool {
	at := slices.IndexFunc(w.places, func(p graph.Position) bool { return p.ID == id })
	return at >= 0 && slices.Contains(strings.Split(string(w.places[at].Kind), "-"), word)
}

// amountIn is the volume in cm3 that an amount begins with: "455 ml each leg"; 0 for none.
func amountIn(text string) float64 {
	words := strings.Fields(text)
	for n := min(2, len(words)); n > 0; n-- {
		if q, err := measure.ParseQuantity(strings.Join(words[:n], " "), measure.Volume); err == nil {
			return q.Nominal
		}
	}
	return 0
}

// eachOf is of what an amount is that much each; empty for one of all together.
func eachOf(text string) string {
	words := strings.Fields(text)
	if at := slices.Index(words, "each"); at >= 0 && at+1 < len(words) {
		return words[at+1]
	}
	return ""
}

// gradeText is the grade to get, of what all parts of a circuit allow and a job says; open
// where that is still to be settled.
func gradeText(allowed []string, said bool, spec string) (text string, open bool) {
	switch {
	case !said && spec == "":
		return "which one nobody recorded", true
	case !said || slices.Contains(allowed, spec):
		return spec, false
	case len(allowed) == 0:
		return "none that all its parts allow: settle that first", true
	case spec != "":
		return strings.Join(allowed, " or ") + " by its parts, " + spec + " by the job: settle that first", true
	}
	return strings.Join(allowed, " or "), false
}

// allowedIn is what all members of a circuit allow that say what they allow; said is false
// when none does.
func allowedIn(s *machine.Setup, c graph.Circuit) (common []string, said bool) {
	for _, id := range c.Members {
		f, ok := machine.FeatureOfKind(s.Seat(id).Part, "fluid")
		allows := strings.FieldsFunc(machine.BestText(f, "allows"), func(r rune) bool { return r == ',' || r == ';' })
		allows = lists.Mapped(allows, strings.TrimSpace)
		switch {
		case !ok || len(allows) == 0:
		case !said:
			common, said = allows, true
		default:
			common = lists.Kept(common, func(word string) bool { return slices.Contains(allows, word) })
		}
	}
	return common, said
}
