package shop

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
)

// PlaceTakes is what a place takes each time something is fitted there.
type PlaceTakes struct {
	At     graph.PositionID
	Pieces int // of the part; the amounts are for one
	Takes  []graph.Consumable
}

// Consumed is what the work uses up.
type Consumed struct {
	What  string `json:"what"` // "fork oil", "brake fluid"
	Grade string `json:"grade,omitempty"`
	// Amount is how much in all, in cm3; 0 where no source gives it for any place.
	Amount float64 `json:"amount_cm3,omitempty"`
	// Unknown is for how many places no source gives an amount.
	Unknown int `json:"unknown,omitempty"`
	// Open is true where nobody knows which grade, or the parts allow none together.
	Open bool               `json:"grade_open,omitempty"`
	Text string             `json:"text"` // the amount in words
	At   []graph.PositionID `json:"at,omitempty"`
}

// Smears are what no amount is given for, since no more than a film or a few drops are
// wanted; common practice, no source.
func smear(what string) bool {
	return slices.ContainsFunc([]string{"grease", "thread-lock", "paste", "sealant", "cable oil", "chain lubricant"},
		func(word string) bool { return strings.Contains(what, word) })
}

// consumables adds up what places take, and what fills circuits, by sort and
// grade.
func consumables(places []PlaceTakes, fluids []Consumed) []Consumed {
	all := map[[2]string]*Consumed{}
	add := func(c Consumed) {
		key := [2]string{c.What, c.Grade}
		sum := all[key]
		if sum == nil {
			sum = &Consumed{What: c.What, Grade: c.Grade}
			all[key] = sum
		}
		sum.Amount += c.Amount
		sum.Unknown += c.Unknown
		sum.Open = sum.Open || c.Open
		sum.At = lists.Unique(append(sum.At, c.At...))
	}
	for _, p := range places {
		for _, c := range p.Takes {
			one := Consumed{What: c.What, Grade: c.Grade, At: []graph.PositionID{p.At}}
			one.Amount, one.Unknown = amountOf(c.Amount, p.Pieces)
			add(one)
		}
	}
	for _, f := range fluids {
		add(f)
	}
	list := []Consumed{}
	for _, c := range all {
		c.Text = c.amountText()
		list = append(list, *c)
	}
	slices.SortFunc(list, func(a, b Consumed) int {
		return cmp.Or(cmp.Compare(a.What, b.What), cmp.Compare(a.Grade,
			b.Grade))
	})
	return list
}

// amountOf is what some pieces take in cm3, by the first reading; unknown is 1
// when there is none.
func amountOf(readings []graph.Reading, pieces int) (cm3 float64, unknown int) {
	if len(readings) == 0 {
		return 0, 1
	}
	q, err := measure.ParseQuantity(readings[0].Text, measure.Volume)
	if err != nil {
		return 0, 1
	}
	return q.Nominal * float64(max(1, pieces)), 0
}

func (c Consumed) amountText() string {
	switch known := strconv.FormatFloat(c.Amount, 'f', -1, 64) + " ml"; {
	case c.Amount == 0 && smear(c.What):
		return "a film"
	case c.Amount == 0:
		return "no source gives the amount: see the maker's manual"
	case c.Unknown > 0 && !smear(c.What):
		return known + ", and more at " + strconv.Itoa(c.Unknown) + " places that no source gives an amount for"
	default:
		return known
	}
}
