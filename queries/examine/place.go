package examine

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/othervalue"
)

// Word is what somebody says of the very part at the very place.
type Word struct {
	Earned Earned // EarnedListed or EarnedFound
	Of     string // the source or finding
}

// Earnings says of every changed place how its verdict was earned.
type Earnings struct {
	By        map[graph.PositionID]Earned
	Unknown   []Outcome // one for each place that has earned nothing, in their order
	Differs   []Differs
	NotJudged []NotJudged
}

func kindsOfChanged(x *Examiner) []graph.KindID {
	return lists.Mapped(x.After.Changed(), func(id graph.PositionID) graph.KindID { return x.After.Seat(id).Part.Kind })
}

// isBuiltHere reports whether a source lists the part here for this very machine:
// then nothing is new.
func isBuiltHere(x *Examiner, id graph.PositionID) bool {
	seat, built := x.After.Seat(id), x.Built.Seat(id)
	return !seat.Empty && !built.Empty && seat.IsSame(built) && built.Source.ID != "" &&
		built.Source.Kind != string(graph.SourcePlaced)
}

// place gathers what is known of a changed place. What was there is the part
// before the change; where nothing was, what was built there.
func place(x *Examiner, id graph.PositionID, outcomes []Outcome, by judgements, word Word) Place {
	seat, was := x.After.Seat(id), x.Before.Seat(id)
	if was.Empty {
		was = x.Built.Seat(id)
	}
	p := Place{Position: seat.Position, New: seat.Part, Kind: x.After.Library().Kind(seat.Part.Kind), Word: word.Earned,
		WordOf: word.Of,
		Same:   evidence.SameReading, Checked: slices.ContainsFunc(outcomes,
			func(o Outcome) bool { return isWorkedOut(o) && o.SpeaksOf(id) })}
	if !was.Empty {
		p.Old = was.Part
	}
	if built := x.Built.Seat(id); !built.Empty {
		p.Built = built.Part
	}
	_, hasHand := machine.FeatureOfKind(seat.Part, "hand")
	p.OtherSide = !hasHand && !IsSpacer(seat) && machine.IsCalledForOtherSide(seat.Position, seat.Part)
	p.Across = isFromAcross(x, id)
	p.OtherKind = isBesideItsKind(seat, x.Built.Seat(id)) && !isInNewCircuit(x, id)
	p.Squeezed = sealsEye(x, id)
	p.AsBuiltOn = func(feature string) graph.VariantID {
		return x.AsBuiltOn[graph.FeatureRef{Position: id, Feature: feature}]
	}
	p.PairedOn = func(feature string) graph.VariantID {
		return x.PairedOn[graph.FeatureRef{Position: id, Feature: feature}]
	}
	for j := range x.JointsAt(id) {
		for _, ref := range []graph.FeatureRef{j.A, j.B} {
			switch {
			case ref.Position != id || isUnbrought(x.After, *j):
			case isVoid(x.After, *j):
				p.Void = append(p.Void, ref.Feature)
			default:
				p.Joined = append(p.Joined, ref.Feature)
			}
		}
	}
	use := func(feature, dim string) mating.Use {
		return mating.Use{Position: id, Part: seat.Part.ID, Feature: feature, Dim: dim}
	}
	p.JudgedBy = func(feature, dim string) []string { return by.names(use(feature, dim), p) }
	p.Beside = func(feature, dim string) graph.PositionID {
		ones, _ := by.comparing(use(feature, dim), p)
		return by.onlyBeside(use(feature, dim), p, ones)
	}
	return p
}

// sealsEye reports whether what sits at a place goes between the eye of a line and its port.
func sealsEye(x *Examiner, id graph.PositionID) bool {
	for j := range x.jointsHeldBy(id) {
		if x.After.KindOf(j.A) == "banjo" || x.After.KindOf(j.B) == "banjo" {
			return machine.HasKind(x.After.Seat(id).Part, "washer")
		}
	}
	return false
}

// isFromAcross reports whether the part at a place is, but for revision and colour,
// what is built on the other side and not here.
func isFromAcross(x *Examiner, id graph.PositionID) bool {
	twin := machine.OtherSide(id)
	if twin == "" {
		return false
	}
	part, here, there := x.After.Seat(id).Part, x.Built.Seat(id), x.Built.Seat(twin)
	return !machine.HasNoSide(part) && !here.Empty && !there.Empty &&
		part.SameCore(there.Part) && !part.SameCore(here.Part)
}

