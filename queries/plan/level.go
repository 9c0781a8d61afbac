package plan

import (
	"cmp"
	"fmt"
	"strings"
)

// level is one field of a Cost.
type level int

const (
	unknowns level = iota
	effort
	parts
	money
	distance
)

func levels() []level { return []level{unknowns, effort, parts, money, distance} }

func (l level) String() string {
	return [...]string{"unknowns", "effort", "parts", "money", "distance"}[l]
}

// fewer is how much less one plan may have of a level than another, in words:
// "2 parts fewer". Money is in hundredths.
func (l level) fewer(by int) string {
	s := "s"
	if by == 1 {
		s = ""
	}
	switch l {
	case unknowns:
		return fmt.Sprintf("%d unknown%s fewer", by, s)
	case effort:
		return fmt.Sprintf("%d class%s of effort less", by, strings.Replace(s, "s", "es", 1))
	case parts:
		return fmt.Sprintf("%d part%s fewer", by, s)
	case money:
		return fmt.Sprintf("%d.%02d less to pay", by/100, by%100)
	}
	return fmt.Sprintf("%d change%s fewer", by, s)
}

// join is how two things' costs at the level become one.
func (l level) join(a, b int) int {
	if l == effort {
		return max(a, b)
	}
	return a + b
}

func at(c Cost, l level) int {
	return [...]int{c.Unknowns, c.Effort, c.Parts, c.Money, c.Distance}[l]
}

// Prefer is which cost counts first after safety.
type Prefer int

// The orders. Safety unknowns always come first, distance last; the zero value
// is PreferEffort.
const (
	PreferEffort Prefer = iota // effort, parts, money
	PreferParts                // parts, effort, money
	PreferMoney                // money, effort, parts
)

// ParsePrefer reads "effort", "parts" or "money".
func ParsePrefer(word string) (Prefer, error) {
	for p := PreferEffort; p <= PreferMoney; p++ {
		if p.String() == word {
			return p, nil
		}
	}
	return 0, fmt.Errorf("%q is none of: effort, parts, money", word)
}

// String is the word ParsePrefer reads.
func (p Prefer) String() string {
	switch p {
	case PreferEffort:
		return "effort"
	case PreferParts:
		return "parts"
	case PreferMoney:
		return "money"
	}
	return fmt.Sprintf("Prefer(%d)", int(p))
}

// order is the levels, what counts most first.
func (p Prefer) order() []level {
	switch p {
	case PreferParts:
		return []level{unknowns, parts, effort, money, distance}
	case PreferMoney:
		return []level{unknowns, money, effort, parts, distance}
	case preferThrift:
		return []level{money, unknowns, effort, parts, distance}
	}
	return levels()
}

// split is the order in two: the levels that count before effort and those
// after it.
func (p Prefer) split() (before, after []level) {
	order := p.order()
	for i, l := range order {
		if l == effort {
			return order[:i], order[i+1:]
		}
	}
	return order, nil
}

func compare(c Cost, d Cost, p Prefer) int {
	for _, l := range p.order() {
		if order := cmp.Compare(at(c, l), at(d, l)); order != 0 {
			return order
		}
	}
	return 0
}
