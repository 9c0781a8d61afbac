package intake

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/loader/partslist"
)

// placer finds where on a model a row belongs.
type placer struct {
	models     []graph.Model
	variants   map[graph.ModelID][]graph.Variant
	positions  map[graph.ModelID][]graph.Position
	assemblies map[graph.AssemblyID]string // name
	told       map[string]string           // place name, folded, to position
	model      graph.ModelID               // where a row names none
	makes      map[string]bool             // words of makers and models
	knowns     map[graph.PositionID]known
}

func newPlacer(facts graph.Facts, opts Options) *placer {
	p := &placer{models: facts.Models, variants: map[graph.ModelID][]graph.Variant{},
		positions:  map[graph.ModelID][]graph.Position{},
		assemblies: map[graph.AssemblyID]string{}, told: map[string]string{}, model: opts.Model, makes: map[string]bool{},
		knowns: map[graph.PositionID]known{}}
	for _, v := range facts.Variants {
		p.variants[v.Model] = append(p.variants[v.Model], v)
	}
	for _, x := range facts.Positions {
		p.positions[x.Model] = append(p.positions[x.Model], x)
	}
	for _, a := range facts.Assemblies {
		p.assemblies[a.ID] = a.Name
	}
	for _, b := range facts.Brands {
		maps.Copy(p.makes, set(takeApart(string(b.ID)).words))
	}
	for _, m := range facts.Models {
		maps.Copy(p.makes, set(takeApart(m.Name).words))
	}
	for name, position := range opts.Places {
		p.told[partslist.Fold(name)] = position
	}
	if p.model == "" && len(p.models) == 1 {
		p.model = p.models[0].ID
	}
	return p
}

// place is where a row belongs: one position, or several alike that share the
// quantity.
type place struct {
	model     graph.ModelID
	positions []graph.Position
	byName    bool     // found by its name, and not by the identity of a position
	why       string   // why there is none
	mayBe     []string // near names
}

// find places a row.
func (p *placer) find(r partslist.Row) place {
	model, why := p.modelOf(r.Model)
	if why != "" {
		return place{why: why}
	}
	for _, text := range []string{r.Place, r.Name} {
		if local, ok := p.told[partslist.Fold(text)]; ok && text != "" {
			return p.toldPlace(model, local)
		}
	}
	if exact, ok := p.exact(model, r.Place); ok {
		if onlyPiece(p, takeApart(r.Name), exact) {
			return place{why: fmt.Sprintf("place: %q is a piece of what goes to %s, or of what is beside it", r.Name,
				exact.ID.Local()), mayBe: p.offer(model, r.Name, p.groupOf(exact))}
		}
		return place{model: model, positions: []graph.Position{exact}, byName: !isIdentity(exact, r.Place)}
	}
	if exact, ok := p.exact(model, r.Name); ok && (r.Place == "" || sharedWords(ownWords(exact), r.Place) > 0) {
		return place{model: model, positions: []graph.Position{exact}, byName: !isIdentity(exact, r.Name)}
	}
	at := p.byWords(model, r)
	at.byName = true
	return at
}

// modelOf finds the model that a cell names: all its words must stand in the
// model's name.
func (p *placer) modelOf(text string) (graph.ModelID, string) {
	if text == "" {
		return p.model, ""
	}
	var found []graph.ModelID
	for _, m := range p.models {
		if strings.EqualFold(text, string(m.ID)) {
			return m.ID, ""
		}
		whole := partslist.Fold(string(m.ID) + " " + m.Name + " " + string(m.Maker))
		if !slices.ContainsFunc(strings.Fields(partslist.Fold(text)),
			func(word string) bool { return !partslist.HasWord(whole, word) }) {
			found = append(found, m.ID)
		}
	}
	switch {
	case len(found) == 1:
		return found[0], ""
	case len(found) > 1:
		return "", fmt.Sprintf("model: %q may be %s", text, graph.OrList(found))
	case len(p.models) == 0:
		return "", ""
	}
	return "", fmt.Sprintf("model: no model of this folder is called %q", text)
}

