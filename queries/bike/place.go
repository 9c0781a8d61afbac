package bike

import (
	"cmp"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
)

// placing is where one bag goes.
type placing struct {
	best       *BagPlace // nil when nothing takes any of it
	ties, next []BagPlace
	settled    bool
	label      *BagPlace // the best of the groups that its label names; nil when it names none
}

// lead is by how much a score must exceed the next one to settle a bag. Two
// pieces out of forty; common practice, no source.
const lead = 0.05

// nextShown is how many places that match less well are shown.
const nextShown = 2

// placeBags finds the place of each bag, in the order of the bags.
func (t *bagTable) placeBags() []placing {
	bags := t.bike.Bags
	placed := make([]placing, len(bags))
	open := map[int]bool{}
	for i := range bags {
		open[i] = true
	}
	for {
		ranked := map[int][]BagPlace{}
		for _, i := range lists.KeysOf(open) {
			ranked[i] = t.rank(bags[i])
		}
		at := clearest(ranked)
		if at < 0 {
			t.placeRest(ranked, placed)
			return placed
		}
		placed[at] = t.placing(bags[at], ranked[at], 0, true)
		t.take(*placed[at].best)
		delete(open, at)
	}
}

// clearest is the bag with the best score among those that match one place
// clearly best, when no other bag has as good a claim to a position there; -1
// for none.
func clearest(ranked map[int][]BagPlace) int {
	best := -1
	for _, i := range lists.KeysOf(ranked) {
		places := ranked[i]
		if len(places) == 0 || len(places) > 1 && places[0].Score-places[1].Score < lead {
			continue
		}
		rival := slices.ContainsFunc(lists.KeysOf(ranked), func(j int) bool {
			return j != i && len(ranked[j]) > 0 && ranked[j][0].Score >= places[0].Score && overlap(ranked[j][0], places[0])
		})
		if !rival && (best < 0 || places[0].Score > ranked[best][0].Score) {
			best = i
		}
	}
	return best
}

func overlap(a, b BagPlace) bool {
	return slices.ContainsFunc(a.Positions, func(id graph.PositionID) bool { return slices.Contains(b.Positions, id) })
}

// placeRest shares the groups that are left among the bags that none of them
// suits clearly best, so that the scores add up to the most.
func (t *bagTable) placeRest(ranked map[int][]BagPlace, placed []placing) {
	groups := pieces(len(t.groups), func(int) int { return 1 })
	find := func(bag, group int) int {
		return slices.IndexFunc(ranked[bag], func(p BagPlace) bool { return p.group == group })
	}
	counts := allot(lists.KeysOf(ranked), groups, func(bag, group int) (float64, bool) {
		at := find(bag, group)
		if at < 0 {
			return 0, false
		}
		// The label decides between equals, and nothing else.
		cost := 1 - ranked[bag][at].Score
		if !t.labelNames(group, t.bike.Bags[bag].Label) {
			cost += 1e-6
		}
		return cost, true
	}, func(int) float64 { return 1 })
	for bag := range ranked {
		placed[bag] = t.placing(t.bike.Bags[bag], ranked[bag], -1, false)
	}
	for pair := range counts {
		placed[pair.row] = t.placing(t.bike.Bags[pair.row], ranked[pair.row], find(pair.row, pair.column), false)
	}
}

// placing puts a bag at one of its ranked places; at is -1 for none.
func (t *bagTable) placing(bag graph.Bag, ranked []BagPlace, at int, settled bool) placing {
	p := placing{settled: settled}
	if at >= 0 {
		p.best = &ranked[at]
	}
	for i, place := range ranked {
		switch {
		case i == at:
		case p.best != nil && place.Score >= p.best.Score-1e-9:
			p.ties = append(p.ties, place)
		case len(p.next) < nextShown:
			p.next = append(p.next, place)
		}
	}
	p.label = t.labelled(bag, ranked)
	return p
}

// rank scores a bag for every group that takes something of it, best first;
// between equals the group with fewer pieces, then by name.
func (t *bagTable) rank(bag graph.Bag) []BagPlace {
	like := make([][]likeness, len(bag.Contents))
	for i, item := range bag.Contents {
		like[i] = lists.Mapped(t.slots, func(s slot) likeness { return compareHardware(item, s.part.Kind, s.size) })
	}
	var all []BagPlace
	for g := range t.groups {
		if place := t.score(bag, g, like); place.Matched > 0 {
			all = append(all, place)
		}
	}
	slices.SortFunc(all, func(x, y BagPlace) int {
		return cmp.Or(-cmp.Compare(x.Score, y.Score), cmp.Compare(x.Expected, y.Expected), cmp.Compare(x.Name, y.Name))
	})
	return all
}

// score matches a bag with a group, piece by piece.
func (t *bagTable) score(bag graph.Bag, group int, like [][]likeness) BagPlace {
	g := t.groups[group]
	place := BagPlace{Name: g.name, group: group, room: map[int]int{}}
	for _, s := range g.slots {
		place.room[s] = t.left[s]
		place.Expected += t.left[s]
		place.Positions = append(place.Positions, t.slots[s].position.ID)
		place.Safety = append(place.Safety, t.slots[s].position.Safety)
	}
	place.Safety = lists.Kept(lists.Unique(place.Safety), func(s graph.Safety) bool { return s != "" })
	held := 0
	for _, item := range bag.Contents {
		held += item.Quantity
	}
	some := slices.ContainsFunc(like, func(l []likeness) bool {
		return slices.ContainsFunc(g.slots, func(s int) bool { return l[s].same && t.left[s] > 0 })
	})
	if !some {
		return place
	}
	var room []int
	for _, s := range g.slots {
		room = append(room, slices.Repeat([]int{s}, t.left[s])...)
	}
	place.counts = allot(pieces(len(bag.Contents), func(i int) int { return bag.Contents[i].Quantity }), room,
		func(i, s int) (float64, bool) { return like[i][s].cost(), like[i][s].same },
		func(int) float64 { return costUnserved })
	for _, n := range place.counts {
		place.Matched += n
	}
	place.Score = float64(place.Matched) / float64(held+place.Expected-place.Matched)
	return place
}

// take gives the matched positions to a settled bag.
func (t *bagTable) take(place BagPlace) {
	for pair, n := range place.counts {
		t.left[pair.column] -= n
	}
}
