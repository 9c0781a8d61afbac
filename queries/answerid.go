package queries

import (
	"errors"
	"strings"
	"unicode"

	"matewell/graph"
)

// AnswerID names one row of an answer so that it can be asked about again: it
// holds what the question was about, not a number that only one run knows.
// Two runs over the same facts print the same.
type AnswerID struct {
	Question string           // "fits", "differ"
	Part     graph.PartID     // fits
	Variant  graph.VariantID  // fits: the first variant of the row; differ: the first side
	Other    graph.VariantID  // differ: the second side
	Position graph.PositionID // must belong to the model of Variant
}

// String is "fits:Tarnholt-207.4418b:skerry-620/2003/eu:front-brake/caliper-left"
// or "differ:skerry-620/2003/eu:skerry-620/2004/eu:front-brake/caliper-left": no
// blanks, so that it can be pasted into a shell.
func (id AnswerID) String() string {
	if id.Question == "fits" {
		part := PartWord(string(id.Part))
		return strings.Join([]string{id.Question, part, string(id.Variant), id.Position.Local()}, ":")
	}
	return strings.Join([]string{id.Question, string(id.Variant), string(id.Other), id.Position.Local()}, ":")
}

// PartWord is a part's number as it stands in the identity of an answer: without what
// parts an identity, such as a colon, and what a shell takes for its own. Numbers are
// looked up by their letters and digits, so that it is found again.
func PartWord(part string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || strings.ContainsRune("\"'`$&;|<>()[]{}*?!\\:,", r) {
			return '-'
		}
		return r
	}, part)
}

// ParseAnswerID reads what String prints; anything else is a *QuestionError. The
// part is left in the spelling of the identity: look it up with PartFor. The
// identities of swaps are read by ParseSwapID.
func ParseAnswerID(text string) (AnswerID, error) {
	fields := strings.Split(strings.TrimSpace(text), ":")
	if len(fields) != 4 || fields[0] != "fits" && fields[0] != "differ" {
		return AnswerID{}, &QuestionError{Asked: text,
			Err: errors.New("it is no identity of an answer: fits:PART:VARIANT:POSITION, differ:VARIANT:VARIANT:POSITION or " +
				"swap:MACHINE:POSITION=PART")}
	}
	id := AnswerID{Question: fields[0]}
	if id.Question == "fits" {
		id.Part, id.Variant = graph.PartID(fields[1]), graph.VariantID(fields[2])
	} else {
		id.Variant, id.Other = graph.VariantID(fields[1]), graph.VariantID(fields[2])
	}
	id.Position = graph.PositionID(string(id.Variant.Model()) + ":" + fields[3])
	return id, nil
}

// LocalName is an identity without its model.
func LocalName(id string) string {
	if _, local, ok := strings.Cut(id, ":"); ok {
		return local
	}
	return id
}
