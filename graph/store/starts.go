package store

import "slices"

// starts tells what ranges of a sorted list may hold words that begin nearly as some
// letters do.
type starts struct {
	start   []rune
	limit   int    // in how many letters the beginning of a word may differ
	letters []rune // those of start, each once, and one that is none of them
}

// other stands for a letter that the start has not.
const other = -1

func newStarts(start []rune, limit int) starts {
	letters := slices.Sorted(slices.Values(start))
	return starts{start, limit, append(slices.Compact(letters), other)}
}

// between reports whether a word from one to another may begin so.
func (s starts) between(from, to string) bool {
	return s.follow(s.begin(), bound{[]rune(from), true}, bound{[]rune(to), true})
}

// from reports whether one that is not before another may.
func (s starts) from(word string) bool {
	return s.follow(s.begin(), bound{[]rune(word), true}, bound{})
}

// begin is the row of no letter: row[i] is in how many letters what was followed differs
// from the first i of the start.
func (s starts) begin() []int {
	row := make([]int, len(s.start)+1)
	for i := range row {
		row[i] = i
	}
	return row
}

// bound is what is left of the word that a range begins or ends with, as long as what was
// followed is the beginning of that.
type bound struct {
	word []rune
	on   bool
}

// behind is the bound once a letter was followed.
func (b bound) behind(letter rune) bound {
	if b.on && len(b.word) > 0 && b.word[0] == letter {
		return bound{b.word[1:], true}
	}
	return bound{}
}

// follow reports whether a word may go on from a row within its bounds.
func (s starts) follow(row []int, low, high bound) bool {
	switch {
	case row[len(s.start)] <= s.limit:
		return true
	case slices.Min(row) > s.limit:
		return false
	case !low.on && !high.on:
		return true
	}
	for _, letter := range s.nextLetters(low, high) {
		if s.follow(s.next(row, letter), low.behind(letter), high.behind(letter)) {
			return true
		}
	}
	return false
}

// nextLetters are those with which a word may go on within its bounds; other is there
// for all that differ from each of the start's, without a look at where they stand.
func (s starts) nextLetters(low, high bound) []rune {
	letters := slices.Clone(s.letters)
	least, most := rune(0), rune(1<<30)
	if low.on && len(low.word) > 0 {
		least = low.word[0]
		letters = append(letters, least)
	}
	if high.on {
		if len(high.word) == 0 {
			return nil // what goes on stands behind it
		}
		most = high.word[0]
		letters = append(letters, most)
	}
	letters = slices.DeleteFunc(letters, func(letter rune) bool {
		if letter == other {
			return most-least < 2
		}
		return letter < least || letter > most
	})
	slices.Sort(letters)
	return slices.Compact(letters)
}

// next is the row of one letter more.
func (s starts) next(row []int, letter rune) []int {
	next := make([]int, len(row))
	next[0] = row[0] + 1
	for i, own := range s.start {
		cost := row[i]
		if own != letter {
			cost = min(cost, row[i+1], next[i]) + 1
		}
		next[i+1] = cost
	}
	return next
}