// judgements are, for each dimension without its reading, what was worked out from it.
type judgements struct {
	by     map[mating.Use][]judgement
	prover *prover
	// whether is true where it is only asked whether a dimension was judged at all: once
	// that is proved, nothing more is named.
	whether bool
}

// judgement is a check or a figure that looked at a dimension.
type judgement struct {
	name    string
	outcome *Outcome // nil for a figure
	figure  bool     // a figure that is held against a limit
	// other are the same dimension on both of two new parts that are held against
	// each other: what compares neither of them with anything else judges neither.
	other []mating.Use
}

func withoutReading(u mating.Use) mating.Use {
	return mating.Use{Position: u.Position, Part: u.Part, Feature: u.Feature, Dim: u.Dim}
}

// twinsOf are the uses of the same dimension of the same feature, at every place.
func twinsOf(u mating.Use, uses []mating.Use) []mating.Use {
	var all []mating.Use
	for _, v := range uses {
		if v.Feature == u.Feature && v.Dim == u.Dim {
			all = append(all, withoutReading(v))
		}
	}
	return all
}

// names are what judged a dimension of a place: all that looked at it where it is as
// it was, else what was seen to compare it, and in every aspect in which it differs.
// One that nobody recorded of the part that is replaced differs in every aspect. What
// was held against one other new part alone is judged by neither.
func (j judgements) names(use mating.Use, p Place) []string {
	ones, isJudged := j.comparing(use, p)
	if !isJudged || j.onlyBeside(use, p, ones) != "" {
		return nil
	}
	return lists.Mapped(ones, func(one judgement) string { return one.name })
}

// comparing are the judgements that names tells; false where an aspect is left in which
// none of them compares the dimension.
func (j judgements) comparing(use mating.Use, p Place) ([]judgement, bool) {
	if j.isAsWas(use, p) {
		return j.by[use], true
	}
	spec := specOf(p.New, use)
	aspects := othervalue.Of(spec, evidence.FirstText(readingsAt(p.Old, use)), readingsAt(p.New, use)[0].Text)
	proven := make([]bool, len(aspects))
	var ones []judgement
	for _, one := range j.by[use] {
		if one.figure {
			return append(ones, one), true
		}
		if j.whether && len(ones) > 0 && !slices.Contains(proven, false) && j.onlyBeside(use, p, ones) == "" {
			return ones, true
		}
		if one.outcome.What == OfTwice || isLoneThread(one, use, p, j.prover.x) {
			continue
		}
		seen := j.seen(one, use, spec, aspects)
		for i := range proven {
			proven[i] = proven[i] || seen[i]
		}
		if slices.Contains(seen, true) {
			ones = append(ones, one)
		}
	}
	return ones, !slices.Contains(proven, false)
}

// isLoneThread reports whether a judgement took the thread of a bolt or nut for no more
// than a size, as of a bolt that goes through an eye: whether it goes into its own thread
// only one that looked at both can tell.
func isLoneThread(one judgement, use mating.Use, p Place, x *Examiner) bool {
	f, _ := p.New.Feature(use.Feature)
	if f.Kind != "male-thread" && f.Kind != "female-thread" || specOf(p.New, use).Type != measure.Thread ||
		one.outcome.After > graph.FitsWithChanges {
		return false
	}
	return !slices.ContainsFunc(one.outcome.Checks, func(c mating.Check) bool {
		return slices.ContainsFunc(c.Uses, func(u mating.Use) bool { return withoutReading(u) == use }) &&
			slices.ContainsFunc(c.Uses, func(u mating.Use) bool {
				return u.Position != use.Position && specOf(x.After.Seat(u.Position).Part, u).Type == measure.Thread
			})
	})
}

// isAsWas reports whether a dimension is what it was, or nobody recorded it of the new part.
func (j judgements) isAsWas(use mating.Use, p Place) bool {
	now, was := readingsAt(p.New, use), readingsAt(p.Old, use)
	return len(now) == 0 || len(was) > 0 && p.Same(specOf(p.New, use), now[0], was[0])
}

// looksAt reports whether anything that was worked out looked at a dimension at all.
func (j judgements) looksAt(use mating.Use) bool { return len(j.by[use]) > 0 }

