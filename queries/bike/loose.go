package bike

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// LoosePart is hardware that does not belong to its bag's place, with what it
// may be.
type LoosePart struct {
	Item     string `json:"item"`
	Quantity int    `json:"quantity"`
	// Here are positions of this machine that take it, Elsewhere where other
	// machines have it; the second only when there is no first.
	Here      []graph.PositionID `json:"here,omitempty"`
	Elsewhere []evidence.Use     `json:"elsewhere,omitempty"`
	// Parts are the numbers with these measurements, sorted.
	Parts []graph.PartID `json:"parts,omitempty"`
	// Suits are threads of parts that were found on the machine and are not the
	// book's: hardware of another machine may belong to them.
	Suits []string `json:"suits,omitempty"`
	// Unread are dimensions that would tell the candidates apart.
	Unread []string `json:"unread,omitempty"`
	Text   string   `json:"text"` // all of it in a phrase
}

// looseTable is the known hardware of the kinds that lie in bags.
type looseTable struct {
	parts []graph.Part
	uses  map[graph.PartID][]evidence.Use
}

// looseParts reads the known hardware of the kinds that lie in bags.
func (m *ownMachine) looseParts(ctx context.Context) (looseTable, error) {
	var t looseTable
	var kinds []graph.KindID
	for _, bag := range m.bike.Bags {
		for _, item := range bag.Contents {
			kinds = append(kinds, item.Kind)
		}
	}
	if len(kinds) == 0 {
		return t, nil
	}
	ids, err := m.r.PartsOfKind(ctx, lists.Unique(kinds)...)
	if err != nil || len(ids) == 0 {
		return t, err
	}
	l := m.setup.Library()
	if err := l.ReadParts(ctx, ids); err != nil {
		return t, err
	}
	var some []graph.PartID
	for _, id := range ids {
		p, _ := l.Ranked(id, &m.setup.Variant)
		t.parts = append(t.parts, p)
		if m.inAnyBag(p) {
			some = append(some, id)
		}
	}
	t.uses, err = evidence.UsesOf(ctx, m.r, some)
	return t, err
}

func (m *ownMachine) inAnyBag(p graph.Part) bool {
	return slices.ContainsFunc(m.bike.Bags, func(bag graph.Bag) bool {
		return slices.ContainsFunc(bag.Contents, func(item graph.BagItem) bool {
			return compareHardware(item, p.Kind, sizeOf(p)).same
		})
	})
}

// looseLine says what pieces of a bag may be that its place does not take.
func (t *bagTable) looseLine(item graph.BagItem, over int, place *BagPlace, loose looseTable) LoosePart {
	line := LoosePart{Item: hardwareText(item), Quantity: over}
	for _, s := range t.slots {
		if l := compareHardware(item, s.part.Kind, s.size); l.same && (place == nil ||
			!slices.Contains(place.Positions, s.position.ID)) {
			line.Here = append(line.Here, s.position.ID)
			line.Unread = append(line.Unread, l.unread...)
		}
	}
	full := false
	if place != nil {
		full = slices.ContainsFunc(t.groups[place.group].slots, func(s int) bool {
			return compareHardware(item, t.slots[s].part.Kind, t.slots[s].size).same
		})
	}
	for _, p := range loose.parts {
		l := compareHardware(item, p.Kind, sizeOf(p))
		if !l.same {
			continue
		}
		line.Parts = append(line.Parts, p.ID)
		line.Unread = append(line.Unread, l.unread...)
		if len(line.Here) == 0 && !full {
			line.Elsewhere = append(line.Elsewhere, loose.uses[p.ID]...)
		}
	}
	line.Unread = lists.Unique(line.Unread)
	line.Suits = t.suits(item)
	line.Text = looseText(line, full)
	return line
}

// suits are the threads of found parts that take a male thread and that the
// book's part has otherwise.
func (t *bagTable) suits(item graph.BagItem) []string {
	text := item.Dims["thread"]
	var all []string
	for _, f := range t.bike.Found {
		found, built := t.setup.Library().Part(f.Part), t.setup.Library().Part(t.builtPart(f.Position))
		for _, feature := range found.Features {
			takes := feature.Kind == "port" == (item.Kind == "banjo-bolt") && feature.Kind != "male-thread"
			if text == "" || !takes || !hasThread(feature, text) {
				continue
			}
			if same, ok := built.Feature(feature.Name); !ok || !hasThread(same, text) {
				all = append(all, fmt.Sprintf("%s of %s, found at %s", feature.Name, f.Part, f.Position.Local()))
			}
		}
	}
	return all
}

func hasThread(f graph.Feature, text string) bool {
	return slices.ContainsFunc(f.Dims["thread"],
		func(r graph.Reading) bool { return alike("thread", measure.Thread, r.Text, text) })
}

// looseText says what loose hardware may be.
func looseText(line LoosePart, full bool) string {
	switch {
	case full && len(line.Here) == 0:
		return "more than its place takes"
	case full:
		return "more than its place takes; the same goes to " + placesText(line.Here)
	case len(line.Here) > 0:
		return "goes to " + placesText(line.Here)
	case len(line.Suits) > 0 && !full:
		return "nothing the book lists here takes it; it suits the " + strings.Join(line.Suits, ", the ")
	case len(line.Elsewhere) > 0:
		on := []string{}
		at := []graph.PositionID{}
		for _, use := range line.Elsewhere {
			on, at = append(on, string(use.Coverage.Model)+" "+use.Covers), append(at, use.Position)
		}
		return "foreign: nothing here takes it; on " + strings.Join(lists.Unique(on),
			"; ") + " it is at " + placesText(lists.Unique(at))
	case len(line.Parts) > 0:
		return "known as " + string(line.Parts[0]) + ", which no machine lists"
	}
	return "no number in the graph has these measurements"
}
