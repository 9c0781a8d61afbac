package part

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// PartQuestion asks for everything known of a part.
type PartQuestion struct {
	Part string // a number in any spelling, or an alias
}

// PartAnswer is what is known of the parts that a number stands for. There are
// several when an alias or a core stands for several.
type PartAnswer struct {
	Asked string     `json:"asked"`
	Parts []PartCard `json:"parts"` // sorted
}

// PartCard is all about one part.
type PartCard struct {
	evidence.PartLine
	Brand    graph.BrandID `json:"brand"`
	Number   string        `json:"number"` // canonical spelling
	FoundBy  string        `json:"found_by"`
	KindName string        `json:"kind_name,omitempty"`
	Aliases  []AliasLine   `json:"aliases,omitempty"`
	Features []FeatureCard `json:"features,omitempty"`
	// NotKnown are the dimensions that a joint needs and nobody gave, each as
	// "dimension of feature (what it is): how to measure it".
	NotKnown []string               `json:"not_known,omitempty"`
	Note     string                 `json:"note,omitempty"`
	Price    []ReadingLine          `json:"price,omitempty"`
	Chain    []string               `json:"chain,omitempty"` // each supersession line, oldest number first
	Edges    []EdgeLine             `json:"supersessions,omitempty"`
	Contains []evidence.ContentLine `json:"contains,omitempty"`
	Matched  bool                   `json:"matched,omitempty"` // what the kit holds is made to each other
	Kits     []graph.PartID         `json:"kits,omitempty"`    // kits that hold the part
	Used     []evidence.Use         `json:"used,omitempty"`
	Findings []evidence.FindingLine `json:"findings,omitempty"`
	Twins    []evidence.Twin        `json:"twins,omitempty"`
	// Sources are all that the card names: those of the part itself, then the
	// rest, each best first. A finding is its own source and not among them.
	Sources []evidence.Source `json:"sources,omitempty"`
}

// AliasLine is another mark that stands for the part.
type AliasLine struct {
	Type graph.AliasType `json:"type"`
	Text string          `json:"text"`
}

// FeatureCard is a feature with its dimensions.
type FeatureCard struct {
	Name string    `json:"name"`
	Kind string    `json:"kind"`
	Is   string    `json:"is,omitempty"` // the kind in words
	Dims []DimCard `json:"dims,omitempty"`
}

// DimCard is one dimension with all that was said of it.
type DimCard struct {
	Name string `json:"name"`
	Is   string `json:"is,omitempty"`
	// Value is the reading with the best evidence.
	Value    string        `json:"value"`
	Readings []ReadingLine `json:"readings"` // best first
	// Conflict is true when readings contradict each other; Settle is then how
	// to settle it.
	Conflict bool   `json:"conflict,omitempty"`
	Settle   string `json:"settle,omitempty"`
}

// ReadingLine is one voice's value.
type ReadingLine struct {
	Value  string          `json:"value"`
	Method string          `json:"method,omitempty"` // how it was measured
	Source evidence.Source `json:"source"`
}

// EdgeLine is one supersession.
type EdgeLine struct {
	Old        graph.PartID           `json:"old"`
	New        graph.PartID           `json:"new"`
	NewOnOld   string                 `json:"new_on_old"`
	OldOnNew   string                 `json:"old_on_new"`
	Scope      string                 `json:"scope,omitempty"`
	Companions []evidence.ContentLine `json:"companions,omitempty"`
	Reason     string                 `json:"reason,omitempty"`
	Date       string                 `json:"date,omitempty"`
	Sources    []evidence.Source      `json:"sources"`
}

// Part answers what is known of a part. Errors are *NotFoundError with near
// numbers, or come from the reader.
func Part(ctx context.Context, r graph.Reader, q PartQuestion) (PartAnswer, error) {
	a := PartAnswer{Asked: q.Part}
	found, err := queries.PartsFor(ctx, r, q.Part)
	if err != nil {
		return a, err
	}
	ids := lists.Mapped(found, func(f queries.Found) graph.PartID { return f.Part })
	b, err := LoadCards(ctx, r, ids)
	if err != nil {
		return a, err
	}
	for _, f := range found {
		card := b.card(b.Parts[f.Part], f.By)
		if card.Twins, err = evidence.TwinsOf(ctx, r, b.Parts[f.Part]); err != nil {
			return a, err
		}
		a.Parts = append(a.Parts, card)
	}
	return a, nil
}

