package queries

import (
	"context"
	"slices"

	"matewell/graph"
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
	PartLine
	Brand    graph.BrandID `json:"brand"`
	Number   string        `json:"number"` // canonical spelling
	FoundBy  string        `json:"found_by"`
	KindName string        `json:"kind_name,omitempty"`
	Aliases  []AliasLine   `json:"aliases,omitempty"`
	Features []FeatureCard `json:"features,omitempty"`
	// NotKnown are the dimensions that a joint needs and nobody gave, each as
	// "dimension of feature (what it is): how to measure it".
	NotKnown []string       `json:"not_known,omitempty"`
	Note     string         `json:"note,omitempty"`
	Price    []ReadingLine  `json:"price,omitempty"`
	Chain    []string       `json:"chain,omitempty"` // each supersession line, oldest number first
	Edges    []EdgeLine     `json:"supersessions,omitempty"`
	Contains []ContentLine  `json:"contains,omitempty"`
	Matched  bool           `json:"matched,omitempty"` // what the kit holds is made to each other
	Kits     []graph.PartID `json:"kits,omitempty"`    // kits that hold the part
	Used     []Use          `json:"used,omitempty"`
	Findings []FindingLine  `json:"findings,omitempty"`
	Twins    []Twin         `json:"twins,omitempty"`
	// Sources are all that the card names: those of the part itself, then the
	// rest, each best first. A finding is its own source and not among them.
	Sources []Source `json:"sources,omitempty"`
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
	Value  string `json:"value"`
	Method string `json:"method,omitempty"` // how it was measured
	Source Source `json:"source"`
}

// EdgeLine is one supersession.
type EdgeLine struct {
	Old        graph.PartID  `json:"old"`
	New        graph.PartID  `json:"new"`
	NewOnOld   string        `json:"new_on_old"`
	OldOnNew   string        `json:"old_on_new"`
	Scope      string        `json:"scope,omitempty"`
	Companions []ContentLine `json:"companions,omitempty"`
	Reason     string        `json:"reason,omitempty"`
	Date       string        `json:"date,omitempty"`
	Sources    []Source      `json:"sources"`
}

// ContentLine is a part and how many of it.
type ContentLine struct {
	Part     graph.PartID `json:"part"`
	Quantity int          `json:"quantity"`
}

// Part answers what is known of a part. Errors are *NotFoundError with near
// numbers, or come from the reader.
func Part(ctx context.Context, r graph.Reader, q PartQuestion) (PartAnswer, error) {
	a := PartAnswer{Asked: q.Part}
	found, err := PartsFor(ctx, r, q.Part)
	if err != nil {
		return a, err
	}
	ids := mapped(found, func(f Found) graph.PartID { return f.Part })
	b, err := loadCards(ctx, r, ids)
	if err != nil {
		return a, err
	}
	for _, f := range found {
		card := b.card(b.parts[f.Part], f.By)
		if card.Twins, err = twinsOf(ctx, r, b.parts[f.Part]); err != nil {
			return a, err
		}
		a.Parts = append(a.Parts, card)
	}
	return a, nil
}

// cards is what was read for the cards of some parts.
type cards struct {
	evidence *evidence
	parts    map[graph.PartID]graph.Part
	kinds    map[graph.KindID]graph.Kind
	findings []graph.Finding
	edges    map[graph.SupersessionID]graph.Supersession
	kits     map[graph.PartID][]graph.PartID
	uses     map[graph.PartID][]Use
}

func loadCards(ctx context.Context, r graph.Reader, ids []graph.PartID) (*cards, error) {
	b := &cards{evidence: newEvidence(), kits: map[graph.PartID][]graph.PartID{}}
	parts, err := r.Parts(ctx, ids...)
	if err != nil {
		return nil, err
	}
	b.parts = byKey(parts, func(p graph.Part) graph.PartID { return p.ID })
	kindIDs := unique(mapped(parts, func(p graph.Part) graph.KindID { return p.Kind }))
	if len(kindIDs) > 0 {
		kinds, err := r.Kinds(ctx, kindIDs...)
		if err != nil {
			return nil, err
		}
		b.kinds = byKey(kinds, func(k graph.Kind) graph.KindID { return k.ID })
	}
	if b.findings, err = r.FindingsOf(ctx, ids...); err != nil {
		return nil, err
	}
	if b.edges, err = edgesAround(ctx, r, ids); err != nil {
		return nil, err
	}
	for _, id := range ids {
		if b.kits[id], err = r.KitsWith(ctx, id); err != nil {
			return nil, err
		}
	}
	if b.uses, err = usesOf(ctx, r, ids); err != nil {
		return nil, err
	}
	return b, b.loadEvidence(ctx, r)
}

func (b *cards) loadEvidence(ctx context.Context, r graph.Reader) error {
	var cites []graph.Cite
	for _, p := range b.parts {
		cites = append(cites, partCites(p)...)
	}
	for _, e := range b.edges {
		cites = append(cites, e.Said...)
	}
	b.evidence.addFindings(b.findings)
	return b.evidence.load(ctx, r, cites)
}

func (b *cards) card(p graph.Part, by string) PartCard {
	kind := b.kinds[p.Kind]
	own := kept(slices.Clone(b.findings), func(f graph.Finding) bool { return f.Part == p.ID })
	c := PartCard{PartLine: *partLine(p), Brand: p.Brand, Number: p.Number.Text, FoundBy: by, KindName: kind.Name,
		Note: p.Note, Matched: p.Matched, Kits: b.kits[p.ID], Used: b.uses[p.ID]}
	c.Aliases = mapped(p.Aliases, func(a graph.Alias) AliasLine { return AliasLine{Type: a.Type, Text: a.Text} })
	c.Contains = contentLines(p.Contains)
	for _, reading := range p.Price {
		c.Price = append(c.Price, b.readingLine(reading))
	}
	ranked := b.evidence.ranked(p, kind, own, nil)
	for _, f := range ranked.Features {
		c.Features = append(c.Features, b.featureCard(ranked, f))
	}
	c.NotKnown = notRecorded(ranked, kind)
	c.Findings = mapped(own, func(f graph.Finding) FindingLine { return findingLine(f, b.evidence.findingVoice(f)) })
	c.Chain, c.Edges = b.chain(p.ID)
	c.Sources = b.sourcesOf(p, c)
	return c
}

// sourcesOf are the sources that a card names, each once.
func (b *cards) sourcesOf(p graph.Part, c PartCard) []Source {
	further := b.evidence.voices(partCites(p), nil)
	for _, use := range c.Used {
		further = append(further, use.Sources...)
	}
	for _, e := range c.Edges {
		further = append(further, e.Sources...)
	}
	slices.SortFunc(further, compareSources)
	return distinct(append(b.evidence.voices(p.Said, nil), further...))
}

func contentLines(contents []graph.Content) []ContentLine {
	return mapped(contents, func(c graph.Content) ContentLine { return ContentLine{Part: c.Part, Quantity: c.Quantity} })
}

func (b *cards) readingLine(r graph.Reading) ReadingLine {
	return ReadingLine{Value: r.Text, Method: r.Method, Source: b.evidence.readingVoice(r, nil)}
}
