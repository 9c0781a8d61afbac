package evidence

import (
	"cmp"
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/lists"
)

// Evidence holds the sources and findings that one question needs, and ranks
// what they say.
type Evidence struct {
	Sources  map[graph.SourceID]graph.Source
	Findings map[graph.FindingID]graph.Finding

	named []graph.SourceID        // not read yet
	heard map[graph.SourceID]bool // was named at some time
}

// NewEvidence knows no source yet; see Load.
func NewEvidence() *Evidence {
	return &Evidence{Sources: map[graph.SourceID]graph.Source{}, Findings: map[graph.FindingID]graph.Finding{},
		heard: map[graph.SourceID]bool{}}
}

// AddFindings makes findings known that were read already.
func (e *Evidence) AddFindings(findings []graph.Finding) {
	for _, f := range findings {
		e.Findings[f.ID] = f
		e.name(f.Source)
		e.name(graph.SourceID(f.Origin))
	}
}

// name has Load read what goes by an identity, once.
func (e *Evidence) name(id graph.SourceID) {
	if id != "" && !e.heard[id] {
		e.heard[id] = true
		e.named = append(e.named, id)
	}
}

// Load reads the sources of the citations, those of the findings it knows, and
// the origins of both, until nothing is missing. An identity that is no source
// may be a finding: a finding without a source speaks in its own name. What was
// looked for once is not looked for again, so that a Load costs what is new.
func (e *Evidence) Load(ctx context.Context, r graph.Reader, cites []graph.Cite) error {
	for _, c := range cites {
		e.name(c.Source)
	}
	for {
		missing := e.missing()
		if len(missing) == 0 {
			return nil
		}
		sources, err := r.Sources(ctx, missing...)
		if err != nil {
			return err
		}
		for _, s := range sources {
			e.Sources[s.ID] = s
			e.name(s.Origin)
		}
		if err := e.loadFindings(ctx, r, missing); err != nil {
			return err
		}
	}
}

// missing takes what was named and is not known yet, sorted.
func (e *Evidence) missing() []graph.SourceID {
	missing := lists.Kept(e.named, func(id graph.SourceID) bool {
		_, isSource := e.Sources[id]
		_, isFinding := e.Findings[graph.FindingID(id)]
		return !isSource && !isFinding
	})
	e.named = nil
	slices.Sort(missing)
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
	voice := Source{ID: string(f.ID), Kind: kindFinding, Date: f.Date, By: f.By, Title: f.Note,
		Rank: rankOfMethod(f.Method), At: f.Pos.String(), ReprintOf: f.Origin, Origin: e.root(string(f.ID))}
	if f.Origin != "" {
		voice.Rank = min(voice.Rank, RankReport)
	}
	if f.Source != "" && !isTakenDown(f) {
		voice.In = e.root(string(f.Source))
	}
	if s, ok := e.Sources[f.Source]; ok && s.Kind == graph.SourceSeller {
		voice.Rank = RankSeller
	}
	return voice
}

// root follows origins to the first who said it. What somebody had in hand is the
// finder's word: two findings of one person are one voice. What was read or heard
// is the word of the source it was found in. Of a ring of origins, the first member
// by name stands for all.
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
		if f.Origin == "" && isTakenDown(f) {
			return string(f.Source)
		}
		return f.Origin
	}
	return string(e.Sources[graph.SourceID(id)].Origin)
}

