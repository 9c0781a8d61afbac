package bike_test

import (
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries/bike"
	"matewell/queries/demotest"
	"matewell/queries/readertest"
	"matewell/queries/shop"
)

// Two calipers of another model are planned, and lie in the box with the two brackets that
// carry them. All questions about the machine agree: the brackets come out of the box and
// are not bought, nothing calls the calipers' pads a reason against them that other pads cure,
// and what is left over is what nothing needs. One bracket less is one to buy.
func TestBracketsInTheBoxAreUsed(t *testing.T) {
	const bracket, set = "Varnhegg 31-204.1", "Varnhegg 31-204.9"
	for _, there := range []int{2, 1} {
		facts := demotest.Facts(t)
		facts.Bikes = slices.Clone(facts.Bikes)
		own := &facts.Bikes[slices.IndexFunc(facts.Bikes, func(b graph.Bike) bool { return b.ID == "grey-gull" })]
		own.Boxes = []graph.Box{{Name: "shelf", Items: slices.Clone(own.Boxes[0].Items)}}
		items := own.Boxes[0].Items
		items[slices.IndexFunc(items, func(i graph.BoxItem) bool { return i.Part == bracket })].Quantity = there
		r, q := readertest.New(facts), bike.BikeWorkQuestion{Name: "grey-gull"}
		list, err := bike.BikeShop(t.Context(), r, q)
		if err != nil {
			t.Fatal(err)
		}
		if len(list.Refused) > 0 || len(list.FromBoxes) != 1 || list.FromBoxes[0].Part != bracket ||
			list.FromBoxes[0].Box != "shelf" || list.FromBoxes[0].Quantity != there {
			t.Errorf("%d there: out of the boxes %+v, refused %+v", there, list.FromBoxes, list.Refused)
		}
		// the set of two brackets with their bolts may be the cheaper way to one bracket
		if n := pieces(list.List, bracket) + pieces(list.List, set); n != 2-there {
			t.Errorf("%d there: %d times brackets are bought", there, n)
		}
		if pads := pieces(list.List, "Tarnholt 500.7005"); pads != 1 {
			t.Errorf("%d pad kits are bought", pads)
		}
		left, err := bike.BikeLeftover(t.Context(), r, bike.BikeLeftoverQuestion{Name: "grey-gull"})
		if err != nil {
			t.Fatal(err)
		}
		if left.Needed != 2+there || slices.ContainsFunc(left.Rows,
			func(row bike.LeftoverRow) bool { return row.Part == bracket }) {
			t.Errorf("%d there: %d needed, left over %+v", there, left.Needed, left.Rows)
		}
		missing, err := bike.BikeMissing(t.Context(), r, q)
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range missing.Rows {
			if row.Refused != "" || !slices.ContainsFunc(row.Goes, func(s string) bool {
				return strings.HasPrefix(s, bracket) && strings.HasSuffix(s, ", in shelf")
			}) {
				t.Errorf("%s goes with %q, refused %q", row.Position, row.Goes, row.Refused)
			}
		}
	}
}

// pieces is how many of a number are on a list to buy.
func pieces(l shop.List, id graph.PartID) int {
	n := 0
	for _, row := range l.Rows {
		if row.Part == id {
			n += row.Quantity
		}
	}
	return n
}
