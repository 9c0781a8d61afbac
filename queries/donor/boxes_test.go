package donor_test

import (
	"context"
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/readertest"
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
