package donor_test

import (
	"context"
	"slices"
	"testing"
	"time"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// What lies in a box of the bike need not be found any more: with --boxes a plan
// takes it from there.
func TestDonorTakesFromBoxes(t *testing.T) {
	const lever, banjo, otherLever = "Tarnholt 207.7008", "Tarnholt 945.1251", "Tarnholt 207.4007"
	tests := []struct {
		name    string
		box     []graph.PartID
		boxes   bool
		want    []graph.PartID // from the box
		toFind  int
		changed int
	}{
		{name: "both lie there", box: []graph.PartID{lever, banjo}, boxes: true, want: []graph.PartID{banjo, lever},
			toFind: 1, changed: 3},
		{name: "one lies there", box: []graph.PartID{lever}, boxes: true, want: []graph.PartID{lever}, toFind: 2, changed: 3},
		{name: "the boxes are not asked for", box: []graph.PartID{lever, banjo}, toFind: 3, changed: 3},
		{name: "what lies there does not mate", box: []graph.PartID{otherLever}, boxes: true, toFind: 3, changed: 3},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			facts := demotest.Facts(t)
			tin := graph.Box{Name: "tin"}
			for _, part := range tt.box {
				tin.Items = append(tin.Items, graph.BoxItem{Part: part, Quantity: 1, Sure: "number read"})
			}
			facts.Bikes = append(slices.Clip(facts.Bikes), graph.Bike{ID: "bench", Variant: "skerry-620/2002/eu",
				Boxes: []graph.Box{tin}})
			q := demoDonors()[0]
			q.On, q.Boxes = "bench", tt.boxes
			got, err := donor.Donor(context.Background(), readertest.New(facts), q)
			if err != nil || len(got.Plans) == 0 || got.Outcome != "proved smallest" {
				t.Fatalf("%s, %d plans, error %v", got.Outcome, len(got.Plans), err)
			}
			plan := got.Plans[0]
			var boxed []graph.PartID
			for _, part := range slices.Concat(plan.Take, plan.Get) {
				if part.From == "box tin" {
					boxed = append(boxed, part.Part)
				}
			}
			slices.Sort(boxed)
			slices.Sort(tt.want)
			if !slices.Equal(boxed, tt.want) {
				t.Errorf("from the box come %v, want %v", boxed, tt.want)
			}
			if plan.Cost.Parts != tt.toFind || plan.Cost.Changes != tt.changed {
				t.Errorf("%d to find, %d places changed; want %d and %d", plan.Cost.Parts, plan.Cost.Changes, tt.toFind, tt.changed)
			}
		})
	}
}

// Two calipers are asked for that lie in a box with brackets which carry them. Both come from
// there, and the brackets as far as they reach: what the plan costs is then the brake lever
// blade for 12 EUR, the mirror adapter for 9 EUR, and each bracket that is not there for 48 EUR.
// Identified by eye alone none of it is taken; the plan that is found first then leaves nothing
// unknown, and packs the blade with washers.
func TestAskedForAndAdaptersComeOutOfBoxes(t *testing.T) {
	const left, right, bracket = "Tarnholt 207.7412", "Tarnholt 207.7413", "Varnhegg 31-204.1"
	for _, tt := range []struct {
		brackets int
		sure     string
		money    string
		boxed    int
	}{{2, "number read", "21 EUR", 2}, {1, "number read", "69 EUR", 1}, {2, "by eye", "105 EUR", 0}} {
		facts := demotest.Facts(t)
		facts.Bikes = slices.Clone(facts.Bikes)
		own := &facts.Bikes[slices.IndexFunc(facts.Bikes, func(b graph.Bike) bool { return b.ID == "grey-gull" })]
		own.Planned = nil
		own.Boxes = []graph.Box{{Name: "tin", Items: []graph.BoxItem{{Part: left, Quantity: 1, Sure: tt.sure},
			{Part: right, Quantity: 1, Sure: tt.sure}, {Part: bracket, Quantity: tt.brackets, Sure: tt.sure}}}}
		r := readertest.New(facts)
		q := donor.DonorQuestion{On: "grey-gull", Boxes: true, Time: time.Minute, Swaps: []swap.Replacement{
			{Position: "front-brake/caliper-left", Part: left}, {Position: "front-brake/caliper-right", Part: right}}}
		got, err := donor.Donor(t.Context(), r, q)
		if err != nil || len(got.Plans) == 0 {
			t.Fatal(got.Outcome, err)
		}
		plan, calipers, brackets := got.Plans[0], 0, 0
		for _, part := range plan.Get {
			if part.From == "box tin" {
				calipers++
			}
		}
		for _, g := range plan.Make {
			if g.Part == bracket && g.Box == "tin" {
				brackets++
			}
		}
		list, err := donor.Shop(t.Context(), r, q, plan)
		if err != nil {
			t.Fatal(err)
		}
		there := map[graph.PartID]int{}
		for _, from := range list.FromBoxes {
			there[from.Part] += from.Quantity
		}
		proved := tt.sure == "number read"
		if plan.Cost.Money != tt.money || (calipers == 2) != proved || brackets != tt.boxed ||
			(there[left]+there[right] == 2) != proved || there[bracket] != tt.boxed {
			t.Errorf("%d brackets, %s: %s, from the box %d calipers and %d brackets, on the list %v", tt.brackets, tt.sure,
				plan.Cost.Money, calipers, brackets, there)
		}
	}
}
