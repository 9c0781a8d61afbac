package shop

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// Sold is the number to order for one that is wanted.
type Sold struct {
	Part   graph.PartID           // the one that is sold today, else the one that was wanted
	Gone   bool                   // neither it nor what may take its place is sold
	With   []evidence.ContentLine // what must be changed with it, for one piece
	Remark string                 // why it is another; may be empty
}

// SoldAs tells as what numbers are sold today for one machine; a frame number may be
// empty. Errors come from the reader.
func SoldAs(ctx context.Context, r graph.Reader, on graph.Variant, frame string,
	parts ...graph.PartID) (map[graph.PartID]Sold, error) {
	m := &maker{r: r, q: Question{On: on, Frame: frame}, parts: map[graph.PartID]graph.Part{}}
	m.q.Needs = lists.Mapped(parts, func(id graph.PartID) Need { return Need{Part: id, Quantity: 1} })
	err := readLines(ctx, m)
	if err != nil {
		return nil, err
	}
	sold := map[graph.PartID]Sold{}
	for _, id := range parts {
		if sold[id], err = currentNumber(ctx, m, id, nil); err != nil {
			return nil, err
		}
	}
	return sold, nil
}

// readLines reads the supersessions around what is needed, and the parts on them.
func readLines(ctx context.Context, m *maker) error {
	ids := lists.Mapped(m.q.Needs, func(n Need) graph.PartID { return n.Part })
	for _, r := range m.q.Refused {
		ids = append(ids, r.Part)
	}
	edges, err := evidence.EdgesAround(ctx, m.r, lists.Unique(slices.Clone(ids)))
	if err != nil {
		return err
	}
	for _, e := range edges {
		ids = append(ids, e.Old, e.New)
		for _, c := range e.Companions {
			ids = append(ids, c.Part)
		}
	}
	if err := readParts(ctx, m, ids); err != nil {
		return err
	}
	// A companion may have been superseded itself.
	further, err := evidence.EdgesAround(ctx, m.r, lists.KeysOf(m.parts))
	if err != nil {
		return err
	}
	m.ways = evidence.NewWalker(further).On(m.q.On, m.q.Frame)
	var ends []graph.PartID
	for _, e := range further {
		ends = append(ends, e.Old, e.New)
		for _, c := range e.Companions {
			ends = append(ends, c.Part)
		}
	}
	return readParts(ctx, m, ends)
}

func readParts(ctx context.Context, m *maker, ids []graph.PartID) error {
	fresh := lists.Kept(lists.Unique(slices.Clone(ids)), func(id graph.PartID) bool {
		_, have := m.parts[id]
		return !have && id != ""
	})
	if len(fresh) == 0 {
		return nil
	}
	parts, err := m.r.Parts(ctx, fresh...)
	for _, p := range parts {
		m.parts[p.ID] = p
	}
	return err
}

// currentNumber finds the number to order. A number that was superseded is sold no
// more; of those that may take its place here the latest that is sold is
// ordered, at least with other parts. That it may not, that nobody says so, or that it
// does not mate at one of the places where it goes, leaves the old number to be looked for.
func currentNumber(ctx context.Context, m *maker, part graph.PartID, at []graph.PositionID) (Sold, error) {
	if len(m.ways.ByOld[part]) == 0 {
		return Sold{Part: part, Gone: m.parts[part].Gone}, nil
	}
	best, refused := Sold{Part: part, Gone: true}, ""
	length := 0
	for _, c := range m.ways.From(part) {
		if !c.Newer {
			continue
		}
		if !m.ways.Allows(c) {
			refused = fmt.Sprintf("%s %s", c.Target, c.Why())
			continue
		}
		if m.parts[c.Target].Gone || len(m.ways.ByOld[c.Target]) > 0 && reachesOn(m, c.Target) || len(c.Edges) <= length {
			continue
		}
		against, err := m.against(ctx, c, at)
		if err != nil {
			return best, err
		}
		if against != "" {
			refused = against
			continue
		}
		length = len(c.Edges)
		best = Sold{Part: c.Target, Remark: c.Why()}
		for _, e := range c.Edges {
			best.With = append(best.With, lists.Mapped(e.Companions,
				func(c graph.Content) evidence.ContentLine {
					return evidence.ContentLine{Part: c.Part, Quantity: c.Quantity}
				})...)
		}
	}
	if best.Gone {
		best.Remark = refused
	}
	return best, nil
}

