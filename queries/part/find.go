package part

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// FindQuestion asks what an unlabelled part may be, from what was measured on
// it.
type FindQuestion struct {
	// Text is a kind of part or feature, then what was measured: "bearing
	// inside=17 mm outside=40 mm", "bolt thread=M8x1.25 length=25 mm". The kind
	// may be left out. Words without a measure ask for what goes by them.
	Text string
	On   string // only parts listed on these machines, as MachineQuestion.On; may be empty
	// All asks for every part and place; else only the first are given.
	All bool
}

// FindAnswer lists parts that match.
type FindAnswer struct {
	Asked []AskedDim `json:"asked"`
	// Parts are those that match in all that was measured, then those of which
	// some of it is not recorded, fewest first. Of equals, those that are listed
	// on some machine come first.
	Parts []FoundPart `json:"parts"`
	// MoreParts counts those that match and are not given.
	MoreParts int `json:"more_parts,omitempty"`
	// Close are parts that miss in one dimension only, nearest first; given
	// when nothing matches.
	Close []FoundPart `json:"close,omitempty"`
	// Places are those that go by the words, when nothing was measured.
	Places []FoundPlace `json:"places,omitempty"`
	// MorePlaces counts those that are not listed.
	MorePlaces int `json:"more_places,omitempty"`
	// MoreModels counts models that have places with such words too, and of which
	// none was looked at.
	MoreModels int `json:"more_models,omitempty"`
}

// FoundPlace is a place that goes by the words.
type FoundPlace struct {
	Position graph.PositionID `json:"position"`
	Name     string           `json:"name"`
	Kind     graph.KindID     `json:"kind"`
}

// AskedDim is one dimension as asked.
type AskedDim struct {
	Dim   string `json:"dim"` // empty where only the value was said
	Value string `json:"value"`
}

// FoundPart is a part that may be the one in the hand.
type FoundPart struct {
	Part     graph.PartID `json:"part"`
	Name     string       `json:"name,omitempty"`
	Kind     graph.KindID `json:"kind"`
	Feature  string       `json:"feature,omitempty"`   // that was measured
	Matches  []string     `json:"matches"`             // "inside 17 mm"
	NotKnown []string     `json:"not_known,omitempty"` // what to look up or measure on a known one
	Off      []string     `json:"off,omitempty"`       // "outside 42 mm, 2 mm more"
	// Apart is what tells it from the others found: "class 10.9", "across-flats 13 mm".
	Apart []string `json:"apart,omitempty"`
	// Uses are where it is listed: the first of them, unless all was asked for.
	Uses []evidence.Use `json:"uses,omitempty"`
	// MoreListed counts the listings that Uses leaves out.
	MoreListed int `json:"more_listed,omitempty"`

	distance float64         // of what is off, as a share of what was asked
	asked    map[string]bool // dimensions that a measure was of, or was found to be
}

// maxFound is how many parts are given unasked: more nobody looks through.
const maxFound = 40

// maxListings is how many listings of a part are given unasked: of a bolt that goes
// anywhere nobody reads thousands.
const maxListings = 12

// maxClose is how many parts that only nearly match are given.
const maxClose = 5

