package swap

import (
	"context"
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// refusals are what is not offered any more, because the machine with it on showed that it
// helps nothing, or brings a new fault.
type refusals struct {
	parts map[graph.PositionID]map[graph.PartID]string // why not, in words
	// places are those at which no part helps.
	places map[graph.PositionID]bool
	// work are the outcomes for which nothing is ordered or put between.
	work map[examine.OutcomeID]bool
}

func newRefusals() *refusals {
	return &refusals{parts: map[graph.PositionID]map[graph.PartID]string{}, places: map[graph.PositionID]bool{},
		work: map[examine.OutcomeID]bool{}}
}

// mostTried is how many parts are tried at one place that bring new faults before all of
// them are given up.
const mostTried = 3

// part refuses a part at a place; false where it was refused before.
func (r *refusals) part(at graph.PositionID, id graph.PartID, why string) bool {
	if r.parts[at] == nil {
		r.parts[at] = map[graph.PartID]string{}
	}
	if _, known := r.parts[at][id]; known {
		return false
	}
	r.parts[at][id] = why
	r.places[at] = len(r.parts[at]) >= mostTried
	return true
}

// order refuses what was ordered for an outcome; false where it was refused before.
func (r *refusals) order(of examine.OutcomeID) bool {
	known := r.work[of]
	r.work[of] = true
	return !known
}

// refuses reports whether a part is not offered at a place.
func (r *refusals) refuses(at graph.PositionID, id graph.PartID) bool {
	_, refused := r.parts[at][id]
	return refused || r.places[at]
}

// offers looks for what closes the gaps of a judgement, until all that is offered leaves the
// whole better: no part, and nothing made, that closes nothing in the end, or with which
// something does not fit that fits without it. Each round gives up something at one place
// or for one outcome, so that it ends.
func (j Judgement) offers(ctx context.Context, stood *examine.Before, after *machine.Setup) (*follower, []Trail,
	*SwapThen, error) {
	refused := newRefusals()
	for {
		f := newFollower(ctx, stood, after, j.x.donors)
		f.start, f.refused = j.x.Connections, refused
		trails, err := f.follow(after, j.Outcomes)
		if err != nil {
			return nil, nil, nil, err
		}
		further, allOn, err := f.makeFurther(after)
		if err != nil {
			return nil, nil, nil, err
		}
		if err := f.weighAlso(after); err != nil {
			return nil, nil, nil, err
		}
		then, err := f.withAllOn(j, after, allOn)
		if err != nil || then == nil || !f.refuseFaulty(j, then) {
			return f, append(trails, further...), then, err
		}
	}
}

// refuseFaulty refuses what the whole shows to be no help; false where there is nothing more
// to refuse.
func (f *follower) refuseFaulty(j Judgement, then *SwapThen) bool {
	was := map[examine.OutcomeID]graph.Verdict{}
	for _, o := range j.Outcomes {
		was[o.Key()] = o.After
	}
	stays := map[examine.OutcomeID]bool{}
	more := false
	for _, o := range then.Left {
		switch {
		case o.After != graph.DoesNotFit:
		case was[o.Key()] == graph.DoesNotFit:
			stays[o.Key()] = true
		default:
			more = f.refuseAt(o) || more
		}
	}
	for _, g := range f.gets {
		helpsNothing := len(g.closes) > 0 && !slices.ContainsFunc(g.closes,
			func(id examine.OutcomeID) bool { return !stays[id] })
		if helpsNothing {
			more = f.refuse(g, "it does not put that right") || more
		}
	}
	return more
}

// refuseAt refuses the parts that were put where something does not fit now, else what was
// ordered there.
func (f *follower) refuseAt(o examine.Outcome) bool {
	more, places := false, o.Places()
	why := fmt.Sprintf("then %s does not fit: %s", o.Name(), o.Why)
	fitted := lists.Kept(slices.Clone(f.gets), func(g Get) bool {
		return g.What == GetPart && slices.Contains(places, g.Position)
	})
	if len(fitted) == 0 {
		fitted = lists.Kept(slices.Clone(f.gets), func(g Get) bool { return slices.Contains(places, g.Position) })
	}
	for _, g := range fitted {
		more = f.refuse(g, why) || more
	}
	return more
}

func (f *follower) refuse(g Get, why string) bool {
	if g.What == GetPart {
		return f.refused.part(g.Position, g.Part, why)
	}
	more := false
	for _, of := range g.closes {
		more = f.refused.order(of) || more
	}
	return more
}

// refusedWords says which part would close a gap at a place, and why it is not offered;
// empty where none was refused.
func (f *follower) refusedWords(o examine.Outcome, tried []candidate) string {
	for _, c := range tried {
		why, refused := f.refused.parts[c.position][c.part.ID]
		if refused && c.putsRight(o) {
			return fmt.Sprintf("%s is no help: %s", machine.NameOf(c.part), why)
		}
	}
	return ""
}

// weighAlso tries what was said to do as well as a part in its place with all else on: what
// leaves more wrong there is not named, and what leaves less takes the part's place.
func (f *follower) weighAlso(after *machine.Setup) error {
	for i, g := range f.gets {
		if g.What != GetPart || len(g.Also) == 0 || f.fitted[g.Position] != g.Part {
			continue
		}
		all, err := f.allOn(after)
		if err != nil {
			return err
		}
		parts := append([]graph.PartID{g.Part}, g.Also...)
		scores := make([][4]int, len(parts))
		best := 0
		for k, id := range parts {
			if scores[k], err = f.scoreAt(all, g.Position, id); err != nil {
				return err
			}
			if slices.Compare(scores[k][:], scores[best][:]) < 0 {
				best = k
			}
		}
		f.gets[i].Also = nil
		for k, id := range parts {
			if k != best && scores[k] == scores[best] {
				f.gets[i].Also = append(f.gets[i].Also, id)
			}
		}
		if best > 0 {
			f.gets[i] = f.gets[i].with(after.Library().Part(parts[best]))
			f.fitted[g.Position] = parts[best]
		}
	}
	return nil
}

// scoreAt is what a part at a place leaves wrong there, as candidates are counted, and then
// how much of it asks for hand tools.
func (f *follower) scoreAt(on *machine.Setup, at graph.PositionID, id graph.PartID) ([4]int, error) {
	setup, err := on.With(f.ctx, map[graph.PositionID]graph.PartID{at: id})
	if err != nil {
		return [4]int{}, err
	}
	work := 0
	c := candidate{position: at, setup: setup}
	x := f.around[at].Examiner(f.before, setup)
	for _, o := range x.OutcomesOf(x.Touching(at)) {
		if o.IsWorse() && o.After > graph.Fits && !f.closed[o.Key()] {
			if c.count(o); o.HasWork() {
				work++
			}
		}
	}
	return [4]int{c.score[0], c.score[1], c.score[2], work}, nil
}

// with is the same thing to get, of another part.
func (g Get) with(p graph.Part) Get {
	g.Part, g.Name, g.Text, g.Price = p.ID, p.Name, machine.NameOf(p), PriceOf(p)
	return g
}
