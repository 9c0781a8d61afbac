package bike

import (
	"fmt"
	"testing"

	"matewell/graph"
	"matewell/queries/machine"
)

// BenchmarkBags places 2,000 pieces in 300 bags against 1,500 places of 60
// assemblies: a restorer's shed. A whole answer is to take less than 2 s.
func BenchmarkBags(b *testing.B) {
	table := func() *bagTable {
		t := &bagTable{ownMachine: &ownMachine{setup: machine.StartIn(machine.NewLibrary(nil), graph.Variant{}, "")}}
		for i := range 1500 {
			_, part := hardware(10 + i%40)
			id := graph.PositionID(fmt.Sprintf("m:a%d/bolt-%d", i%60, i))
			t.slots = append(t.slots, slot{position: graph.Position{ID: id, Assembly: id.Assembly(),
				Name: fmt.Sprintf("bolt %d", i),
				Kind: "bolt"}, part: part, size: sizeOf(part), quantity: 1 + i%3})
			t.left = append(t.left, 1+i%3)
		}
		t.group(nil)
		left := 2000
		for i := range 300 {
			bag := graph.Bag{Name: fmt.Sprintf("bag-%d", i)}
			for j := range 3 {
				item, _ := hardware(10 + (i+7*j)%44)
				item.Quantity = min(left, 2+(i+j)%2)
				if left -= item.Quantity; item.Quantity > 0 {
					bag.Contents = append(bag.Contents, item)
				}
			}
			t.bike.Bags = append(t.bike.Bags, bag)
		}
		return t
	}
	for b.Loop() {
		table().placeBags()
	}
}
