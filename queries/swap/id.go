package swap

import (
	"errors"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
)

// SwapID names a swap, or one outcome of it, as AnswerID names a row.
type SwapID struct {
	On     string // a variant, or a user's own bike
	Scheme string // as asked for; empty when it was left open
	Swaps  []Replacement
	// Outcome is the sort and the local name of one outcome, as OutcomeName
	// gives it; empty for the whole swap.
	Outcome string
}

// String is
// "swap:skerry-620/2003/eu:front-brake/lever=Tarnholt-207.4418b:joint/lever-on-master",
// the scheme behind an @ after the machine, several swaps with commas between
// them. It holds no blanks.
func (id SwapID) String() string {
	on := id.On
	if id.Scheme != "" {
		on += "@" + id.Scheme
	}
	swaps := lists.Mapped(id.Swaps, func(r Replacement) string { return r.Position + "=" + r.Part })
	slices.Sort(swaps)
	text := "swap:" + unblank(on) + ":" + unblank(strings.Join(swaps, ","))
	if id.Outcome != "" {
		text += ":" + id.Outcome
	}
	return text
}

// ParseSwapID reads what String prints; anything else is a *QuestionError. Machine and parts are left in the
// spelling of the identity: they are looked up as a person types them.
func ParseSwapID(text string) (SwapID, error) {
	fields := strings.SplitN(strings.TrimSpace(text), ":", 4)
	if len(fields) < 3 || fields[0] != "swap" {
		return SwapID{}, &queries.QuestionError{Asked: text,
			Err: errors.New("it is no identity of a swap: swap:MACHINE:POSITION=PART")}
	}
	var id SwapID
	id.On, id.Scheme, _ = strings.Cut(fields[1], "@")
	for _, field := range strings.Split(fields[2], ",") {
		swap, err := ParseSwap(field)
		if err != nil {
			return SwapID{}, &queries.QuestionError{Asked: text, Err: err}
		}
		id.Swaps = append(id.Swaps, swap)
	}
	if len(fields) == 4 {
		id.Outcome = fields[3]
	}
	return id, nil
}

// OutcomeName is "joint/hose-upper-on-master": what the outcome is about, fit
// for an identity.
func OutcomeName(o examine.Outcome) string { return unblank(o.What + "/" + queries.LocalName(o.ID)) }

// numberName is "number/front-brake/hydraulic-ratio".
func numberName(n examine.Number) string {
	return unblank("number/" + queries.LocalName(n.About) + "/" + n.Name)
}

// unblank keeps an identity from being cut by a shell.
func unblank(text string) string { return strings.ReplaceAll(text, " ", "-") }

// Named gives the answer and its outcomes the identities that they can be asked
// about by.
func (a *SwapAnswer) Named(q SwapQuestion) {
	id := SwapID{On: string(a.On), Scheme: q.Scheme}
	if a.Bike != "" {
		id.On = string(a.Bike)
	}
	for _, line := range a.Swaps {
		part := string(line.Now)
		if part == "" {
			part = NoPart
		}
		id.Swaps = append(id.Swaps, Replacement{Position: line.Position.Local(), Part: part})
	}
	a.ID = id.String()
	for _, list := range [][]examine.Outcome{a.Mates, a.WithChanges, a.DoesNotMate, a.Unknown} {
		for i := range list {
			id.Outcome = OutcomeName(list[i])
			list[i].AnswerID = id.String()
		}
	}
	for i := range a.Numbers {
		id.Outcome = numberName(a.Numbers[i])
		a.Numbers[i].AnswerID = id.String()
	}
	a.Then.named(id)
}

// named gives what is left with everything on the identities of the swap that
// has those parts in it too. What is made, and what goes between two parts, has
// no position and is in none.
func (t *SwapThen) named(id SwapID) {
	if t == nil {
		return
	}
	id.Outcome = ""
	id.Swaps = lists.Kept(slices.Clone(id.Swaps), func(r Replacement) bool {
		return !slices.ContainsFunc(lists.KeysOf(t.fitted),
			func(at graph.PositionID) bool { return at.Local() == r.Position })
	})
	for _, at := range lists.KeysOf(t.fitted) {
		id.Swaps = append(id.Swaps, Replacement{Position: at.Local(), Part: string(t.fitted[at])})
	}
	t.ID = id.String()
	for i := range t.Left {
		id.Outcome = OutcomeName(t.Left[i])
		t.Left[i].AnswerID = id.String()
	}
}
