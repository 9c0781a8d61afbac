// Package contents lists what a graph holds: its models, assemblies, positions,
// kinds of part, sources, bikes and jobs, so that a person can see what may be asked
// for. It judges nothing. The door is List.
package contents

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries"
	"matewell/queries/lists"
)

// The sorts of thing that can be listed.
const (
	Models     = "models"
	Assemblies = "assemblies"
	Positions  = "positions"
	Kinds      = "kinds"
	Sources    = "sources"
	Bikes      = "bikes"
	Jobs       = "jobs"
)

// Sorts are all that can be listed.
func Sorts() []string { return []string{Models, Assemblies, Positions, Kinds, Sources, Bikes, Jobs} }

// Question asks for a list.
type Question struct {
	// Sort is one of Sorts; empty asks how many there are of each.
	Sort string
	On   string // only of this machine, for assemblies and positions; may be empty
	// Words narrows the list to what goes by all of them; may be empty.
	Words string
}

// Answer is a list, or how many there are of each sort.
type Answer struct {
	Sort   string  `json:"sort,omitempty"`
	On     string  `json:"on,omitempty"` // the machine, when one was asked for
	Counts []Count `json:"counts,omitempty"`
	Items  []Item  `json:"items"` // sorted by identity
}

// Count says how many there are of a sort.
type Count struct {
	Sort string `json:"sort"`
	N    int    `json:"count"`
}

// Item is one thing of a list. What a sort has not is empty.
type Item struct {
	ID   string `json:"id"`   // as it is asked for
	Name string `json:"name"` // in words
	// Of is the model an assembly or position belongs to, and the variant a bike
	// was built as.
	Of     graph.ModelID `json:"of,omitempty"`
	Kind   string        `json:"kind,omitempty"`  // of part, or of source
	Years  string        `json:"years,omitempty"` // model years, 2001-2006
	In     []string      `json:"in,omitempty"`    // markets
	Safety graph.Safety  `json:"safety,omitempty"`
	// Places counts the positions of a model, assembly or kind, and is the
	// quantity at a position; Parts counts the parts of a kind.
	Places int    `json:"places,omitempty"`
	Parts  int    `json:"parts,omitempty"`
	Date   string `json:"date,omitempty"`
}

// longWord is more letters than a word of the trade has.
const longWord = 60

// List answers what there is. Errors are *queries.NotFoundError for a sort or
// machine that there is not, or come from the reader.
func List(ctx context.Context, r graph.Reader, q Question) (Answer, error) {
	a := Answer{Sort: q.Sort, Items: []Item{}}
	l := lister{ctx: ctx, r: r}
	if err := l.choose(q, &a); err != nil {
		return a, err
	}
	var err error
	switch q.Sort {
	case "":
		a.Counts, err = l.counts()
	case Models:
		a.Items, err = l.models()
	case Assemblies:
		a.Items, err = l.assemblies()
	case Positions:
		a.Items, err = l.positions()
	case Kinds:
		a.Items, err = l.kinds()
	case Sources:
		a.Items, err = l.sources()
	case Bikes:
		a.Items, err = l.bikes()
	case Jobs:
		a.Items, err = l.jobs()
	default:
		missing := queries.NotFound("list", q.Sort, "", Sorts())
		missing.Hint = "there are lists of " + strings.Join(Sorts(), ", ")
		if len(q.Sort) <= longWord {
			missing.Hint += "; a word alone is found by: matewell find " + q.Sort
		}
		err = missing
	}
	if words := queries.Words(q.Words); len(words) > 0 {
		a.Items = lists.Kept(a.Items, func(i Item) bool { return queries.HasWords(words, i.ID, i.Name, i.Kind) })
	}
	if a.Items == nil {
		a.Items = []Item{}
	}
	return a, err
}

// lister reads one list. only are the variants asked for; nil is all.
type lister struct {
	ctx    context.Context
	r      graph.Reader
	chosen []graph.ModelID
	only   []graph.VariantID
}

func (l *lister) choose(q Question, a *Answer) error {
	if q.On != "" {
		m, err := queries.MachinesFor(l.ctx, l.r, queries.MachineQuestion{On: q.On})
		if err != nil {
			return err
		}
		l.chosen, l.only, a.On = []graph.ModelID{m.Model}, m.IDs(), q.On
		return nil
	}
	models, err := l.r.Models(l.ctx)
	l.chosen = lists.Mapped(models, func(m graph.Model) graph.ModelID { return m.ID })
	return err
}

func (l *lister) counts() ([]Count, error) {
	counts := []Count{{Models, len(l.chosen)}}
	places, err := l.placeIDs()
	if err != nil {
		return nil, err
	}
	assemblies := lists.Unique(lists.Mapped(places, func(id graph.PositionID) graph.AssemblyID { return id.Assembly() }))
	counts = append(counts, Count{Assemblies, len(assemblies)}, Count{Positions, len(places)})
	kinds, err := l.r.Kinds(l.ctx)
	if err != nil {
		return nil, err
	}
	counts = append(counts, Count{Kinds, len(kinds)})
	for _, sort := range []struct {
		name string
		read func() ([]Item, error)
	}{{Sources, l.sources}, {Bikes, l.bikes}, {Jobs, l.jobs}} {
		items, err := sort.read()
		if err != nil {
			return nil, err
		}
		counts = append(counts, Count{sort.name, len(items)})
	}
	parts, err := l.r.PartIDs(l.ctx)
	return append(counts, Count{"parts", len(parts)}), err
}

