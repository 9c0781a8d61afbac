package loader

import (
	"cmp"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
)

// rawPart is a part, or what one file says of it.
type rawPart struct {
	at       diag.Pos
	number   word
	kind     word
	name     word
	aliases  []rawAlias
	note     word
	price    []rawReading
	sold     flag
	features []named[rawFeature]
	contains []rawContent
	matched  flag
	source   []word
}

// rawAlias is an alias as written.
type rawAlias struct {
	at         diag.Pos
	kind, text word
}

// rawContent is one line of a kit, or a companion of a supersession.
type rawContent struct {
	at       diag.Pos
	part     word
	quantity number
}

func partForm() form[rawPart] {
	alias := mapping("an alias", func(a *rawAlias) *diag.Pos { return &a.at },
		need(says("what sort of mark it is", key("type", oneOf(graph.AliasTypes()...).form(),
			func(a *rawAlias) *word { return &a.kind }))),
		need(says("the mark as it reads", key("text", phrase().form(), func(a *rawAlias) *word { return &a.text }))))
	return mapping("a part", func(p *rawPart) *diag.Pos { return &p.at },
		need(says("brand, one space, number", key("number", phrase().form(), func(p *rawPart) *word { return &p.number }))),
		says("kind of part; once is enough", key("kind", name().form(), func(p *rawPart) *word { return &p.kind })),
		says("name as a parts list prints it", key("name", phrase().form(), func(p *rawPart) *word { return &p.name })),
		says("other marks on or for the part", key("aliases", list("aliases", alias),
			func(p *rawPart) *[]rawAlias { return &p.aliases })),
		says("free text", key("note", free().form(), func(p *rawPart) *word { return &p.note })),
		says("what it was offered for, 35 EUR", key("price", readingsForm("prices", money()),
			func(p *rawPart) *[]rawReading { return &p.price })),
		says("no when it is sold no more", key("sold", yesNo().form(), func(p *rawPart) *flag { return &p.sold })),
		says("mating features and what they measure", key("features", byName("features", name(), featureForm()),
			func(p *rawPart) *[]named[rawFeature] { return &p.features })),
		says("what a kit contains", key("contains", list("contents", contentForm()),
			func(p *rawPart) *[]rawContent { return &p.contains })),
		says("yes when the contents are made to each other", key("matched", yesNo().form(),
			func(p *rawPart) *flag { return &p.matched })),
		sourceKey(func(p *rawPart) *[]word { return &p.source }))
}

func contentForm() form[rawContent] {
	return mapping("a line of a kit", func(c *rawContent) *diag.Pos { return &c.at },
		need(says("brand, one space, number", key("part", phrase().form(), func(c *rawContent) *word { return &c.part }))),
		says("how many; 1 when left out", key("quantity", count().form(),
			func(c *rawContent) *number { return &c.quantity })))
}

// partDraft is a part while files add to it. A large set has many that all must be known
// before any is complete, so what is said of one stands beside it, from when it is taken
// until the part is handed over.
type partDraft struct {
	id       graph.PartID
	own      graph.KindID // the kind that the layers give
	written  string       // the number as first written
	at       diag.Pos     // where it was first given
	kindAt   diag.Pos
	features map[string]*featureDraft
	said     *graph.Part // but for its kind, features and contents; see saying
	kit      *kitDraft   // nil for what contains nothing
	base     *graph.Part // what the base holds of it; may be nil
	kindLost bool        // its kind was given and is not known
	mentions int32       // how many items say something of it
}

// kitDraft is what a kit contains, and where it was said.
type kitDraft struct {
	contains []graph.Content
	at       map[graph.PartID]diag.Pos
}

// saying is the part that files add to.
func (d *partDraft) saying() *graph.Part {
	if d.said == nil {
		d.said = &graph.Part{}
	}
	return d.said
}

// kind is the part's kind, from the layers or from the base.
func (d *partDraft) kind() graph.KindID {
	if d.own == "" && d.base != nil {
		return d.base.Kind
	}
	return d.own
}

// contains are the contents of a kit, from the layers and the base.
func (d *partDraft) contains() []graph.Content {
	var own []graph.Content
	if d.kit != nil {
		own = d.kit.contains
	}
	if d.base != nil {
		return append(slices.Clip(own), d.base.Contains...)
	}
	return own
}

// finish is the part with all lists sorted.
func (d *partDraft) finish(w *world) graph.Part {
	p := *d.saying()
	p.ID, p.Brand, p.Kind = d.id, d.id.Brand(), d.own
	p.Number, _ = readNumber(w, d.written)
	if d.kit != nil {
		p.Contains = d.kit.contains
	}
	for _, f := range d.features {
		p.Features = append(p.Features, f.finish())
	}
	slices.SortFunc(p.Features, func(a, b graph.Feature) int { return cmp.Compare(a.Name, b.Name) })
	slices.SortFunc(p.Aliases, func(a, b graph.Alias) int {
		return cmp.Or(cmp.Compare(a.Type, b.Type), cmp.Compare(a.Text,
			b.Text))
	})
	p.Aliases = slices.Compact(p.Aliases)
	slices.SortFunc(p.Contains, func(a, b graph.Content) int { return cmp.Compare(a.Part, b.Part) })
	slices.SortFunc(p.Price, compareReadings)
	return p
}