// isTakenDown reports whether a finding is what its finder read or heard.
func isTakenDown(f graph.Finding) bool {
	return f.Method == graph.MethodRead || f.Method == graph.MethodHeard
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

// Weigh gives a claim the rank of its weakest link, the voice that has it, and its
// steps with who says each. The variant, when there is one, tells whose scope holds.
func (e *Evidence) Weigh(c Claim, v *graph.Variant) weighed {
	w := weighed{Claim: c}
	for _, l := range c.Links {
		voices := e.Voices(l.Cites, v)
		if l.Finding != nil {
			voices = []Source{e.FindingVoice(*l.Finding)}
		}
		w.Steps = append(w.Steps, Step{Kind: l.Kind, Text: l.Text, Sources: voices, WrongIf: l.WrongIf})
		if len(voices) == 0 {
			continue
		}
		if rank := Together(voices); w.rank == NoRank || rank < w.rank {
			w.rank, w.Voice = rank, voices[0]
		}
	}
	if w.isPlaced() && w.Verdict <= graph.FitsWithChanges {
		w.Verdict, w.Changes = graph.Unknown, nil
		w.Why = "a list was read in, and its name put it here: nobody says that it goes here until somebody has seen it"
	}
	return w
}

// IsListing reports whether a claim is the word of a list that has the part at its place,
// and not only of one whose names put it there.
func (e *Evidence) IsListing(c Claim) bool {
	w := e.Weigh(c, nil)
	return c.Via == ViaListed && !w.isPlaced()
}

// Judge lets the side with the best evidence win. Nothing is averaged: the
// other sides stay as contradictions. Between sides of equal rank, "fits" and
// "fits with changes" give the worse of the two; usable against not usable is
// unknown, but that measures mate does not answer a source that says no: its
// reason may lie in what nobody measured. A supersession that may not be gone that
// way is not undone by a longer one or by a kit, whoever says so. At a place with a safety class a "does not fit"
// of the first hand makes what a better source calls usable unknown, and what a list or the
// measures call usable whatever their rank. What does not fit by its measures fits by
// nobody's word, as a swap says too. A claim that a thing is unknown never speaks against
// one that knows.
func (e *Evidence) Judge(claims []Claim, v *graph.Variant, safety graph.Safety) Judgement {
	sides := e.sidesOf(claims, v)
	if len(sides) > 1 {
		sides = lists.Kept(sides, func(s side) bool { return s.verdict != graph.Unknown })
	}
	won, against := sides[0], sides[1:]
	refused := slices.IndexFunc(sides, func(s side) bool { return s.verdict == graph.DoesNotFit })
	level := slices.ContainsFunc(against, func(s side) bool { return s.rank == won.rank })
	if safety != graph.SafetyNone && refused >= 0 && sides[refused].isFoundByHand() {
		usable := slices.IndexFunc(sides, func(s side) bool {
			return s.verdict <= graph.FitsWithChanges && (refused > 0 || s.isStatedOrComputed())
		})
		if usable >= 0 {
			return undecided(sides[usable], sides[refused], sides)
		}
	}
	switch {
	case refused > 0 && won.verdict == graph.Fits && sides[refused].isComputed():
		won, against = takeOut(sides, refused)
	case refused > 0 && (won.isRefusedBy(sides[refused]) || won.onlyComputed() && !sides[refused].onlyComputed() &&
		sides[refused].rank == won.rank):
		won, against = takeOut(sides, refused)
	case refused > 0 && (sides[refused].rank == won.rank || safety != graph.SafetyNone && sides[refused].isFirstHand()):
		return undecided(won, sides[refused], sides)
	case refused != 0 && level:
		won, against = takeOut(sides, 1)
	}
	j := won.judgement()
	j.Against = contradictions(against)
	return j
}

// sidesOf sorts claims into sides, best rank first, better verdict first
// between equals.
func (e *Evidence) sidesOf(claims []Claim, v *graph.Variant) []side {
	var sides []side
	for _, c := range claims {
		w := e.Weigh(c, v)
		at := slices.IndexFunc(sides, func(s side) bool { return s.verdict == w.Verdict })
		if at < 0 {
			at = len(sides)
			sides = append(sides, side{verdict: w.Verdict})
		}
		sides[at].claims = append(sides[at].claims, &w)
	}
	for i := range sides {
		s := &sides[i]
		slices.SortStableFunc(s.claims, func(a, b *weighed) int {
			return cmp.Or(cmp.Compare(b.rank, a.rank), cmp.Compare(a.Via.Order(), b.Via.Order()),
				cmp.Compare(len(a.Links), len(b.Links)), CompareSources(a.Voice, b.Voice), cmp.Compare(a.Why, b.Why))
		})
		s.rank = Together(lists.Mapped(s.claims, func(w *weighed) Source {
			voice := w.Voice
			voice.Rank = w.rank
			return voice
		}))
	}
	slices.SortFunc(sides, func(a, b side) int {
		return cmp.Or(cmp.Compare(b.rank, a.rank), cmp.Compare(a.verdict, b.verdict))
	})
	return sides
}

// Ranked gives the part with what findings measured on it laid over, and every
// list of readings in rank order: readings that agree stand together, the value
// with the best voices first. Rules take the first reading and look whether
// another one would change their verdict; one that was measured otherwise on
// the very part is marked, and changes nothing. A measured feature that the part does
// not list yet gets its kind from the kind of part.
func (e *Evidence) Ranked(p graph.Part, kind graph.Kind, findings []graph.Finding, v *graph.Variant) graph.Part {
	p.Features = Overlaid(p, kind, findings)
	for i, f := range p.Features {
		spec, _ := graph.FeatureKindNamed(f.Kind)
		dims := make(map[string][]graph.Reading, len(f.Dims))
		for name, readings := range f.Dims {
			dim, _ := spec.Dim(name)
			dims[name] = e.RankReadings(dim, readings, v)
		}
		p.Features[i].Dims = dims
	}
	return p
}

// RankReadings puts the readings of one dimension in order, the best evidence first;
// those that a measurement outranks, or several outvote, are marked. The list handed in stays as it is.
func (e *Evidence) RankReadings(dim graph.DimSpec, readings []graph.Reading, v *graph.Variant) []graph.Reading {
	if len(readings) == 1 { // nothing stands against it
		alone := readings[0]
		alone.Outranked, alone.Settled = false, false
		return []graph.Reading{alone}
	}
	var ordered []graph.Reading
	groups := e.ValueGroups(dim, readings, v)
	for _, g := range groups {
		outvoted := groups[0].Outvotes(g)
		outranked := outvoted || Together(groups[0].Voices) == RankMeasured && Together(g.Voices) < RankMeasured
		settled := outvoted || outranked && isMeasuredTwice(groups[0].Voices)
		for _, r := range g.Readings {
			r.Outranked, r.Settled = outranked, settled
			ordered = append(ordered, r)
		}
	}
	return ordered
}

// measuredOf are the voices that measured.
func measuredOf(voices []Source) []Source {
	return lists.Kept(slices.Clone(voices), func(s Source) bool { return s.Rank == RankMeasured })
}

// isMeasuredTwice reports whether two people measured, each by themselves.
func isMeasuredTwice(voices []Source) bool {
	return len(independent(measuredOf(voices))) > 1
}

// Contested is a ranked part at a place with a safety class: there, what a single
// measurement outranks still counts against it, so that a verdict which hangs on who
// is right is unknown.
func Contested(p graph.Part) graph.Part {
	p.Features = slices.Clone(p.Features)
	for i, f := range p.Features {
		dims := make(map[string][]graph.Reading, len(f.Dims))
		for name, readings := range f.Dims {
			dims[name] = lists.Mapped(readings, func(r graph.Reading) graph.Reading {
				r.Outranked = r.Outranked && r.Settled
				return r
			})
		}
		p.Features[i].Dims = dims
	}
	return p
}

// IsContested reports whether some reading of a ranked part is outranked by a single
// measurement.
func IsContested(p graph.Part) bool {
	return slices.ContainsFunc(p.Features, func(f graph.Feature) bool {
		for _, readings := range f.Dims {
			if slices.ContainsFunc(readings, func(r graph.Reading) bool { return r.Outranked && !r.Settled }) {
				return true
			}
		}
		return false
	})
}

// ValueGroups joins readings that agree, the group with the best voices first;
// between equals the one with more of them first hand, then the newest word, then the order of their text.
func (e *Evidence) ValueGroups(dim graph.DimSpec, readings []graph.Reading, v *graph.Variant) []ValueGroup {
	best := slices.Clone(readings)
	slices.SortStableFunc(best, func(a, b graph.Reading) int {
		return cmp.Or(CompareSources(e.ReadingVoice(a, v), e.ReadingVoice(b, v)), cmp.Compare(a.Text, b.Text))
	})
	var groups []ValueGroup
	for _, reading := range best {
		at := slices.IndexFunc(groups, func(g ValueGroup) bool { return Agree(dim, g.Readings[0], reading) })
		if at < 0 {
			at = len(groups)
			groups = append(groups, ValueGroup{})
		}
		groups[at].Readings = append(groups[at].Readings, reading)
		groups[at].Voices = append(groups[at].Voices, e.ReadingVoice(reading, v))
	}
	slices.SortStableFunc(groups, func(a, b ValueGroup) int {
		return cmp.Or(cmp.Compare(Together(b.Voices), Together(a.Voices)),
			cmp.Compare(len(b.FirstHand()), len(a.FirstHand())))
	})
	return groups
}

// Holding leaves out the readings of sources that speak of other variants: the
// supplement for another year is no voice against this one's.
func (e *Evidence) Holding(readings []graph.Reading, v graph.Variant) []graph.Reading {
	return lists.Kept(slices.Clone(readings), func(r graph.Reading) bool {
		return e.Sources[r.Source].Scope.MayHold(v)
	})
}

// ReadingVoice ranks one reading. A finding's measured dimension is a
// measurement whatever the finding's verdict rests on, as long as it is first
// hand.
func (e *Evidence) ReadingVoice(reading graph.Reading, v *graph.Variant) Source {
	voice := e.voice(reading.Cite, v)
	if f, ok := e.Findings[graph.FindingID(reading.Source)]; ok && f.Origin == "" && voice.Rank != RankSeller {
		voice.Rank, voice.Origin = RankMeasured, finder(f)
	}
	voice.Says = reading.Text
	return voice
}

func (e *Evidence) useLines(fitments []graph.Fitment, siblings queries.Universe) []Use {
	variants, cites := map[graph.PositionID][]graph.VariantID{}, map[graph.PositionID][]graph.Cite{}
	for _, f := range fitments {
		variants[f.Position] = append(variants[f.Position], f.On...)
		cites[f.Position] = append(cites[f.Position], f.Said...)
	}
	var lines []Use
	for _, id := range lists.KeysOf(variants) {
		for _, c := range queries.CoveragesOf(lists.Unique(variants[id]), siblings) {
			lines = append(lines, Use{Position: id, Coverage: c, Covers: c.String(),
				Sources: Distinct(e.Voices(cites[id], nil))})
		}
	}
	return lines
}

// IsFirstHand reports whether a finding was made by the finder's own hands, and is no
// seller's text.
func (e *Evidence) IsFirstHand(f graph.Finding) bool {
	return isByHand(f) && e.FindingVoice(f).Rank > RankSeller
}