// Find answers what a measured part may be. Errors are *NotFoundError for a
// kind or dimension that does not exist, *QuestionError for a value that can't
// be read, or come from the reader.
func Find(ctx context.Context, r graph.Reader, q FindQuestion) (FindAnswer, error) {
	a := FindAnswer{Asked: []AskedDim{}, Parts: []FoundPart{}}
	if !strings.Contains(q.Text, "=") {
		err := a.findNamed(ctx, r, q)
		if _, dims, none := splitFind(q.Text); none != nil || !errors.As(err, new(*queries.NotFoundError)) || len(dims) == 0 {
			return a, err
		}
	}
	want, err := readFind(ctx, r, q.Text)
	if err != nil {
		return a, err
	}
	for _, d := range want.dims {
		a.Asked = append(a.Asked, AskedDim{Dim: d.name, Value: d.text})
	}
	ids, err := r.PartsOfKind(ctx, want.partKinds...)
	if err != nil || len(ids) == 0 {
		return a, err
	}
	parts, err := r.Parts(ctx, ids...)
	if err != nil {
		return a, err
	}
	found, err := r.FindingsOf(ctx, ids...)
	if err != nil {
		return a, err
	}
	known := map[graph.PartID]graph.Part{}
	for _, p := range withMeasured(parts, found, want.kinds) {
		if len(want.nameWords) > 0 && !queries.HasWords(want.nameWords, p.Name, string(p.Kind)) {
			continue
		}
		known[p.ID] = p
		for _, f := range p.Features {
			if found, ok := want.match(p, f); ok {
				a.add(found)
			}
		}
	}
	if err := a.finish(ctx, r, q); err != nil {
		return a, err
	}
	want.tellApart(a.Parts, known)
	want.tellApart(a.Close, known)
	return a, nil
}

// maxPlaces is how many places that go by the words are listed.
const maxPlaces = 24

// findNamed finds parts and places by what a person calls them.
func (a *FindAnswer) findNamed(ctx context.Context, r graph.Reader, q FindQuestion) error {
	parts, err := queries.PartsNamed(ctx, r, q.Text)
	if err != nil {
		return err
	}
	a.addNamed(parts)
	places, more, err := placesNamed(ctx, r, q)
	if err != nil {
		return err
	}
	a.MoreModels = more
	if len(parts)+len(places) == 0 {
		if err := a.findNumbered(ctx, r, q); err != nil {
			return err
		}
		return a.finish(ctx, r, q)
	}
	if !q.All {
		a.MorePlaces = max(0, len(places)-maxPlaces)
	}
	for _, p := range places[:len(places)-a.MorePlaces] {
		a.Places = append(a.Places, FoundPlace{p.ID, p.Name, p.Kind})
	}
	return a.finish(ctx, r, q)
}

// findNumbered finds the parts that have the text for a number: a casting number is
// all that stands on many.
func (a *FindAnswer) findNumbered(ctx context.Context, r graph.Reader, q FindQuestion) error {
	found, err := queries.PartsFor(ctx, r, q.Text)
	if errors.As(err, new(*queries.NotFoundError)) {
		return notNamed(ctx, r, q.Text)
	}
	if err != nil {
		return err
	}
	parts, err := r.Parts(ctx, lists.Mapped(found, func(f queries.Found) graph.PartID { return f.Part })...)
	a.addNamed(parts)
	return err
}

func (a *FindAnswer) addNamed(parts []graph.Part) {
	for _, p := range parts {
		a.Parts = append(a.Parts, FoundPart{Part: p.ID, Name: p.Name, Kind: p.Kind, Matches: []string{}})
	}
}

// placesNamed are the places that go by the words, on the machines asked about
// or of all models; more counts the models whose places were not read any more,
// since enough had been found.
func placesNamed(ctx context.Context, r graph.Reader, q FindQuestion) (places []graph.Position, more int, err error) {
	words := queries.Words(q.Text)
	var models []graph.ModelID
	if q.On != "" {
		m, err := queries.MachinesFor(ctx, r, queries.MachineQuestion{On: q.On})
		if err != nil {
			return nil, 0, err
		}
		models = []graph.ModelID{m.Model}
	} else if models, err = r.ModelsWithWords(ctx, words...); err != nil {
		return nil, 0, err
	}
	var read []graph.Position
	for atOnce := 1; len(models) > 0 && (q.All || len(places) <= maxPlaces); atOnce = min(2*atOnce, modelsAtOnce) {
		n := min(atOnce, len(models))
		some, err := r.PositionsOf(ctx, models[:n]...)
		if err != nil {
			return nil, 0, err
		}
		read, models = append(read, some...), models[n:]
		places = queries.PositionsHolding(read, words)
	}
	return places, len(models), nil
}

// modelsAtOnce is of how many models at most the places are read before it is
// looked whether there are enough. Most often the first has them.
const modelsAtOnce = 16