// seen reports for each aspect whether a judgement compares it.
func (j judgements) seen(one judgement, use mating.Use, spec graph.DimSpec, aspects [][]string) []bool {
	seen := j.prover.compares(*one.outcome, use.Position, use.Feature, spec, aspects)
	if len(one.other) == 0 {
		return seen
	}
	elsewhere := make([]bool, len(aspects))
	for _, u := range one.other {
		for _, held := range j.by[u] {
			switch {
			case len(held.other) > 0:
			case held.figure:
				elsewhere = slices.Repeat([]bool{true}, len(aspects))
			default:
				for i, ok := range j.prover.compares(*held.outcome, u.Position, u.Feature, spec, aspects) {
					elsewhere[i] = elsewhere[i] || ok
				}
			}
		}
	}
	for i := range seen {
		seen[i] = seen[i] && elsewhere[i]
	}
	return seen
}

// onlyBeside is the place of the one other new part that a dimension was held against,
// where nothing else was: two parts that are changed alike go together as they did, and
// what stays on the machine was made for neither. Empty where something that stays, or a
// third part, was held against it or against what it meets there, and where no third
// could tell.
func (j judgements) onlyBeside(use mating.Use, p Place, ones []judgement) graph.PositionID {
	if j.isAsWas(use, p) {
		return ""
	}
	f, _ := p.New.Feature(use.Feature)
	was, hadOne := p.Old.Feature(use.Feature)
	if graph.Confined(f.Kind, use.Dim) != "" || hadOne && was.Kind != f.Kind { // a banjo where a nipple was
		return ""
	}
	met, further := j.metBy(use, ones)
	places := lists.Unique(lists.Mapped(met, func(u mating.Use) graph.PositionID { return u.Position }))
	if len(places) != 1 || j.isScrewed(use, p, places[0]) || j.isRunOn(use, p, places[0]) ||
		j.isHeldFurther(use, p, further) {
		return ""
	}
	for _, u := range met {
		if !isAbout(use, p.New, u, j.prover.x.After.Seat(u.Position).Part) {
			continue
		}
		there, all := j.placeOf(u), j
		all.whether = false // else it would ask back
		ones, _ := all.comparing(withoutReading(u), there)
		if _, further := j.metBy(withoutReading(u), ones); j.isHeldFurther(withoutReading(u), there, further) {
			return ""
		}
	}
	return places[0]
}

// metBy are what checks that looked at a dimension took of other new parts that are
// another in it, and what looked further: figures, what is held against the machine as
// built, and checks by their rule.
func (j judgements) metBy(use mating.Use, ones []judgement) (met []mating.Use, further []judgement) {
	places := []graph.PositionID{use.Position}
	var checks []judgement // one for each check that looked at it
	for _, one := range ones {
		switch {
		case one.figure, isHeldAgainstBuilt(*one.outcome), one.outcome.After > graph.FitsWithChanges:
			further = append(further, judgement{figure: true})
			continue
		case comparesNewWithNew(j.prover.x, *one.outcome), isOfItself(*one.outcome):
			continue
		}
		for _, c := range one.outcome.Checks {
			if !slices.ContainsFunc(c.Uses, func(u mating.Use) bool { return withoutReading(u) == use }) {
				continue
			}
			checks = append(checks, judgement{name: c.Rule, outcome: one.outcome, other: c.Uses})
			for _, u := range c.Uses {
				if u.Position != use.Position && j.prover.x.isAnother(u) {
					met, places = append(met, u), append(places, u.Position)
				}
			}
		}
	}
	for _, c := range checks {
		if looksBeyond(c.other, places) {
			further = append(further, judgement{name: c.name, outcome: c.outcome})
		}
	}
	return met, further
}

// placeOf is what is known of the place of a use, as far as it is compared.
func (j judgements) placeOf(u mating.Use) Place {
	x := j.prover.x
	return Place{Position: x.After.Position(u.Position), New: x.After.Seat(u.Position).Part,
		Old: x.wasAt(u.Position).Part, Same: evidence.SameReading}
}

