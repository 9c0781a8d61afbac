package queries

import (
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/lists"
)

// nearNames is how many near names an error offers.
const nearNames = 3

// mostQuoted is how many letters of what was typed are said again.
const mostQuoted = 200

// quoted is what was typed, in quotes; of a very long text only how it begins.
func quoted(typed string) string {
	letters := []rune(typed)
	if len(letters) <= mostQuoted {
		return fmt.Sprintf("%q", typed)
	}
	return fmt.Sprintf("%q and %d more letters", string(letters[:mostQuoted/4]), len(letters)-mostQuoted/4)
}

// NotFoundError says that a name typed by a person is not in the graph.
type NotFoundError struct {
	What  string   // "part", "model", "position" ...
	Asked string   // as typed
	Where string   // where it was looked for, "on skerry-620"; may be empty
	Near  []string // names it may have been meant for, nearest first; may be empty
	Hint  string   // how to ask instead, where nothing is near; may be empty
}

// Error names what was asked for and what is near, or else how to ask.
func (e *NotFoundError) Error() string {
	text := fmt.Sprintf("no %s %s", e.What, quoted(e.Asked))
	if e.Where != "" {
		text += " " + e.Where
	}
	if len(e.Near) > 0 {
		text += "; did you mean " + graph.OrList(e.Near) + "?"
	} else if e.Hint != "" {
		text += "; " + e.Hint
	}
	return text
}

// AmbiguousError says that what a person typed stands for several things.
type AmbiguousError struct {
	What  string   // "part", "position" ...
	Asked string   // as typed
	Could []string // what it could be, sorted; at least two
	More  int      // how many further ones are not listed
	// SettledBy are the facts that tell them apart, "market", "frame number";
	// empty when none is known to.
	SettledBy []string
}

// Error lists what it could be, and what would settle it.
func (e *AmbiguousError) Error() string {
	text := fmt.Sprintf("%s %s could be %s", e.What, quoted(e.Asked), graph.OrList(e.Could))
	if e.More > 0 {
		text = fmt.Sprintf("%s %s could be %s or %d more", e.What, quoted(e.Asked), strings.Join(e.Could, ", "), e.More)
	}
	if len(e.SettledBy) > 0 {
		text += "; to settle it: " + strings.Join(e.SettledBy, ", ")
	}
	return text
}

// NotFound offers the names that are near to what was asked, else those that hold it.
func NotFound[T ~string](what, asked, where string, names []T) *NotFoundError {
	plain := lists.Mapped(names, func(name T) string { return string(name) })
	e := &NotFoundError{What: what, Asked: asked, Where: where, Near: graph.Nearest(asked, plain, nearNames)}
	if key := graph.NumberKey(asked); len(e.Near) == 0 && len(key) >= leastAlike {
		holding := lists.Kept(plain, func(name string) bool { return strings.Contains(graph.NumberKey(name), key) })
		slices.Sort(holding)
		e.Near = holding[:min(len(holding), nearNames)]
	}
	return e
}

// NotListed is NotFound of what "matewell list" lists: where nothing is near, it says what
// there is.
func NotListed[T ~string](what, asked, where string, names []T) *NotFoundError {
	e := NotFound(what, asked, where, names)
	e.Hint = thereAre(what, lists.Mapped(names, func(name T) string { return string(name) }))
	return e
}

// QuestionError says that a value in a question can't be read.
type QuestionError struct {
	Asked string // the words at fault
	Err   error  // why
}

// Error quotes the words.
func (e *QuestionError) Error() string { return fmt.Sprintf("%s: %v", quoted(e.Asked), e.Err) }

// Unwrap gives the reason.
func (e *QuestionError) Unwrap() error { return e.Err }