// Cards is what was read for the cards of some parts.
type Cards struct {
	Evidence *evidence.Evidence
	Parts    map[graph.PartID]graph.Part
	kinds    map[graph.KindID]graph.Kind
	findings []graph.Finding
	edges    map[graph.SupersessionID]graph.Supersession
	kits     map[graph.PartID][]graph.PartID
	uses     map[graph.PartID][]evidence.Use
}

// LoadCards reads all that the cards of some parts say.
func LoadCards(ctx context.Context, r graph.Reader, ids []graph.PartID) (*Cards, error) {
	b := &Cards{Evidence: evidence.NewEvidence(), kits: map[graph.PartID][]graph.PartID{}}
	parts, err := r.Parts(ctx, ids...)
	if err != nil {
		return nil, err
	}
	b.Parts = lists.ByKey(parts, func(p graph.Part) graph.PartID { return p.ID })
	kindIDs := lists.Unique(lists.Mapped(parts, func(p graph.Part) graph.KindID { return p.Kind }))
	if len(kindIDs) > 0 {
		kinds, err := r.Kinds(ctx, kindIDs...)
		if err != nil {
			return nil, err
		}
		b.kinds = lists.ByKey(kinds, func(k graph.Kind) graph.KindID { return k.ID })
	}
	if b.findings, err = r.FindingsOf(ctx, ids...); err != nil {
		return nil, err
	}
	if b.edges, err = evidence.EdgesAround(ctx, r, ids); err != nil {
		return nil, err
	}
	for _, id := range ids {
		if b.kits[id], err = r.KitsWith(ctx, id); err != nil {
			return nil, err
		}
	}
	if b.uses, err = evidence.UsesOf(ctx, r, ids); err != nil {
		return nil, err
	}
	return b, b.loadEvidence(ctx, r)
}

func (b *Cards) loadEvidence(ctx context.Context, r graph.Reader) error {
	var cites []graph.Cite
	for _, p := range b.Parts {
		cites = append(cites, evidence.PartCites(p)...)
	}
	for _, e := range b.edges {
		cites = append(cites, e.Said...)
	}
	b.Evidence.AddFindings(b.findings)
	return b.Evidence.Load(ctx, r, cites)
}

func (b *Cards) card(p graph.Part, by string) PartCard {
	kind := b.kinds[p.Kind]
	own := lists.Kept(slices.Clone(b.findings), func(f graph.Finding) bool { return f.Part == p.ID })
	c := PartCard{PartLine: *evidence.LineOfPart(p), Brand: p.Brand, Number: p.Number.Text, FoundBy: by,
		KindName: kind.Name,
		Note:     p.Note, Matched: p.Matched, Kits: b.kits[p.ID], Used: b.uses[p.ID]}
	c.Aliases = lists.Mapped(p.Aliases, func(a graph.Alias) AliasLine { return AliasLine{Type: a.Type, Text: a.Text} })
	c.Contains = contentLines(p.Contains)
	for _, reading := range p.Price {
		c.Price = append(c.Price, b.readingLine(reading))
	}
	ranked := b.Evidence.Ranked(p, kind, own, nil)
	for _, f := range ranked.Features {
		c.Features = append(c.Features, b.featureCard(ranked, f))
	}
	c.NotKnown = notRecorded(ranked, kind)
	c.Findings = lists.Mapped(own, func(f graph.Finding) evidence.FindingLine {
		return evidence.LineOfFinding(f, b.Evidence.FindingVoice(f))
	})
	c.Chain, c.Edges = b.chain(p.ID)
	c.Sources = b.sourcesOf(p, c)
	return c
}

// sourcesOf are the sources that a card names, each once.
func (b *Cards) sourcesOf(p graph.Part, c PartCard) []evidence.Source {
	further := b.Evidence.Voices(evidence.PartCites(p), nil)
	for _, use := range c.Used {
		further = append(further, use.Sources...)
	}
	for _, e := range c.Edges {
		further = append(further, e.Sources...)
	}
	slices.SortFunc(further, evidence.CompareSources)
	return evidence.Distinct(append(b.Evidence.Voices(p.Said, nil), further...))
}

func contentLines(contents []graph.Content) []evidence.ContentLine {
	return lists.Mapped(contents, func(c graph.Content) evidence.ContentLine {
		return evidence.ContentLine{Part: c.Part, Quantity: c.Quantity}
	})
}

func (b *Cards) readingLine(r graph.Reading) ReadingLine {
	return ReadingLine{Value: r.Text, Method: r.Method, Source: b.Evidence.ReadingVoice(r, nil)}
}