// isHeldFurther reports whether something that looked at more than a pair comes to
// something else with another value: that of a tyre's build looks at its size, and says
// nothing of how wide it is.
func (j judgements) isHeldFurther(use mating.Use, p Place, further []judgement) bool {
	spec := specOf(p.New, use)
	texts := slices.Concat(othervalue.Of(spec, evidence.FirstText(readingsAt(p.Old, use)),
		readingsAt(p.New, use)[0].Text)...)
	return slices.ContainsFunc(further, func(one judgement) bool {
		return one.figure || j.prover.moves(*one.outcome, one.name, spot{use.Position, use.Feature, spec}, texts)
	})
}

// isScrewed reports whether a dimension is a thread whose pitch or hand alone is another, or
// by which one part is screwed into another, as a mirror into its perch, and nothing that
// carries the machine gets thinner. What a bolt or nut clamps must suit it too.
func (j judgements) isScrewed(use mating.Use, p Place, other graph.PositionID) bool {
	spec := specOf(p.New, use)
	was, errWas := measure.Parse(evidence.FirstText(readingsAt(p.Old, use)), spec.Type)
	now, errNow := measure.Parse(evidence.FirstText(readingsAt(p.New, use)), spec.Type)
	if spec.Type != measure.Thread || errWas != nil || errNow != nil {
		return false
	}
	s := j.prover.x.After
	carries := func(id graph.PositionID) bool {
		return slices.Contains([]graph.Safety{graph.SafetySteering, graph.SafetyWheel, graph.SafetyDrive,
			graph.SafetyBrake}, s.SafetyAt(id))
	}
	isBolted := (s.IsHardwareAt(use.Position) || s.IsHardwareAt(other)) && !isOnItsShaft(s, use.Position, other)
	isThinner := now.Thread.Nominal < was.Thread.Nominal && carries(use.Position) && carries(other)
	return was.Thread.Nominal == now.Thread.Nominal || !isBolted && !isThinner
}

// isOnItsShaft reports whether one of two places holds a shaft with a thread of its own: what
// its nut clamps the shaft goes through, and its thread is held against the shaft.
func isOnItsShaft(s *machine.Setup, one, other graph.PositionID) bool {
	_, _, ok := threadedShaftAt(s, one)
	_, _, okOther := threadedShaftAt(s, other)
	return ok || okOther
}

// isHeldAgainstBuilt reports whether an outcome holds a machine against what was measured on
// it as built: a path, the lift and force of a circuit.
func isHeldAgainstBuilt(o Outcome) bool {
	return slices.Contains([]string{OfRun, OfLeverage, OfClutch}, o.What)
}

// isRunOn reports whether a dimension is the bore of a seal whose lip runs on a spacer, or
// what that spacer has for the lip alone, and is smaller than it was: nothing else meets
// either. The spacer's bore and wall are judged for themselves, and so is the seal in its
// seat; a larger one may reach beyond the inner ring of the bearing that it stands on.
func (j judgements) isRunOn(use mating.Use, p Place, other graph.PositionID) bool {
	x := j.prover.x
	at := graph.FeatureRef{Position: use.Position, Feature: use.Feature}
	lip, surface, ok := x.meets(use.Position, func(own, ref graph.FeatureRef) bool {
		return own == at && ref.Position == other
	})
	if !ok {
		return false
	}
	if x.After.KindOf(lip) != "seal" {
		lip, surface = surface, lip
	} else if use.Dim != "inside" {
		return false
	}
	isLip := func(ref graph.FeatureRef) bool { return x.After.KindOf(ref) == "seal" }
	if !isLip(lip) || !IsSpacer(x.After.Seat(surface.Position)) || !isSmaller(use, p) {
		return false
	}
	for k := range x.JointsAt(surface.Position) {
		if k.A == surface && !isLip(k.B) || k.B == surface && !isLip(k.A) {
			return false
		}
	}
	return true
}

func readingsAt(part graph.Part, use mating.Use) []graph.Reading {
	f, _ := part.Feature(use.Feature)
	return f.Dims[use.Dim]
}

func specOf(part graph.Part, use mating.Use) graph.DimSpec {
	f, _ := part.Feature(use.Feature)
	return dimOf(f.Kind, use.Dim)
}

