package evidence

import (
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/lists"
)

// Evidence holds the sources and findings that one question needs, and ranks
// what they say.
type Evidence struct {
	Sources  map[graph.SourceID]graph.Source
	Findings map[graph.FindingID]graph.Finding
}

func NewEvidence() *Evidence {
	return &Evidence{Sources: map[graph.SourceID]graph.Source{}, Findings: map[graph.FindingID]graph.Finding{}}
}

// AddFindings makes findings known that were read already.
func (e *Evidence) AddFindings(findings []graph.Finding) {
	for _, f := range findings {
		e.Findings[f.ID] = f
	}
}

// Load reads the sources of the citations, those of the findings it knows, and
// the origins of both, until nothing is missing. An identity that is no source
// may be a finding: a finding without a source speaks in its own name.
func (e *Evidence) Load(ctx context.Context, r graph.Reader, cites []graph.Cite) error {
	tried := map[graph.SourceID]bool{}
	for {
		missing := e.missing(cites, tried)
		if len(missing) == 0 {
			return nil
		}
		sources, err := r.Sources(ctx, missing...)
		if err != nil {
			return err
		}
		for _, s := range sources {
			e.Sources[s.ID] = s
		}
		if err := e.loadFindings(ctx, r, missing); err != nil {
			return err
		}
	}
}

// missing lists what is named and not yet tried, and marks it as tried.
func (e *Evidence) missing(cites []graph.Cite, tried map[graph.SourceID]bool) []graph.SourceID {
	var named []graph.SourceID
	for _, c := range cites {
		named = append(named, c.Source)
	}
	for _, f := range e.Findings {
		named = append(named, f.Source, graph.SourceID(f.Origin))
	}
	for _, s := range e.Sources {
		named = append(named, s.Origin)
	}
	var missing []graph.SourceID
	for _, id := range lists.Unique(named) {
		_, isSource := e.Sources[id]
		_, isFinding := e.Findings[graph.FindingID(id)]
		if id != "" && !isSource && !isFinding && !tried[id] {
			missing = append(missing, id)
			tried[id] = true
		}
	}
	return missing
}

func (e *Evidence) loadFindings(ctx context.Context, r graph.Reader, ids []graph.SourceID) error {
	var rest []graph.FindingID
	for _, id := range ids {
		if _, ok := e.Sources[id]; !ok {
			rest = append(rest, graph.FindingID(id))
		}
	}
	if len(rest) == 0 {
		return nil
	}
	findings, err := r.Findings(ctx, rest...)
	e.AddFindings(findings)
	return err
}

// voice ranks one citation for a variant; v is nil when the question is about a
// part alone.
func (e *Evidence) voice(c graph.Cite, v *graph.Variant) Source {
	if f, ok := e.Findings[graph.FindingID(c.Source)]; ok {
		voice := e.FindingVoice(f)
		voice.At = c.Pos.String()
		return voice
	}
	s, ok := e.Sources[c.Source]
	if !ok {
		return Source{ID: string(c.Source), Rank: RankReport, At: c.Pos.String(), Origin: string(c.Source)}
	}
	voice := sourceOf(s)
	voice.Rank, voice.At = rankOfSource(s, v), c.Pos.String()
	voice.Origin = e.root(string(s.ID))
	if s.Origin != "" {
		voice.ReprintOf = string(s.Origin)
	}
	return voice
}

// Voices ranks citations, best first.
func (e *Evidence) Voices(cites []graph.Cite, v *graph.Variant) []Source {
	voices := lists.Mapped(cites, func(c graph.Cite) Source { return e.voice(c, v) })
	slices.SortFunc(voices, CompareSources)
	return voices
}

// FindingVoice ranks a finding. What a seller wrote stays a seller's text,
// whatever method it claims; what was retold is one report at best.
func (e *Evidence) FindingVoice(f graph.Finding) Source {
	voice := Source{ID: string(f.ID), Kind: KindFinding, Date: f.Date, By: f.By, Title: f.Note,
		Rank: rankOfMethod(f.Method), At: f.Pos.String(), ReprintOf: f.Origin, Origin: e.root(string(f.ID))}
	if f.Origin != "" {
		voice.Rank = min(voice.Rank, RankReport)
	}
	if s, ok := e.Sources[f.Source]; ok && s.Kind == graph.SourceSeller {
		voice.Rank = RankSeller
	}
	return voice
}

// root follows origins to the first who said it. A finding's root is its
// finder: two findings of one person are one voice. Of a ring of origins, the
// first member by name stands for all.
func (e *Evidence) root(id string) string {
	seen := map[string]bool{}
	for !seen[id] {
		seen[id] = true
		origin := e.originOf(id)
		if origin == "" {
			if f, ok := e.Findings[graph.FindingID(id)]; ok {
				return finder(f)
			}
			return id
		}
		id = origin
	}
	first := id
	for next := e.originOf(id); next != id; next = e.originOf(next) {
		first = min(first, next)
	}
	return first
}

func (e *Evidence) originOf(id string) string {
	if f, ok := e.Findings[graph.FindingID(id)]; ok {
		return f.Origin
	}
	return string(e.Sources[graph.SourceID(id)].Origin)
}

func finder(f graph.Finding) string {
	switch {
	case f.By != "":
		return "by " + f.By
	case f.Source != "":
		return string(f.Source)
	}
	return string(f.ID)
}