// resolveParts takes what each file says of each part; all parts are declared.
func resolveParts(w *world) {
	for _, f := range w.files {
		eachPart(w, f, false, func(raw *rawPart) {
			d := declared(w, raw.number)
			if d == nil && raw.number.given() {
				d = lostPart(w, raw)
			}
			if d != nil {
				resolvePart(w, f, d, raw)
			}
			heard(w, raw.number)
		})
		if w.stream != nil {
			f.parts = nil
		}
		for i := range f.fasteners {
			resolveFastener(w, f, &f.fasteners[i])
			heard(w, f.fasteners[i].part)
		}
	}
	for _, id := range w.parts.keys() {
		if d, _ := w.parts.get(id); !w.parts.origin(id).base && w.stream == nil {
			checkPart(w, d)
		}
	}
	checkKits(w)
}

// declared is the draft of a part that an item defines; nil when its number
// could not be read.
func declared(w *world, number word) *partDraft {
	if t := w.partTexts[number.text]; number.given() && t.ok() {
		d, _ := w.parts.get(t.id)
		return d
	}
	return nil
}

// lostPart is the draft of an item whose number is there and wrong, so that the
// rest of the item is checked all the same. It becomes no part.
func lostPart(w *world, raw *rawPart) *partDraft {
	d := &partDraft{at: raw.number.pos}
	declareKind(w, d, raw.kind)
	return d
}

func resolvePart(w *world, f *dataFile, d *partDraft, raw *rawPart) {
	p := d.saying()
	p.Said = addCites(p.Said, w.cites(f, raw.number.pos, raw.source))
	p.Name = cmp.Or(p.Name, raw.name.text)
	if note := raw.note.text; note != "" && !strings.Contains(p.Note, note) {
		p.Note = strings.TrimLeft(p.Note+"\n"+note, "\n")
	}
	for _, a := range raw.aliases {
		if a.kind.given() && a.text.given() {
			p.Aliases = append(p.Aliases, graph.Alias{Type: graph.AliasType(a.kind.text), Text: a.text.text})
		}
	}
	for _, r := range raw.price {
		p.Price = append(p.Price, readings(w, f, r, raw.source)...)
	}
	p.Gone = p.Gone || raw.sold.given() && !raw.sold.yes
	if raw.matched.given() {
		if before, said := w.matchedAt[d]; said && p.Matched != raw.matched.yes {
			w.Errorf(raw.matched.pos, "duplicate", "kit %q is said to be matched, and not to be",
				d.id).Related = []diag.Pos{before}
		}
		p.Matched, w.matchedAt[d] = raw.matched.yes, raw.matched.pos
	}
	for _, feature := range raw.features {
		resolveFeature(w, f, d, raw.source, feature)
	}
	for _, c := range raw.contains {
		resolveContent(w, d, c)
	}
}

func resolveContent(w *world, d *partDraft, raw rawContent) {
	if !raw.part.given() {
		return
	}
	id, known := partRef(w, raw.part)
	if !known {
		return
	}
	if id == d.id {
		w.Errorf(raw.part.pos, "kit-contains-itself", "kit %q contains itself", id)
		return
	}
	quantity := max(1, raw.quantity.n)
	if d.kit == nil {
		d.kit = &kitDraft{at: map[graph.PartID]diag.Pos{}}
	}
	if before, twice := d.kit.at[id]; twice {
		if i := slices.IndexFunc(d.kit.contains,
			func(c graph.Content) bool { return c.Part == id }); d.kit.contains[i].Quantity != quantity ||
			before.File == raw.at.File {
			f := w.Errorf(raw.part.pos, "duplicate", "kit %q contains %q twice", d.id, id)
			f.Hint = "write it once, with its quantity"
			f.Related = []diag.Pos{before}
		}
		return
	}
	d.kit.at[id] = raw.part.pos
	d.kit.contains = append(d.kit.contains, graph.Content{Part: id, Quantity: quantity})
}

// checkPart checks a part when all files have been heard.
func checkPart(w *world, d *partDraft) {
	if d.kindLost || w.broken {
		return
	}
	if d.kind() == "" {
		w.Errorf(d.at, "missing-key", "no file gives part %q its %q", d.id, "kind")
		return
	}
	kind, _ := w.kinds.get(d.kind())
	p := d.saying()
	if p.Name == "" && d.base == nil {
		p.Name = kind.Name
	}
	if at, said := w.matchedAt[d]; said && p.Matched && len(d.contains()) == 0 {
		w.Errorf(at, "bad-value", "part %q is said to be matched, but contains nothing", d.id)
	}
	checkFeatures(w, d, kind)
}

// checkKits reports kits that, over other kits, contain themselves.
func checkKits(w *world) {
	inside := func(id graph.PartID) []graph.PartID {
		d, ok := w.parts.get(id)
		if !ok {
			return nil
		}
		var ids []graph.PartID
		for _, c := range d.contains() {
			ids = append(ids, c.Part)
		}
		return ids
	}
	var kits []graph.PartID
	for id, item := range w.parts.items {
		if len(item.value.contains()) > 0 {
			kits = append(kits, id)
		}
	}
	slices.Sort(kits)
	for _, cycle := range cycles(kits, inside) {
		var at []diag.Pos
		for i, id := range cycle {
			d, _ := w.parts.get(id)
			if d.kit == nil {
				continue
			}
			if pos, ok := d.kit.at[cycle[(i+1)%len(cycle)]]; ok {
				at = append(at, pos)
			}
		}
		if len(at) > 0 {
			w.Errorf(at[0], "kit-contains-itself", "kit %q contains itself: %s", cycle[0], circle(cycle)).Related = at[1:]
		}
	}
}
