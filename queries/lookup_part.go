package queries

import (
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/lists"
)

// Found says how a typed part number led to a part.
type Found struct {
	Part graph.PartID `json:"part"`
	// By is "number", "core", "name", or the type of the alias that matched.
	By string `json:"by"`
}

// How a number was found.
const (
	byNumber = "number"
	byCore   = "core"
	byName   = "name"
)

// leastPrefix is the fewest letters and digits of a number that are tried as a
// core with something unknown behind it.
const leastPrefix = 4

// PartsFor finds the parts that a typed number may stand for, in any spelling,
// with or without the brand in front: the part with that number; else the
// parts that have it as an alias; else those whose core it is, or core and
// revision with the colour left out; else the one part that goes by the words.
// The result is sorted and not empty; a *NotFoundError names near numbers, and
// an *AmbiguousError lists the parts that go by the words.
func PartsFor(ctx context.Context, r graph.Reader, typed string) ([]Found, error) {
	spellings := spellingsOf(typed)
	found, err := partsByKeys(ctx, r, spellings, lists.Mapped(spellings, spelling.key))
	if err != nil || len(found) > 0 {
		return found, err
	}
	var shorter []string
	for _, s := range spellings {
		key := []rune(s.key())
		for n := len(key) - 1; n >= leastPrefix; n-- {
			shorter = append(shorter, string(key[:n]))
		}
	}
	if len(shorter) > 0 {
		found, err = partsByKeys(ctx, r, spellings, lists.Unique(shorter))
		if err != nil || len(found) > 0 {
			return found, err
		}
	}
	missing, err := partNotFound(ctx, r, typed)
	if err != nil {
		return nil, err
	}
	if !strings.ContainsAny(typed, "0123456789") {
		return wordyPart(ctx, r, typed, missing)
	}
	return nil, missing
}

// PartFor finds the one part that a typed number stands for; an
// *AmbiguousError lists the parts when there are several.
func PartFor(ctx context.Context, r graph.Reader, typed string) (graph.PartID, error) {
	found, err := PartsFor(ctx, r, typed)
	if err != nil {
		return "", err
	}
	if len(found) > 1 {
		return "", &AmbiguousError{What: "part", Asked: typed,
			Could: lists.Mapped(found, func(f Found) string { return string(f.Part) })}
	}
	return found[0].Part, nil
}

// spelling is one way to read what was typed.
type spelling struct {
	brand  string // as typed, empty when the whole text is the number
	number string
}

func (s spelling) key() string { return graph.NumberKey(s.number) }

func (s spelling) brandFits(id graph.PartID) bool {
	return s.brand == "" || strings.EqualFold(s.brand, string(id.Brand()))
}

// spellingsOf reads the text as a number, and as a brand and a number behind
// it. The brand is parted by a space, a colon or a dash.
func spellingsOf(typed string) []spelling {
	typed = strings.TrimSpace(typed)
	all := []spelling{{number: typed}}
	if at := strings.IndexAny(typed, " :-"); at > 0 && graph.NumberKey(typed[at:]) != "" {
		all = append(all, spelling{brand: typed[:at], number: typed[at+1:]})
	}
	return lists.Kept(all, func(s spelling) bool { return s.key() != "" && len(s.key()) <= longestKey })
}

// longestKey is more letters and digits than any number has with its brand, or any other mark.
const longestKey = 300

// partsByKeys keeps of the parts under the keys the best sort of match.
func partsByKeys(ctx context.Context, r graph.Reader, spellings []spelling, keys []string) ([]Found, error) {
	if len(keys) == 0 {
		return nil, nil
	}
	ids, err := r.PartsByKey(ctx, keys...)
	if err != nil || len(ids) == 0 {
		return nil, err
	}
	parts, err := r.Parts(ctx, ids...)
	if err != nil {
		return nil, err
	}
	for _, sort := range []func(graph.Part, spelling) string{byFullNumber, byAlias, byShortNumber} {
		if found := matching(parts, spellings, sort); len(found) > 0 {
			return found, nil
		}
	}
	return nil, nil
}

func matching(parts []graph.Part, spellings []spelling, match func(graph.Part, spelling) string) []Found {
	var found []Found
	for _, p := range parts {
		for _, s := range spellings {
			if by := match(p, s); by != "" && s.brandFits(p.ID) {
				found = append(found, Found{Part: p.ID, By: by})
				break
			}
		}
	}
	return found
}