func (p *placer) toldPlace(model graph.ModelID, local string) place {
	if x, ok := p.exact(model, local); ok {
		return place{model: model, positions: []graph.Position{x}}
	}
	return place{why: fmt.Sprintf("place: %s has no position %q", model, local), mayBe: p.near(model, local)}
}

// exact finds a position by its identity within the model, or by the name that
// a parts list prints, where that is of one only.
func (p *placer) exact(model graph.ModelID, text string) (graph.Position, bool) {
	var found []graph.Position
	for _, x := range p.positions[model] {
		if isIdentity(x, text) {
			return x, true
		}
		if text != "" && partslist.Fold(text) == partslist.Fold(x.Name) {
			found = append(found, x)
		}
	}
	if len(found) == 1 {
		return found[0], true
	}
	return graph.Position{}, false
}

// isIdentity reports whether a text is the identity of a position, not its name.
func isIdentity(x graph.Position, text string) bool {
	return strings.EqualFold(text, x.ID.Local()) || strings.EqualFold(text, string(x.ID))
}

func (p *placer) near(model graph.ModelID, text string) []string {
	var names []string
	for _, x := range p.positions[model] {
		names = append(names, x.ID.Local())
	}
	return graph.Nearest(text, names, mostOffered)
}

// offer are places that share a word with a text, those of the assembly that is
// told first; else those whose names are near.
func (p *placer) offer(model graph.ModelID, text, group string) []string {
	var list []candidate
	head := takeApart(text).head
	for _, x := range p.positions[model] {
		if words := sharedWords(ownWords(x), text); words > 0 {
			heads := slices.Contains(knownOf(p, x).heads, head)
			list = append(list, candidate{x, 2*words + 2*b2i(heads) + b2i(group != "" && p.groupOf(x) == group)})
		}
	}
	if len(list) == 0 {
		return p.near(model, text)
	}
	slices.SortStableFunc(list, func(a, b candidate) int { return cmp.Compare(b.words, a.words) })
	var names []string
	for _, c := range list[:min(len(list), mostOffered)] {
		names = append(names, c.ID.Local())
	}
	return names
}

// ownWords are the words of a position itself, without its assembly's.
func ownWords(x graph.Position) string {
	_, local, _ := strings.Cut(x.ID.Local(), "/")
	return partslist.Fold(local + " " + x.Name + " " + string(x.Kind))
}

// mostOffered is how many near places are offered.
const mostOffered = 4

// candidate is a position with how well its words are those of the row.
type candidate struct {
	graph.Position
	words int
}

// byWords goes by the kind that the words name, the assembly of the heading
// above, and the sides that are told. Where more than one place is left, none
// is taken, unless the places are alike and as many as the quantity says.
func (p *placer) byWords(model graph.ModelID, r partslist.Row) place {
	text := strings.TrimSpace(r.Place + " " + r.Name)
	if model == "" || text == "" {
		return place{why: noModel(model, text)}
	}
	if r.Place != "" && strings.Trim(r.Place, "? ") == "" {
		return place{why: "place: not known to the owner"}
	}
	group := cmp.Or(partslist.GroupOf(r.Place), r.Group)
	name := takeApart(r.Name)
	if name.head == "" {
		name = takeApart(r.Place)
	}
	said := set(takeApart(text).words)
	kinds := kindsNamed(name)
	var left []candidate
	for _, x := range p.positions[model] {
		if isCalled(p, x, name, kinds, said) {
			left = append(left, candidate{x, p.shared(x, text)})
		}
	}
	left = narrow(left, func(c candidate) bool { return group != "" && p.groupOf(c.Position) == group })
	sides := waysIn(text)
	for _, way := range slices.Sorted(mapKeys(sides)) {
		left = narrow(left, func(c candidate) bool { return waysIn(p.wordsOf(c.Position))[way] })
	}
	best := bestWords(left)
	left = narrow(left, func(c candidate) bool { return c.words == best })
	return p.decide(model, r, left, group, sides)
}

