package swap

import (
	"context"

	"matewell/graph"
	"matewell/queries/examine"
	"matewell/queries/machine"
)

// scope says what of a judgement somebody asks for. Whatever judges a changed machine goes
// through judging.met, and judging.earn where it asks by what places have earned their
// verdict; this is where it can be seen who leaves out what.
type scope struct {
	words bool // what sources say of the new parts
	kinds bool // whether they are of the sorts that go there
	ends  bool // what of them meets nothing, and what nothing holds any more
	// over has what came over together answered by the machine that it came from.
	over    bool
	figures bool // what can be worked out to a number
	// known is what was judged on other machines already; nil judges all of it afresh.
	known examine.Decided
	// at is the one place whose part in things is asked for; none for all that was changed.
	at graph.PositionID
}

// wholeScope is all of it: that of Judge.
func wholeScope() scope {
	return scope{words: true, kinds: true, ends: true, over: true, figures: true}
}

// foundScope is that of what was wrong before: by its figures says nothing "no".
func foundScope() scope { return scope{words: true, kinds: true, ends: true, over: true} }

// trialScope is that of a single part, which came over with no other.
func trialScope(at graph.PositionID, known examine.Decided) scope {
	return scope{words: true, kinds: true, ends: true, figures: true, at: at, known: known}
}

// againstScope is that of what can say no to a part at a place, which is what the place takes
// part in: the rest comes out as it did before.
func againstScope(at graph.PositionID) scope {
	return scope{words: true, kinds: true, ends: true, at: at}
}

// measuredScope is that of what can say no by what is measured.
func measuredScope(known examine.Decided) scope {
	return scope{kinds: true, figures: true, known: known}
}

// come is what a judgement has come to so far.
type come struct {
	Tried
	said      int // how many of the outcomes, the first, are what sources say
	conflicts []Conflict
	decidedBy examine.Decider // of what was judged by what is known
}

// Met judges what the changes of after meet, and no more: what came over together is
// answered by the machine that it came from. Errors come from the reader.
func Met(ctx context.Context, before *examine.Before, after *machine.Setup) ([]examine.Outcome, error) {
	x, err := newJudging(ctx, before, after)
	if err != nil {
		return nil, err
	}
	all, err := x.met(ctx, scope{over: true})
	return all.Outcomes, err
}
