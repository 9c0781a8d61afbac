package examine

import (
	"maps"
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/mating"
)

// alike has an outcome fit that is unknown for want of what nobody recorded around a
// changed part, where the part measures the same as the one built in: in every
// dimension and word, each recorded on both, and in all that its kind must be judged
// by. What met the one meets the other. All else that takes part must be as built, or
// the other half of a pair and measure the same too; nothing unknown may lie with a part
// that was put on, and nothing may hang elsewhere: the same part is not in the same place
// then.
func alike(x *Examiner, o Outcome) Outcome {
	if o.After != graph.Unknown || x.whole || IsOfPart(o) {
		return o
	}
	changed, touched := false, x.touched()
	for _, id := range takingPart(o) {
		_, moved := x.After.MovedAt(id)
		switch {
		case moved:
			return o
		case !x.isChanged(id) && isAsBuilt(x, id):
		case !slices.Contains(touched, id), !isTwin(x, id) && !isTwinIn(x, o.Joint, id):
			return o
		default:
			changed = true
		}
	}
	for _, c := range o.Checks {
		if c.Verdict != graph.Fits && !liesElsewhere(x, c) {
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
	return seat.IsSame(built) && seat.Empty == built.Empty && seat.Scrap.ID == "" &&
		seat.Packed == 0 && !seat.Made
}

// liesElsewhere reports whether a check is unknown for want of something at places
// where nothing was put on: nobody says what sits there, or nobody measured it.
func liesElsewhere(x *Examiner, c mating.Check) bool {
	if c.Verdict != graph.Unknown {
		return false
	}
	if c.Empty != "" {
		return true
	}
	return len(c.Measure) > 0 && !slices.ContainsFunc(c.Measure,
		func(a mating.Ask) bool { return x.isChanged(a.Position) || !isAsBuilt(x, a.Position) })
}

// isTwin reports whether what was put on at a place measures the same as the part that
// a source lists there as built.
func isTwin(x *Examiner, id graph.PositionID) bool {
	seat, built := x.After.Seat(id), x.Built.Seat(id)
	kind := x.After.Library().Kind(seat.Part.Kind)
	if seat.Empty || built.Empty || seat.Made || seat.Packed > 0 || built.Source.ID == "" || kind.ID == "" ||
		seat.Part.Kind != built.Part.Kind || len(seat.Part.Features) == 0 {
		return false
	}
	p := Place{Position: seat.Position, New: seat.Part, Old: built.Part, Kind: kind, Same: evidence.SameReading,
		JudgedBy: func(string, string) []string { return nil }}
	_, differs, left := p.Judge()
	return len(differs) == 0 && len(left) == 0 && sameReadings(seat.Part, built.Part)
}

// isTwinIn reports whether what was put on at one side of a joint is by that feature what the
// part was that a source lists there as built, whatever else of it differs: the same readings,
// of all that such a feature must have.
func isTwinIn(x *Examiner, j graph.Joint, id graph.PositionID) bool {
	seat, built := x.After.Seat(id), x.Built.Seat(id)
	if j.ID == "" || seat.Empty || built.Empty || seat.Made || seat.Packed > 0 || built.Source.ID == "" ||
		j.A.Position == j.B.Position {
		return false
	}
	for _, ref := range []graph.FeatureRef{j.A, j.B} {
		if ref.Position != id {
			continue
		}
		now, was := x.After.Side(ref).Feature, x.Built.Side(ref).Feature
		spec, known := graph.FeatureKindNamed(now.Kind)
		return known && now.Kind == was.Kind && maps.EqualFunc(now.Dims, was.Dims, sameTexts) &&
			!slices.ContainsFunc(spec.Dims, func(d graph.DimSpec) bool {
				return d.Must && len(now.Dims[d.Name]) == 0 && !now.Needless(d.Name)
			})
	}
	return false
}

func sameTexts(a, b []graph.Reading) bool { return slices.EqualFunc(a, b, sameText) }

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