func (l *lister) models() ([]Item, error) {
	models, err := l.r.Models(l.ctx, l.chosen...)
	if err != nil || len(l.chosen) == 0 {
		return nil, err
	}
	variants, err := l.r.VariantsOf(l.ctx, l.chosen...)
	if err != nil {
		return nil, err
	}
	of := map[graph.ModelID][]graph.Variant{}
	for _, v := range variants {
		of[v.Model] = append(of[v.Model], v)
	}
	places, err := l.r.PositionIDs(l.ctx, l.chosen...)
	if err != nil {
		return nil, err
	}
	n := map[graph.ModelID]int{}
	for _, id := range places {
		n[id.Model()]++
	}
	var items []Item
	for _, m := range models {
		item := Item{ID: string(m.ID), Name: strings.TrimSpace(string(m.Maker) + " " + m.Name), Places: n[m.ID]}
		var years measure.Years
		for _, v := range of[m.ID] {
			if years.From == 0 || v.Year < years.From {
				years.From = v.Year
			}
			years.To = max(years.To, v.Year)
			item.In = append(item.In, v.Market)
		}
		item.Years, item.In = yearsText(years), lists.Unique(item.In)
		items = append(items, item)
	}
	return items, nil
}

func yearsText(y measure.Years) string {
	if y.From == y.To {
		return fmt.Sprint(y.From)
	}
	return fmt.Sprintf("%d-%d", y.From, y.To)
}

func (l *lister) assemblies() ([]Item, error) {
	if len(l.chosen) == 0 {
		return nil, nil
	}
	assemblies, err := l.r.AssembliesOf(l.ctx, l.chosen...)
	if err != nil {
		return nil, err
	}
	places, err := l.placeIDs()
	if err != nil {
		return nil, err
	}
	n := map[graph.AssemblyID]int{}
	for _, id := range places {
		n[id.Assembly()]++
	}
	var items []Item
	for _, a := range assemblies {
		if n[a.ID] > 0 {
			items = append(items, Item{ID: a.ID.Local(), Name: a.Name, Of: a.Model, Places: n[a.ID]})
		}
	}
	return items, nil
}

// places are the positions of the machines asked for.
func (l *lister) places() ([]graph.Position, error) {
	if len(l.chosen) == 0 {
		return nil, nil
	}
	if l.only == nil {
		return l.r.PositionsOf(l.ctx, l.chosen...)
	}
	return queries.PlacesOn(l.ctx, l.r, l.chosen[0], l.only)
}

// placeIDs are their identities: of a whole set, they are read without the positions.
func (l *lister) placeIDs() ([]graph.PositionID, error) {
	if l.only == nil {
		return l.r.PositionIDs(l.ctx, l.chosen...)
	}
	places, err := l.places()
	return lists.Mapped(places, func(p graph.Position) graph.PositionID { return p.ID }), err
}

func (l *lister) positions() ([]Item, error) {
	places, err := l.places()
	return lists.Mapped(places, func(p graph.Position) Item {
		return Item{ID: p.ID.Local(), Name: p.Name, Of: p.Model, Kind: string(p.Kind), Safety: p.Safety, Places: p.Quantity}
	}), err
}

func (l *lister) kinds() ([]Item, error) {
	kinds, err := l.r.Kinds(l.ctx)
	if err != nil {
		return nil, err
	}
	var items []Item
	for _, k := range kinds {
		parts, err := l.r.PartsOfKind(l.ctx, k.ID)
		if err != nil {
			return nil, err
		}
		places, err := l.r.PositionsOfKind(l.ctx, k.ID)
		if err != nil {
			return nil, err
		}
		items = append(items, Item{ID: string(k.ID), Name: k.Name, Safety: k.Safety, Parts: len(parts), Places: len(places)})
	}
	return items, nil
}

func (l *lister) sources() ([]Item, error) {
	sources, err := l.r.Sources(l.ctx)
	return lists.Mapped(sources, func(s graph.Source) Item {
		return Item{ID: string(s.ID), Name: s.Title, Kind: string(s.Kind), Date: s.Date}
	}), err
}

func (l *lister) bikes() ([]Item, error) {
	bikes, err := l.r.Bikes(l.ctx)
	items := lists.Mapped(bikes, func(b graph.Bike) Item {
		return Item{ID: string(b.ID), Name: "built as " + string(b.Variant), Of: b.Variant.Model()}
	})
	slices.SortFunc(items, func(a, b Item) int { return cmp.Compare(a.ID, b.ID) })
	return items, err
}

// jobs are those written for the models, and those for any machine: of a machine that
// was named those alone that have something to do there.
func (l *lister) jobs() ([]Item, error) {
	jobs, err := l.r.Jobs(l.ctx)
	if err == nil && l.only != nil {
		var places []graph.Position
		places, err = l.places()
		jobs = graph.JobsAt(jobs, places)
	}
	items := []Item{}
	for _, j := range jobs {
		item := Item{ID: string(j.ID), Name: j.Name}
		at := slices.IndexFunc(j.Places, func(p graph.PositionID) bool { return slices.Contains(l.chosen, p.Model()) })
		if at >= 0 {
			item.Of = j.Places[at].Model()
		}
		if at >= 0 || len(j.Kinds) > 0 {
			items = append(items, item)
		}
	}
	return items, err
}
