package swap

import (
	"errors"
	"slices"
	"strings"

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
	swaps := lists.Mapped(id.Swaps, func(r Replacement) string { return r.Position + "=" + queries.PartWord(r.Part) })
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
