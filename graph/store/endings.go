package store

import (
	"bytes"
	"cmp"
	"context"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// The ends of numbers: what a part's keys end in, as a sorted list. What holds a piece of
// a stamped number, and what is near a number that was typed wrongly, is a read of a few
// pages, however many numbers there are.

// endingsNode leads to the list. Its keys are ends of keys of parts; with each stands what
// comes before the end, a space, and the part. The empty end stands with each brand's key.
const endingsNode quad.IRI = identities + "number-endings"

const (
	// shortestEnd is the fewest letters of an end, and of a piece that is asked for.
	shortestEnd = 3
	// longestExact is the most letters in which the end of a number that is near is looked
	// up as it stands.
	longestExact = 5
)

// endsOf hands out the ends of a key of a part. Of a number with its brand in front, where
// the number is a key itself, only those that no end of the number is: there are brands
// with numbers of a few letters.
func endsOf(key string, part graph.PartID, has func(numberEntry) bool, emit func(end, rest string) error) error {
	shortest, longest := shortestEnd, len(key)
	number := graph.NumberKey(part.Number())
	if key == graph.NumberKey(string(part)) && len(number) < len(key) && strings.HasSuffix(key, number) &&
		has(numberEntry{number, part}) {
		shortest, longest = len(number)+1, longestExact*utf8.UTFMax
		if err := emit("", strings.TrimSuffix(key, number)); err != nil {
			return err
		}
	}
	for at := range key {
		if end := key[at:]; len(end) <= longest && len(end) >= shortest && utf8.RuneCountInString(end) >= shortestEnd {
			if err := emit(end, key[:at]+" "+string(part)); err != nil {
				return err
			}
		}
	}
	return nil
}

// endings gathers the numbers, in their order, while a store is built.
type endings []numberEntry

// write puts their ends into the list: a few bytes each are in memory.
func (e endings) write(list *listPages) error {
	if len(e) == 0 {
		return nil
	}
	type ending struct{ number, at int32 } // where in the key of a number it begins
	var ends []ending
	brands := map[string]bool{"": true} // so that where there are parts, there is a list
	has := func(n numberEntry) bool {
		_, found := slices.BinarySearchFunc(e, n, numberEntry.compare)
		return found
	}
	for i, n := range e {
		_ = endsOf(n.Key, n.ID, has, func(end, rest string) error {
			if end == "" {
				brands[rest] = true
			} else {
				ends = append(ends, ending{int32(i), int32(len(n.Key) - len(end))})
			}
			return nil
		})
	}
	for _, brand := range slices.Sorted(maps.Keys(brands)) {
		if err := list.add("", brand); err != nil {
			return err
		}
	}
	slices.SortFunc(ends, func(a, b ending) int {
		x, y := e[a.number], e[b.number]
		return cmp.Or(strings.Compare(x.Key[a.at:], y.Key[b.at:]), strings.Compare(x.Key[:a.at], y.Key[:b.at]),
			strings.Compare(string(x.ID), string(y.ID)))
	})
	for _, end := range ends {
		n := e[end.number]
		if err := list.add(n.Key[end.at:], n.Key[:end.at]+" "+string(n.ID)); err != nil {
			return err
		}
	}
	return nil
}

// endedBy are the keys of numbers that an entry of the list of ends stands for: one, or also
// that with the brand in front.
func endedBy(end, rest string) (found []numberEntry) {
	before, part, _ := strings.Cut(rest, " ")
	e := numberEntry{Key: before + end, ID: graph.PartID(part)}
	found = append(found, e)
	if whole := graph.NumberKey(part); whole != e.Key && e.Key == graph.NumberKey(e.ID.Number()) {
		found = append(found, numberEntry{Key: whole, ID: e.ID})
	}
	return found
}

// mostPages is how many pages of ends are looked through: where a piece is in more numbers
// than stand on them, the first few of all numbers that have it are soon found.
const mostPages = 8

// holdingPiece gives the first entries whose key holds a piece, in order.
func holdingPiece(ctx context.Context, n numbers, piece string, most int) ([]numberEntry, error) {
	ends, err := listAt[plainID](ctx, n.level, endingsNode, partCodec().name)
	if err != nil || len(n.first) == 0 {
		return nil, err
	}
	from, to := ends.beginning(piece)
	if utf8.RuneCountInString(piece) < shortestEnd || to-from > mostPages {
		return n.entriesHolding(ctx, piece, most)
	}
	found, err := n.startingWith(ctx, piece, most)
	if err != nil {
		return nil, err
	}
	pages, err := ends.texts(ctx, from, to)
	if err != nil {
		return nil, err
	}
	sought := []byte(piece)
	err = eachEntry(pages, func(key, id []byte) {
		if bytes.HasPrefix(key, sought) {
			found = append(found, endedBy(string(key), string(id))...)
		}
	})
	if err != nil {
		return nil, err
	}
	branded, err := holdingBrand(ctx, n, ends, piece, most)
	found = append(found, branded...)
	slices.SortFunc(found, numberEntry.compare)
	found = slices.Compact(found)
	return found[:min(most, len(found))], err
}

// holdingBrand gives the first entries whose key holds a piece that begins in its brand, or just
// behind it.
func holdingBrand(ctx context.Context, n numbers, ends sortedList[plainID], piece string,
	most int) ([]numberEntry, error) {
	brands, err := ends.under(ctx, []string{""})
	if err != nil {
		return nil, err
	}
	var found []numberEntry
	for _, id := range brands {
		brand := string(id)
		for at := 0; at <= len(brand); at++ {
			rest, begun := strings.CutPrefix(piece, brand[at:])
			if !begun && !strings.HasPrefix(brand[at:], piece) {
				continue
			}
			if !begun {
				rest = "" // the piece is in the brand
			}
			some, err := n.startingWith(ctx, brand+rest, most)
			if err != nil {
				return nil, err
			}
			found = append(found, some...)
		}
	}
	return found, nil
}

// nearNumbers gives the entries whose key differs from one in no more than limit letters.
// Such a key ends as the one does, or else begins so that it differs in fewer letters
// there.
func nearNumbers(ctx context.Context, n numbers, key string, limit int) ([]nearEntry[graph.PartID], error) {
	letters := []rune(key)
	exact := min(longestExact, len(letters)/2)
	if exact < shortestEnd || len(n.first) == 0 {
		return n.near(ctx, key, limit)
	}
	start, end := letters[:len(letters)-exact], string(letters[len(letters)-exact:])
	var pages []int
	starts := newStarts(start, limit-1)
	for page, first := range n.first {
		if page+1 < len(n.first) && starts.between(first, n.first[page+1]) || page+1 == len(n.first) &&
			starts.from(first) {
			pages = append(pages, page)
		}
	}
	found, err := n.nearOn(ctx, pages, newLikeness(key, limit))
	if err != nil {
		return nil, err
	}
	ends, err := listAt[plainID](ctx, n.level, endingsNode, partCodec().name)
	if err != nil {
		return nil, err
	}
	rests, err := ends.under(ctx, []string{end})
	if err != nil {
		return nil, err
	}
	likeness := newLikeness(key, limit)
	for _, rest := range rests {
		for _, e := range endedBy(end, string(rest)) {
			if distance := likeness.distance([]byte(e.Key)); distance <= limit {
				found = append(found, nearEntry[graph.PartID]{e, distance})
			}
		}
	}
	return found, nil
}