func byFullNumber(p graph.Part, s spelling) string {
	if key := s.key(); key == graph.NumberKey(p.Number.Text) || key == graph.NumberKey(string(p.ID)) {
		return byNumber
	}
	return ""
}

func byAlias(p graph.Part, s spelling) string {
	for _, a := range p.Aliases {
		if graph.NumberKey(a.Text) == s.key() {
			return string(a.Type)
		}
	}
	return ""
}

// byShortNumber matches a core, and a core with its revision where the number
// also has a colour.
func byShortNumber(p graph.Part, s spelling) string {
	if s.key() == p.Number.CoreKey() || s.key() == p.Number.CoreKey()+graph.NumberKey(p.Number.Revision) {
		return byCore
	}
	return ""
}

// partNotFound offers the numbers that are near to what was typed: that number
// of another brand, those that differ in a letter or two, those that hold it or
// begin as it does.
func partNotFound(ctx context.Context, r graph.Reader, typed string) (*NotFoundError, error) {
	fault := &NotFoundError{What: "part", Asked: typed}
	spellings := spellingsOf(typed)
	ways := []func(context.Context, graph.Reader, spelling) ([]graph.PartID, error){ofAnyBrand, nearParts, holdingParts,
		beginningParts}
	for i, way := range ways {
		for _, s := range spellings {
			ids, err := way(ctx, r, s)
			if err != nil {
				return nil, err
			}
			offer(fault, ids)
		}
		if i > 0 && len(fault.Near) > 0 {
			return fault, nil
		}
	}
	if strings.ContainsAny(typed, "0123456789") {
		return fault, nil
	}
	any, err := r.PartNumbers(ctx, "", 1)
	if len(any) > 0 {
		fault.Hint = "a part is asked for by its number, such as " + string(any[0])
	}
	return fault, err
}

// offer adds parts to those that may have been meant, up to a few.
func offer(e *NotFoundError, ids []graph.PartID) {
	for _, id := range ids {
		if len(e.Near) < nearNames && !slices.Contains(e.Near, string(id)) {
			e.Near = append(e.Near, string(id))
		}
	}
}

// ofAnyBrand are the parts with the number, whoever makes them.
func ofAnyBrand(ctx context.Context, r graph.Reader, s spelling) ([]graph.PartID, error) {
	ids, err := r.PartsByKey(ctx, s.key())
	return lists.Kept(ids, func(id graph.PartID) bool { return graph.NumberKey(id.Number()) == s.key() }), err
}

// nearParts are those whose number, with or without its brand, is near; one near
// by its core alone has another revision than what was typed.
func nearParts(ctx context.Context, r graph.Reader, s spelling) ([]graph.PartID, error) {
	ids, err := r.PartNumbersNear(ctx, s.key(), looked)
	return lists.Kept(ids, func(id graph.PartID) bool {
		return len(graph.Nearest(s.number, []string{id.Number(), string(id)}, 1)) > 0
	}), err
}

// leastAlike is the fewest letters and digits that two numbers must share to be
// worth a look.
const leastAlike = 3

// looked is how many keys are looked at for a few numbers of the brand typed.
const looked = 200

// holdingParts are those whose number holds what was typed, such as the part of
// a stamped number that can still be read.
func holdingParts(ctx context.Context, r graph.Reader, s spelling) ([]graph.PartID, error) {
	if len(s.key()) < leastAlike {
		return nil, nil
	}
	ids, err := r.PartNumbersHolding(ctx, s.key(), looked)
	return lists.Kept(ids, func(id graph.PartID) bool {
		return s.brandFits(id) && strings.Contains(graph.NumberKey(id.Number()), s.key())
	}), err
}

// beginningParts are those whose number begins as the typed one does, for
// longest.
func beginningParts(ctx context.Context, r graph.Reader, s spelling) ([]graph.PartID, error) {
	key := []rune(s.key())
	for n := len(key) - 1; n >= leastAlike; n-- {
		start := string(key[:n])
		ids, err := r.PartNumbers(ctx, start, looked)
		ids = lists.Kept(ids, func(id graph.PartID) bool {
			return s.brandFits(id) && strings.HasPrefix(graph.NumberKey(id.Number()), start)
		})
		if err != nil || len(ids) > 0 {
			return ids, err
		}
	}
	return nil, nil
}