// notNamed offers kinds of part whose name is near to what was typed.
func notNamed(ctx context.Context, r graph.Reader, typed string) error {
	kinds, err := r.Kinds(ctx)
	if err != nil {
		return err
	}
	var names []string
	for _, k := range kinds {
		names = append(names, string(k.ID), k.Name)
	}
	fault := queries.NotFound("part or place", typed, "", lists.Unique(names))
	fault.Hint = `ask by name, "lever", or by what was measured: "bearing inside=17 mm"`
	return fault
}

func (a *FindAnswer) add(f FoundPart) {
	switch {
	case len(f.Off) == 0 && len(f.Matches) > 0:
		a.Parts = append(a.Parts, f)
	case len(f.Off) == 1:
		a.Close = append(a.Close, f)
	}
}

// finish sorts, adds where the parts are listed, and drops those that are not
// on the machines asked about.
func (a *FindAnswer) finish(ctx context.Context, r graph.Reader, q FindQuestion) error {
	slices.SortFunc(a.Close, func(x, y FoundPart) int {
		return cmp.Or(cmp.Compare(len(x.NotKnown), len(y.NotKnown)), cmp.Compare(x.distance, y.distance),
			cmp.Compare(x.Part, y.Part))
	})
	if len(a.Parts) > 0 {
		a.Close = nil
	}
	a.Close = a.Close[:min(maxClose, len(a.Close))]
	l := listings{r: r, all: q.All}
	if err := l.count(ctx, a, q.On); err != nil {
		return err
	}
	a.sortParts(l.counts)
	if !q.All && len(a.Parts) > maxFound {
		a.Parts, a.MoreParts = a.Parts[:maxFound], len(a.Parts)-maxFound
	}
	uses, left, err := l.uses(ctx, partsOf(a.Parts, a.Close))
	if err != nil {
		return err
	}
	for _, some := range [][]FoundPart{a.Parts, a.Close} {
		for i := range some {
			id := some[i].Part
			some[i].Uses, some[i].MoreListed = uses[id], left[id]
		}
	}
	return nil
}

// listings reads where the parts that were found are listed.
type listings struct {
	r      graph.Reader
	all    bool
	counts map[graph.PartID]int
	// on is what is listed on the machines asked about; where none is, nil.
	on map[graph.PartID][]graph.Fitment
}

// count counts how often each part is listed, on the machines asked about if any
// are, and drops parts that are not listed there.
func (l *listings) count(ctx context.Context, a *FindAnswer, on string) (err error) {
	if on == "" {
		l.counts, err = l.r.FitmentCounts(ctx, partsOf(a.Parts, a.Close)...)
		return err
	}
	m, err := queries.MachinesFor(ctx, l.r, queries.MachineQuestion{On: on})
	if err != nil {
		return err
	}
	there, err := l.r.FitmentsOn(ctx, m.IDs()...)
	if err != nil {
		return err
	}
	l.counts, l.on = map[graph.PartID]int{}, map[graph.PartID][]graph.Fitment{}
	for _, f := range there {
		l.on[f.Part] = append(l.on[f.Part], f)
		l.counts[f.Part]++
	}
	elsewhere := func(f FoundPart) bool { return l.counts[f.Part] == 0 }
	a.Parts, a.Close = slices.DeleteFunc(a.Parts, elsewhere), slices.DeleteFunc(a.Close, elsewhere)
	return nil
}

// read gives the listings of parts, the first of each unless all are wanted.
func (l *listings) read(ctx context.Context, parts []graph.PartID) ([]graph.Fitment, error) {
	switch {
	case l.on != nil:
		var given []graph.Fitment
		for _, id := range parts {
			given = append(given, l.on[id]...)
		}
		return given, nil
	case l.all:
		return l.r.FitmentsOf(ctx, parts...)
	}
	return l.r.FitmentsUpTo(ctx, maxListings, parts...)
}

