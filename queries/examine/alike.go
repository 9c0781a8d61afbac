package examine

import (
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/mating"
)

// alike has an outcome fit that is unknown for want of what nobody recorded around a
// changed part, where the part measures the same as the one built in: in every
// dimension and word, each recorded on both, and in all that its kind must be judged
// by. What met the one meets the other. Nothing else that takes part may be another
// than as built, nothing unknown may lie with the changed part itself,
// and nothing may hang elsewhere: the same part is not in the same place then.
func alike(x *Examiner, o Outcome) Outcome {
	if o.After != graph.Unknown || x.whole || IsOfPart(o) {
		return o
	}
	changed, gaps := false, map[graph.PositionID]gap{}
	for _, id := range takingPart(o) {
		_, moved := x.After.MovedAt(id)
		switch {
		case moved:
			return o
		case !x.isChanged(id):
			if !isAsBuilt(x, id) {
				return o
			}
		default:
			lacks, twin := twinAt(x, id)
			if !twin {
				return o
			}
			changed, gaps[id] = true, lacks
		}
	}
	for _, c := range o.Checks {
		if c.Verdict != graph.Fits && !liesElsewhere(x, c, gaps) {
			return o
		}
	}
	if !changed {
		return o
	}
	o.Why = "measures the same as the part built in, in all that is recorded; apart from that: " + o.Why
	o.After, o.Same = graph.Fits, false
	o.Checks = []mating.Check{{Rule: "as built", Verdict: graph.Fits, Why: o.Why,
		Basis: "what met the one meets the other: common practice, no source"}}
	return o
}

// takingPart are the places that an outcome was judged by, or asks to measure at.
func takingPart(o Outcome) []graph.PositionID {
	places := slices.Concat(o.Joint.Places(), o.Run.Places())
	for _, e := range o.Ends {
		places = append(places, e.Position)
	}
	for _, c := range o.Checks {
		for _, u := range c.Uses {
			places = append(places, u.Position)
		}
		for _, a := range c.Measure {
			places = append(places, a.Position)
		}
	}
	return named(places)
}

// isAsBuilt reports whether the same part sits at a place as built and sound, or
// nobody says of either what sits there.
func isAsBuilt(x *Examiner, id graph.PositionID) bool {
	seat, built := x.After.Seat(id), x.Built.Seat(id)
	return seat.Part.ID == built.Part.ID && seat.Empty == built.Empty && seat.Scrap.ID == "" &&
		seat.Packed == 0 && !seat.Made
}

// liesElsewhere reports whether a check is unknown for want of something at places
// that did not change: nobody says what sits there, or nobody measured it. So is a size
// that nobody measured on a changed part or on the one built in.
func liesElsewhere(x *Examiner, c mating.Check, gaps map[graph.PositionID]gap) bool {
	if c.Verdict != graph.Unknown {
		return false
	}
	if c.Empty != "" {
		return true
	}
	return len(c.Measure) > 0 && !slices.ContainsFunc(c.Measure,
		func(a mating.Ask) bool { return x.isChanged(a.Position) && !gaps[a.Position].has(a.Feature, a.Dim) })
}

// twinAt reports whether what was put on at a place measures the same as the part that
// a source lists there as built, and what is not known of either.
func twinAt(x *Examiner, id graph.PositionID) (gap, bool) {
	seat, built := x.After.Seat(id), x.Built.Seat(id)
	kind := x.After.Library().Kind(seat.Part.Kind)
	if seat.Empty || built.Empty || seat.Made || seat.Packed > 0 || built.Source.ID == "" || kind.ID == "" ||
		seat.Part.Kind != built.Part.Kind || len(seat.Part.Features) == 0 {
		return nil, false
	}
	p := Place{Position: seat.Position, New: seat.Part, Old: built.Part, Kind: kind, Same: evidence.SameReading,
		JudgedBy: func(string, string) []string { return nil }}
	p.Lacks = gapOf(p)
	_, differs, left := p.Judge()
	return p.Lacks, len(differs) == 0 && sameReadings(seat.Part, built.Part) &&
		!slices.ContainsFunc(left, func(n NotJudged) bool { return !p.Lacks.has(n.Feature, n.Dim) })
}

// gap are sizes that nobody recorded of either of two parts which are the same in all
// else, as "line.inner".
type gap map[string]bool

func (g gap) has(feature, dim string) bool { return g[feature+"."+dim] }

// gapOf is what nobody recorded of a part or of the one that it replaces, where both have
// all that their kind must be judged by and are the same in all that is recorded: a size
// that a joint asks for beside that is then as it was with the old one. Of a word, a
// thread or a count, which tell one sort from another, nothing is taken for granted.
func gapOf(p Place) gap {
	if p.Old.ID == "" || p.New.Kind != p.Old.Kind || !sameReadings(p.New, p.Old) {
		return nil
	}
	lacks := gap{}
	for _, expected := range p.Kind.Features {
		now, has := p.New.Feature(expected.Name)
		was, _ := p.Old.Feature(expected.Name)
		spec, _ := graph.FeatureKindNamed(expected.Kind)
		for _, dim := range spec.Dims {
			switch known := len(now.Dims[dim.Name]) > 0; {
			case known && !p.Same(dim, now.Dims[dim.Name][0], was.Dims[dim.Name][0]):
				return nil
			case known, !has && expected.May, p.Kind.WhyNot(expected.Name, dim) != "":
			case dim.Must:
				return nil
			case has && dim.Type.Measured():
				lacks[expected.Name+"."+dim.Name] = true
			}
		}
	}
	return lacks
}

// sameReadings reports whether two parts have the same features with readings of the
// same dimensions.
func sameReadings(a, b graph.Part) bool {
	return slices.Equal(readingsOf(a), readingsOf(b))
}

func readingsOf(p graph.Part) []string {
	var names []string
	for _, f := range p.Features {
		names = append(names, f.Name+" "+f.Kind)
		for _, dim := range lists.KeysOf(f.Dims) {
			if len(f.Dims[dim]) > 0 {
				names = append(names, f.Name+"."+dim)
			}
		}
	}
	slices.Sort(names)
	return names
}
