package bike

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
)

// AssemblyLine is how far one assembly of a machine is, counted in positions.
type AssemblyLine struct {
	Assembly graph.AssemblyID `json:"assembly"`
	Name     string           `json:"name"`
	Places   int              `json:"places"`
	// On is how many hold what shall be there, Look how many of those hold a piece that is
	// to be looked at first; Scrap how many hold what must not be used.
	On    int `json:"on"`
	Look  int `json:"look,omitempty"`
	Scrap int `json:"scrap,omitempty"`
	// AtHand is how many boxes and bags can fill, Check how many of those want a
	// look first: what was identified by eye where safety hangs on it, and what nobody
	// can tell yet whether it goes there.
	AtHand int `json:"at_hand"`
	Check  int `json:"check,omitempty"`
	// Refused is how many have something meant for them that does not go there.
	Refused int `json:"refused,omitempty"`
	Short   int `json:"short"` // how many want something that is not there
	// Open is how many are empty and no source says what belongs there.
	Open int `json:"open,omitempty"`
}

// Whole reports whether nothing of the assembly is missing, or to be looked at first.
func (l AssemblyLine) Whole() bool { return l.On == l.Places && l.Look == 0 }

// progress counts how far each assembly is, in the order of the identities.
func progress(ctx context.Context, w *work) ([]AssemblyLine, error) {
	assemblies, err := w.r.AssembliesOf(ctx, w.setup.Variant.Model)
	if err != nil {
		return nil, err
	}
	byID := map[graph.AssemblyID]*AssemblyLine{}
	for _, a := range assemblies {
		byID[a.ID] = &AssemblyLine{Assembly: a.ID, Name: a.Name}
		if a.Name == "" {
			byID[a.ID].Name = a.ID.Local()
		}
	}
	wanted := map[graph.PositionID]int{}
	for i, one := range w.wants {
		wanted[one.position.ID] = i
	}
	doubtful := w.doubtful()
	for _, p := range w.positions {
		if slices.Contains(w.within, p.ID) {
			continue
		}
		line := byID[p.Assembly]
		if line == nil {
			line = &AssemblyLine{Assembly: p.Assembly, Name: p.Assembly.Local()}
			byID[p.Assembly] = line
		}
		line.Places++
		i, isWanted := wanted[p.ID]
		if !isWanted {
			line.On++
			if slices.ContainsFunc(doubtful, func(row LookFirst) bool { return row.Position == p.ID }) {
				line.Look++
			}
			continue
		}
		if w.wants[i].scrap != "" {
			line.Scrap++
		}
		switch supplyOf(w, i) {
		case supplyReady:
			line.AtHand++
		case supplyCheck:
			line.AtHand++
			line.Check++
		case supplyRefuse:
			line.Refused++
		case supplyOpen:
			line.Open++
		default:
			line.Short++
		}
	}
	kept := lists.Kept(lists.KeysOf(byID), func(id graph.AssemblyID) bool { return byID[id].Places > 0 })
	return lists.Mapped(kept, func(id graph.AssemblyID) AssemblyLine { return *byID[id] }), nil
}

// How a want is supplied out of boxes and bags.
const (
	supplyReady = "at hand"
	// identified by eye, and safety hangs on it; or nobody can tell whether it goes there
	supplyCheck = "check first"
	supplyShort = "to get"
	supplyOpen  = "not known" // no source says what belongs there
	// what would go there does not go with what is around it as it is, and not all that
	// would have it go there lies in the boxes
	supplyRefuse = "does not fit"
)

// supplyOf says how boxes and bags supply a want, everything tried on already.
func supplyOf(w *work, want int) string {
	one := w.wants[want]
	if one.part == "" {
		return supplyOpen
	}
	row := w.gifts(want)
	got, sure := 0, true
	for _, use := range row {
		got += use.Quantity
		sure = sure && graph.IsSure(use.Sure)
	}
	worst := settled(w.allAgainst(want))
	gets, refused := w.closers(want)
	switch {
	case refused != "" || !w.allInBoxes(gets):
		return supplyRefuse
	case got < one.quantity:
		return supplyShort
	case one.position.Safety != "" && !sure || worst >= graph.Unknown:
		return supplyCheck
	}
	return supplyReady
}