// uses gives where counted parts are listed, and how many listings of each that leaves out.
func (l *listings) uses(ctx context.Context, parts []graph.PartID) (uses map[graph.PartID][]evidence.Use,
	left map[graph.PartID]int, err error) {
	given, err := l.read(ctx, parts)
	if err != nil {
		return nil, nil, err
	}
	left = maps.Clone(l.counts)
	for _, f := range given {
		left[f.Part]--
	}
	uses, err = evidence.UsesIn(ctx, l.r, given)
	return uses, left, err
}

// partsOf are the parts of lists, each once.
func partsOf(found ...[]FoundPart) []graph.PartID {
	return lists.Unique(lists.Mapped(slices.Concat(found...), func(f FoundPart) graph.PartID { return f.Part }))
}

// sortParts puts first what the thing in the hand most likely is: of bolts of
// one thread, those that machines are listed with, before sizes that are only sold.
func (a *FindAnswer) sortParts(listed map[graph.PartID]int) {
	unlisted := func(f FoundPart) int {
		if listed[f.Part] > 0 {
			return 0
		}
		return 1
	}
	slices.SortFunc(a.Parts, func(x, y FoundPart) int {
		return cmp.Or(cmp.Compare(len(x.NotKnown), len(y.NotKnown)), cmp.Compare(unlisted(x), unlisted(y)),
			cmp.Compare(x.Part, y.Part), cmp.Compare(x.Feature, y.Feature))
	})
}

// compare takes the value asked as read off the usual gauge: a part matches
// when any of its readings can't be told from it.
func (f *FoundPart) compare(spec graph.DimSpec, d wantedDim, readings []graph.Reading) {
	if len(readings) == 0 {
		f.NotKnown = append(f.NotKnown, fmt.Sprintf("%s (%s)", d.name, evidence.GaugeText(spec)))
		return
	}
	if agreed, ok := agreeing(spec, d, readings); ok {
		f.Matches = append(f.Matches, d.name+" "+agreed.Text)
		return
	}
	text, distance := offText(spec, d, readings[0])
	f.Off = append(f.Off, text)
	f.distance += distance
}

// roughly is how far in mm a size may lie from what the trade calls it: a sealing washer
// 10 x 14 is 10.2 mm inside. Common practice, no source.
const roughly = 0.5

// agreeing is the first reading that can't be told from what was asked, read off the
// usual gauge.
func agreeing(spec graph.DimSpec, d wantedDim, readings []graph.Reading) (graph.Reading, bool) {
	asked := graph.Reading{Text: d.text, Method: spec.Gauge}
	for _, r := range readings {
		if evidence.Agree(spec, asked, r) || d.rough && isRoughly(spec, d, r) {
			return r, true
		}
	}
	return graph.Reading{}, false
}

func isRoughly(spec graph.DimSpec, d wantedDim, r graph.Reading) bool {
	_, off := offBy(spec, d, r)
	return math.Abs(off) <= roughly
}

// compareAny takes a value of which no dimension was said for the first that agrees and
// is not taken; where none does, it is off by what the nearest is.
func (f *FoundPart) compareAny(fk graph.FeatureKind, d wantedDim, dims map[string][]graph.Reading) {
	nearest, distance := "", math.Inf(1)
	var open []string
	for _, spec := range fk.Dims {
		if !d.mayBe(spec) || f.asked[spec.Name] {
			continue
		}
		readings := dims[spec.Name]
		if len(readings) == 0 {
			open = append(open, spec.Name)
			continue
		}
		if r, ok := agreeing(spec, d, readings); ok {
			f.Matches = append(f.Matches, spec.Name+" "+r.Text)
			f.asked[spec.Name] = true
			return
		}
		if text, by := offText(spec, d, readings[0]); by < distance {
			nearest, distance = text, by
		}
	}
	switch {
	case nearest != "":
		f.Off = append(f.Off, nearest)
		f.distance += distance
	case len(open) > 0:
		f.NotKnown = append(f.NotKnown, fmt.Sprintf("%s as its %s", d.text, graph.OrList(open)))
	}
}