// reachesOn reports whether a number was itself superseded by one that may take
// its place here: then that one is ordered.
func reachesOn(m *maker, part graph.PartID) bool {
	return slices.ContainsFunc(m.ways.From(part), func(c evidence.Lineage) bool {
		return c.Newer && m.ways.Allows(c) && !m.parts[c.Target].Gone
	})
}

// Wanted is what is sold no more.
type Wanted struct {
	Part     graph.PartID       `json:"part"`
	Name     string             `json:"name,omitempty"`
	Quantity int                `json:"quantity"`
	At       []graph.PositionID `json:"at,omitempty"`
	Safety   graph.Safety       `json:"safety,omitempty"`
	Why      []string           `json:"why"`
	Remarks  []string           `json:"remarks,omitempty"`
	// Numbers are every number under which it may be found: its own, those that may
	// take its place here, their other marks. Kits hold it; Machines have it.
	Numbers  []string       `json:"numbers"`
	Kits     []graph.PartID `json:"kits,omitempty"`
	Machines []string       `json:"machines,omitempty"`
	Line     string         `json:"line"` // all of it in one line, to paste
}

// secondHand lists what is sold no more.
func secondHand(ctx context.Context, m *maker) ([]Wanted, error) {
	all := []Wanted{}
	for _, id := range lists.KeysOf(m.wanted) {
		w := m.wanted[id]
		if !w.gone {
			continue
		}
		one := Wanted{Part: id, Name: m.parts[id].Name, Quantity: w.quantity, At: lists.Unique(w.at), Safety: w.safety,
			Why: lists.Unique(w.why), Remarks: lists.Unique(w.remarks)}
		may := mayGo(m, id)
		if err := readParts(ctx, m, may); err != nil {
			return nil, err
		}
		for _, number := range may {
			one.Numbers = append(one.Numbers, spellings(m, number)...)
		}
		var err error
		if one.Kits, err = m.r.KitsWith(ctx, may...); err != nil {
			return nil, err
		}
		if one.Machines, err = machines(ctx, m, may); err != nil {
			return nil, err
		}
		words := []string{cmp.Or(one.Name, string(id)), strings.Join(one.Numbers, ", ")}
		if len(one.Kits) > 0 {
			words = append(words, "in kit "+strings.Join(lists.Mapped(one.Kits,
				func(k graph.PartID) string { return string(k) }), ", "))
		}
		if len(one.Machines) > 0 {
			words = append(words, "on "+strings.Join(one.Machines, "; "))
		}
		one.Line = strings.Join(words, " | ")
		all = append(all, one)
	}
	slices.SortStableFunc(all, func(a, b Wanted) int { return cmp.Compare(a.Safety.Place(), b.Safety.Place()) })
	return all, nil
}

// mayGo are the part itself and all that may take its place here, newer or older.
func mayGo(m *maker, part graph.PartID) []graph.PartID {
	may := []graph.PartID{part}
	for _, c := range m.ways.From(part) {
		if m.ways.Allows(c) && !slices.Contains(may, c.Target) {
			may = append(may, c.Target)
		}
	}
	return may
}

// spellings are a number as its brand writes it, without what parts its groups,
// and its other marks.
func spellings(m *maker, id graph.PartID) []string {
	texts := []string{string(id)}
	if plain := graph.NumberKey(id.Number()); plain != "" && !strings.EqualFold(plain, id.Number()) {
		texts = append(texts, plain)
	}
	for _, a := range m.parts[id].Aliases {
		if a.Type != graph.AliasSize {
			texts = append(texts, a.Text)
		}
	}
	return texts
}

// machines are those on which some parts are listed, in words.
func machines(ctx context.Context, m *maker, parts []graph.PartID) ([]string, error) {
	fitments, err := m.r.FitmentsOf(ctx, parts...)
	if err != nil || len(fitments) == 0 {
		return nil, err
	}
	var on []graph.VariantID
	for _, f := range fitments {
		on = append(on, f.On...)
	}
	on = lists.Unique(on)
	models := lists.Unique(lists.Mapped(on, func(id graph.VariantID) graph.ModelID { return id.Model() }))
	universe, err := m.r.VariantIDs(ctx, models...)
	return lists.Mapped(queries.CoveragesOf(on, queries.UniverseOf(universe)), func(c queries.Coverage) string {
		return strings.TrimSpace(string(c.Model) + " " + c.String())
	}), err
}
