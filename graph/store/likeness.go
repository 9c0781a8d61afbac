package store

import "unicode/utf8"

// likeness tells in how many letters words differ from a key: letters changed,
// added or left out. Words that come one behind the other and begin alike, as in a
// sorted list, are compared from where they part, and what no word can be near
// that begins so is passed over.
type likeness struct {
	key   []rune
	limit int // what differs in more is of no interest
	// rows has for each letter of the word before a row: rows[i][j] is in how many
	// letters its first i letters differ from the first j of the key.
	rows [][]int
	word []byte // the word before, as far as it was looked at
	ends []int  // of each of its letters, in bytes
	dead bool   // nothing near begins with word
}

func newLikeness(key string, limit int) *likeness {
	l := &likeness{key: []rune(key), limit: limit}
	first := make([]int, len(l.key)+1)
	for j := range first {
		first[j] = j
	}
	l.rows = [][]int{first}
	return l
}

// distance is in how many letters a word differs, or some number above the
// limit.
func (l *likeness) distance(word []byte) int {
	if !l.follow(word) {
		return l.limit + 1
	}
	return l.rows[len(l.ends)][len(l.key)]
}

// begins reports whether some word that begins so may be within the limit.
func (l *likeness) begins(start []byte) bool { return l.follow(start) }

// follow makes the rows of a word; false when nothing near begins with what was
// followed.
func (l *likeness) follow(word []byte) bool {
	shared := 0
	for shared < len(word) && shared < len(l.word) && word[shared] == l.word[shared] {
		shared++
	}
	if l.dead && shared == len(l.word) {
		return false
	}
	kept := len(l.ends)
	for kept > 0 && l.ends[kept-1] > shared {
		kept--
	}
	at := 0
	if l.ends = l.ends[:kept]; kept > 0 {
		at = l.ends[kept-1]
	}
	l.word, l.dead = append(l.word[:at], word[at:]...), false
	for at < len(word) {
		letter, size := utf8.DecodeRune(word[at:])
		at += size
		l.ends = append(l.ends, at)
		if !l.next(letter) {
			l.word, l.dead = l.word[:at], true
			return false
		}
	}
	return true
}

// next makes the row of one letter more; false when all in it is above the limit.
func (l *likeness) next(letter rune) bool {
	i := len(l.ends)
	if i == len(l.rows) {
		l.rows = append(l.rows, make([]int, len(l.key)+1))
	}
	before, row := l.rows[i-1], l.rows[i]
	row[0] = i
	least := i
	for j, own := range l.key {
		cost := before[j]
		if own != letter {
			cost = min(cost, before[j+1], row[j]) + 1
		}
		row[j+1] = cost
		least = min(least, cost)
	}
	return least <= l.limit
}