// judgedBy are, for each dimension without its reading, the checks that looked at it
// and the figures that are held against a limit. A figure alone judges nothing.
func judgedBy(x *Examiner, outcomes []Outcome, numbers []Number) judgements {
	by := map[mating.Use][]judgement{}
	note := func(uses []mating.Use, one judgement) {
		for _, u := range uses {
			key := withoutReading(u)
			if !slices.ContainsFunc(by[key], func(had judgement) bool { return had.name == one.name }) {
				by[key] = append(by[key], one)
			}
		}
	}
	for i := range outcomes {
		o := &outcomes[i]
		if comparesNewWithNew(x, *o) {
			continue
		}
		name := checkedBy(*o)
		for _, c := range o.Checks {
			note(c.Uses, judgement{name: name, outcome: o})
		}
	}
	for _, n := range numbers {
		if n.Verdict != graph.NoVerdict {
			note(n.Uses, judgement{name: "figure: " + n.Name, figure: true})
		}
	}
	held := map[mating.Use][]judgement{}
	for i := range outcomes {
		o := &outcomes[i]
		if !comparesNewWithNew(x, *o) {
			continue
		}
		name := checkedBy(*o)
		for _, c := range o.Checks {
			for _, u := range heldElsewhere(c.Uses, by) {
				one := judgement{name: name, outcome: o, other: twinsOf(u, c.Uses)}
				held[withoutReading(u)] = append(held[withoutReading(u)], one)
			}
		}
	}
	for use, ones := range held {
		for _, one := range ones {
			note([]mating.Use{use}, one)
		}
	}
	return judgements{by: by, prover: newProver(x)}
}

// checkedBy names an outcome as what judged a dimension.
func checkedBy(o Outcome) string {
	return o.What + " " + queries.LocalName(o.ID) + ": " + o.After.String()
}

// heldElsewhere are the uses of a pair of new parts whose dimension another check
// or figure judges on one of the two: then the other is judged by being alike.
func heldElsewhere(uses []mating.Use, by map[mating.Use][]judgement) []mating.Use {
	return lists.Kept(slices.Clone(uses), func(u mating.Use) bool {
		return slices.ContainsFunc(uses, func(v mating.Use) bool {
			return v.Feature == u.Feature && v.Dim == u.Dim &&
				len(by[withoutReading(v)]) > 0
		})
	})
}

// comparesNewWithNew reports whether an outcome holds only new parts against one
// another, as a new spring on the left against the one on the right, or one that was found
// there in the stead of what was built: that they are
// alike says nothing of whether they belong here, unless one of them is held
// against something else too.
func comparesNewWithNew(x *Examiner, o Outcome) bool {
	return o.What == OfPair && !slices.ContainsFunc(o.Ends, func(e End) bool { return !x.isPutOn(e.Position) })
}

// isWorkedOut reports whether an outcome rests on a rule, and not on somebody's
// word or on nothing.
func isWorkedOut(o Outcome) bool {
	return !IsOfPart(o) && slices.ContainsFunc(o.Checks, func(c mating.Check) bool { return len(c.Uses) > 0 })
}

// unknownPlace says that a place has earned nothing, and what to measure.
func unknownPlace(x *Examiner, id graph.PositionID, left []NotJudged) Outcome {
	check := mating.Check{Rule: "place", Verdict: graph.Unknown, Why: notJudgedWords(left)}
	for _, n := range left {
		if n.Decides && n.ask != nil {
			check.Measure = append(check.Measure, *n.ask)
		}
	}
	o := Outcome{What: OfPlace, ID: string(id), Ends: x.Ends(graph.FeatureRef{Position: id})}
	before := []mating.Check{{Rule: "place", Verdict: graph.Fits, Why: "what was there before"}}
	o = x.Judged(o, before, []mating.Check{check})
	if len(o.Safety) == 0 && slices.ContainsFunc(left, func(n NotJudged) bool {
		return n.Decides && isOfSpeed(x, graph.FeatureRef{Position: id, Feature: n.Feature})
	}) {
		o.Safety = []graph.Safety{speedClass}
	}
	return o
}

// notJudgedWords name what decides and was not judged, in short.
func notJudgedWords(left []NotJudged) string {
	var names []string
	for _, n := range left {
		switch {
		case !n.Decides:
		case n.Feature == "":
			return n.Why
		case n.Dim == "", n.Dim == n.Feature:
			names = append(names, n.Feature)
		default:
			names = append(names, n.Dim+" of "+n.Feature)
		}
	}
	const most = 4
	if len(names) > most {
		names = append(names[:most], fmt.Sprintf("%d more", len(names)-most))
	}
	return "not judged: " + strings.Join(names, ", ")
}