// chain gives the supersessions around a part: one line for each way from an
// oldest number to a newest one that leads through the part, and every edge of
// those lines.
func (b *Cards) chain(part graph.PartID) ([]string, []EdgeLine) {
	w := evidence.NewWalker(b.edges)
	var lines []string
	used := map[graph.SupersessionID]bool{}
	ups, more := allWays(part, w.ByNew, func(e graph.Supersession) graph.PartID { return e.Old })
	downs, moreDown := allWays(part, w.ByOld, func(e graph.Supersession) graph.PartID { return e.New })
	more = more || moreDown
	for _, up := range ups {
		slices.Reverse(up)
		for _, down := range downs {
			way := slices.Concat(up, down)
			if len(way) == 0 {
				continue
			}
			if len(lines) >= maxLines {
				more = true
				break
			}
			lines = append(lines, chainLine(way))
			for _, e := range way {
				used[e.ID] = true
			}
		}
	}
	var edges []EdgeLine
	for _, id := range lists.KeysOf(used) {
		edges = append(edges, b.edgeLine(b.edges[id]))
	}
	slices.SortFunc(edges, func(x, y EdgeLine) int {
		return cmp.Or(cmp.Compare(x.Date, y.Date), cmp.Compare(x.Old, y.Old), cmp.Compare(x.New, y.New),
			cmp.Compare(x.Scope, y.Scope))
	})
	lines = lists.Unique(lines)
	if more {
		lines = append(lines, fmt.Sprintf("There are more ways from the oldest numbers to the newest than these %d.",
			len(lines)))
	}
	return lines, edges
}

func (b *Cards) edgeLine(e graph.Supersession) EdgeLine {
	return EdgeLine{Old: e.Old, New: e.New, NewOnOld: e.NewOnOld.String(), OldOnNew: e.OldOnNew.String(),
		Scope: evidence.ScopeText(e.Scope), Companions: contentLines(e.Companions), Reason: e.Reason, Date: e.Date,
		Sources: evidence.Distinct(b.Evidence.Voices(e.Said, nil))}
}

// featureCard lists the dimensions in the order a person would measure them,
// then those that the kind of feature does not know, by name.
func (b *Cards) featureCard(p graph.Part, f graph.Feature) FeatureCard {
	spec, _ := graph.FeatureKindNamed(f.Kind)
	card := FeatureCard{Name: f.Name, Kind: f.Kind, Is: spec.Is}
	names := lists.Mapped(spec.Dims, func(d graph.DimSpec) string { return d.Name })
	for _, name := range lists.KeysOf(f.Dims) {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	for _, name := range names {
		if readings := f.Dims[name]; len(readings) > 0 {
			dim, _ := spec.Dim(name)
			dim.Name = name
			card.Dims = append(card.Dims, b.dimCard(p, f, dim, readings))
		}
	}
	return card
}

func (b *Cards) dimCard(p graph.Part, f graph.Feature, dim graph.DimSpec, readings []graph.Reading) DimCard {
	card := DimCard{Name: dim.Name, Is: dim.Is, Value: readings[0].Text}
	for _, r := range readings {
		card.Readings = append(card.Readings, b.readingLine(r))
		card.Conflict = card.Conflict || !evidence.Agree(dim, readings[0], r)
	}
	if card.Conflict {
		card.Settle = evidence.MeasureText(p, f.Name, dim.Name)
	}
	return card
}

// notRecorded lists the features and dimensions that joints of such a part
// need, and that nobody gave.
func notRecorded(p graph.Part, kind graph.Kind) []string {
	var missing []string
	for _, f := range p.Features {
		spec, _ := graph.FeatureKindNamed(f.Kind)
		for _, dim := range spec.Dims {
			if dim.Must && len(f.Dims[dim.Name]) == 0 {
				missing = append(missing, askText(f.Name, dim))
			}
		}
	}
	for _, kf := range kind.Features {
		if _, has := p.Feature(kf.Name); has || kf.May {
			continue
		}
		spec, _ := graph.FeatureKindNamed(kf.Kind)
		for _, dim := range spec.Dims {
			if dim.Must {
				missing = append(missing, askText(kf.Name, dim))
			}
		}
	}
	return missing
}

func askText(feature string, dim graph.DimSpec) string {
	return fmt.Sprintf("%s of %s (%s): %s", dim.Name, feature, dim.Is, evidence.GaugeText(dim))
}
