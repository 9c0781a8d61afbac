package examine

import (
	"crypto/sha256"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// Decided keeps outcomes by all that decides them, for changes on many machines of one
// model, of which most are alike around most places.
type Decided map[Decider]decided

// Decider stands for all that decides something, however much that is: its SHA-256.
type Decider [sha256.Size]byte

type decided struct {
	outcome Outcome
	ok      bool // something was judged
}

// OutcomesOnce is OutcomesOf, with what was judged on another machine and comes out the
// same on this one taken from there; but safety classes, which hang on what else a place
// holds, are left as they were there. decidedBy stands for all that decided them.
func (x *Examiner) OutcomesOnce(connections []Connection, known Decided) (all []Outcome, decidedBy Decider) {
	var names []byte
	together := sha256.New()
	all = make([]Outcome, 0, len(connections))
	for _, c := range connections {
		names = x.decides(names[:0], c)
		by := Decider(sha256.Sum256(names))
		had, is := known[by]
		if !is {
			if had.outcome, had.ok = c.judge(x); had.ok {
				had.outcome = alike(x, had.outcome)
			}
			known[by] = had
		}
		if had.ok {
			all = append(all, had.outcome)
		}
		together.Write(by[:])
	}
	sortOutcomes(all)
	return all, Decider(together.Sum(nil))
}

// decides names, after what is named already, all that the outcome of a connection hangs
// on: which it is, and what sits, before the change and after it, at its places. On two
// variants of a model for which it is equal, it comes out the same.
func (x *Examiner) decides(names []byte, c Connection) []byte {
	add := func(texts ...string) {
		for _, text := range texts {
			names = append(names, text...)
		}
	}
	add(c.What, " ", c.ID)
	if x.hangsOnWhoSays(c) {
		add(" of ", string(x.After.Variant.ID))
	}
	for _, id := range lists.Unique(slices.Concat(c.Places, x.lookedAt(c))) {
		add("\n", string(id), " ", x.contentBefore(id))
		if x.isChanged(id) {
			add(" -> ", x.After.Content(id))
		}
	}
	add("\n\n")
	return names
}

// hangsOnWhoSays reports whether several say how long the path of a line of a connection
// is: who counts first is another on another variant.
func (x *Examiner) hangsOnWhoSays(c Connection) bool {
	several := func(readings []graph.Reading) bool { return len(readings) > 1 }
	for _, runs := range [][]graph.Run{x.runs, x.reaches} {
		for i := range runs {
			run := &runs[i]
			if slices.Contains(c.Places, run.Line) && (several(run.Spare) || several(run.Inner) || several(run.Gap) ||
				several(run.LeastGap) || slices.ContainsFunc(run.Needs, func(n graph.RunNeed) bool { return several(n.Length) })) {
				return true
			}
		}
	}
	return false
}

// contentBefore is what sits at a place before the change, worked out once for all
// changes that are held against the same machine.
func (x *Examiner) contentBefore(id graph.PositionID) string {
	content, known := x.contents[id]
	if !known {
		content = x.Before.Content(id)
		if !x.Before.IsAsBuilt(id) {
			content += " for " + x.Built.Content(id)
		}
		x.contents[id] = content
	}
	return content
}

// lookedAt are places that a joint's words hang on besides those that decide it: what
// else its bolts hold, what the other ring of a bearing meets, the row that a bearing or
// a disc stands in.
func (x *Examiner) lookedAt(c Connection) []graph.PositionID {
	at := slices.IndexFunc(x.Joints, func(j graph.Joint) bool { return c.What == OfJoint && string(j.ID) == c.ID })
	if at < 0 {
		return nil
	}
	j := x.Joints[at]
	var places []graph.PositionID
	for k := range x.jointsHeldBy(j.A.Position, j.B.Position) {
		places = append(places, k.Places()...)
	}
	if d, ok := discLineOf(x.Connections, j); ok {
		places = append(places, d.places()...)
	}
	for _, ref := range []graph.FeatureRef{j.A, j.B} {
		if !machine.HasKind(x.Before.Seat(ref.Position).Part, "bearing") && !x.After.HasAt(ref.Position, "bearing") {
			continue
		}
		for k := range x.JointsAt(ref.Position) {
			places = append(places, k.Places()...)
		}
		for _, end := range []graph.PositionID{j.A.Position, j.B.Position} {
			st, _ := stackOf(x, end)
			places = append(places, st.Places()...)
		}
	}
	return named(places)
}