func noModel(model graph.ModelID, text string) string {
	if model == "" {
		return "place: no model to put it on; say which with --on MODEL"
	}
	return "place: no words tell where it belongs"
}

func mapKeys(m map[string]bool) func(func(string) bool) {
	return func(yield func(string) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}

// narrow keeps those that pass, when any does.
func narrow(list []candidate, keep func(candidate) bool) []candidate {
	var kept []candidate
	for _, c := range list {
		if keep(c) {
			kept = append(kept, c)
		}
	}
	if len(kept) == 0 {
		return list
	}
	return kept
}

func bestWords(list []candidate) int {
	best := 0
	for _, c := range list {
		best = max(best, c.words)
	}
	return best
}

func (p *placer) decide(model graph.ModelID, r partslist.Row, left []candidate, group string,
	sides map[string]bool) place {
	at := place{model: model}
	for _, c := range left {
		at.positions = append(at.positions, c.Position)
	}
	what := fmt.Sprintf("%q", cmp.Or(r.Name, r.Place))
	switch {
	case len(left) == 0:
		at.why, at.mayBe = "place: nothing on "+string(model)+" is called "+what, p.offer(model, cmp.Or(r.Place, r.Name),
			group)
		return at
	case group != "" && !slices.ContainsFunc(left,
		func(c candidate) bool { g := p.groupOf(c.Position); return g == group || g == "" }):
		at.why = fmt.Sprintf("place: the heading %q says otherwise than %s", cmp.Or(r.Under, r.Place), what)
	case contradicted(left, sides, p):
		at.why = "place: the side does not agree with the places that " + what + " may have"
	case len(left) == 1:
		return at
	case alike(left) && r.Counted && r.Quantity == len(left):
		return at
	case len(left) <= mostOffered:
		at.why = "place: " + what + " may be in more than one place"
	default:
		at.why = fmt.Sprintf("place: %s may be in %d places", what, len(left))
	}
	for _, c := range left[:min(len(left), mostOffered)] {
		at.mayBe = append(at.mayBe, c.ID.Local())
	}
	at.positions = nil
	return at
}

// contradicted says whether front or rear is told and no place left is there.
func contradicted(left []candidate, sides map[string]bool, p *placer) bool {
	for _, pair := range [][2]string{{"front", "rear"}, {"left", "right"}} {
		for i, way := range pair {
			other := pair[1-i]
			if sides[way] && !sides[other] && !slices.ContainsFunc(left, func(c candidate) bool {
				has := waysIn(p.wordsOf(c.Position))
				return has[way] || !has[other]
			}) {
				return true
			}
		}
	}
	return false
}

// alike says whether places are of one kind in one assembly and differ by side
// or number alone.
func alike(left []candidate) bool {
	first := left[0]
	for _, c := range left {
		if c.Kind != first.Kind || c.Assembly != first.Assembly || c.Quantity != 1 || c.Side == "" && c.Index == 0 {
			return false
		}
	}
	return true
}

// wordsOf are all words that tell of a position.
func (p *placer) wordsOf(x graph.Position) string {
	return strings.ReplaceAll(x.ID.Local(), "-", " ") + " " + x.Name + " " + x.Side + " " + p.assemblies[x.Assembly]
}

// shared counts the words of a text that a position's own words have too.
func (p *placer) shared(x graph.Position, text string) int {
	return sharedWords(partslist.Fold(p.wordsOf(x)+" "+string(x.Kind)), text)
}

// sharedWords counts the words of a text, short ones left out, that stand among
// others.
func sharedWords(words, text string) int {
	n := 0
	for _, word := range strings.Fields(partslist.Fold(text)) {
		n += b2i(len(word) > 2 && partslist.HasWord(words, word))
	}
	return n
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// groupOf is the assembly of a position as headings are told apart.
func (p *placer) groupOf(x graph.Position) string {
	local, _, _ := strings.Cut(x.ID.Local(), "/")
	return cmp.Or(partslist.GroupOf(strings.ReplaceAll(local, "-", " ")), partslist.GroupOf(p.assemblies[x.Assembly]))
}
