package queries

import (
	"cmp"
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/graph/measure"
)

// Via says by what way an answer about a part was reached.
type Via string

// The ways, the most direct first.
const (
	ViaListed       Via = "listed"
	ViaSupersession Via = "supersession"
	ViaKit          Via = "kit"
	ViaFinding      Via = "finding"
	ViaComputed     Via = "computed"
	ViaNothing      Via = "nothing" // nobody says anything
)

func (v Via) order() int {
	return slices.Index([]Via{ViaListed, ViaSupersession, ViaKit, ViaFinding, ViaComputed, ViaNothing}, v)
}

// Change is something that has to be done to make a part fit.
type Change struct {
	Do     string       `json:"do"`
	Effort graph.Effort `json:"effort_class"` // 0 none to 4 structural
	Part   graph.PartID `json:"part,omitempty"`
}

// Contradiction is a voice that says otherwise than the answer.
type Contradiction struct {
	// Verdict is none when a source does not speak of the part, but lists
	// another one in its place.
	Verdict graph.Verdict `json:"verdict,omitempty"`
	Why     string        `json:"why"`
	Via     Via           `json:"via"`
	Source  Source        `json:"source"`
	Steps   []Step        `json:"steps,omitempty"`
}

// String is the contradiction in short: "does not fit: fouls the leg (f-0031,
// fitted and photographed)".
func (c Contradiction) String() string {
	text := fmt.Sprintf("%s (%s, %s)", c.Why, c.Source.ID, c.Source.Rank)
	if c.Verdict != graph.NoVerdict {
		text = c.Verdict.String() + ": " + text
	}
	return text
}

// link is one thing that must hold for a claim to hold.
type link struct {
	kind    StepKind
	text    string
	wrongIf string
	cites   []graph.Cite
	finding *graph.Finding // the voice when there are no citations
}

// claim is one reason to say something about a part at a position of a variant.
type claim struct {
	part     graph.PartID
	position graph.PositionID
	variant  graph.VariantID
	frames   measure.Frames // the claim is limited to these; zero for the whole variant
	via      Via
	verdict  graph.Verdict
	why      string
	links    []link
	changes  []Change
	quantity int // how many sit there; 0 when the claim does not say
	scheme   string
}

// weighed is a claim with its voices. A claim is as strong as its weakest link.
type weighed struct {
	claim
	rank  Rank
	voice Source // the best voice for the weakest link
	steps []Step
}

func (e *evidence) weigh(c claim, v *graph.Variant) weighed {
	w := weighed{claim: c}
	for _, l := range c.links {
		voices := e.voices(l.cites, v)
		if l.finding != nil {
			voices = []Source{e.findingVoice(*l.finding)}
		}
		w.steps = append(w.steps, Step{Kind: l.kind, Text: l.text, Sources: voices, WrongIf: l.wrongIf})
		if len(voices) == 0 {
			continue
		}
		if rank := together(voices); w.rank == NoRank || rank < w.rank {
			w.rank, w.voice = rank, voices[0]
		}
	}
	return w
}

// judgement is what the claims about one part at one position of one variant
// come to.
type judgement struct {
	verdict  graph.Verdict
	via      Via
	why      string
	rank     Rank
	source   Source
	others   []Source
	steps    []Step
	changes  []Change
	against  []Contradiction
	quantity int
	schemes  []string
}

// side is all claims of one verdict.
type side struct {
	verdict graph.Verdict
	rank    Rank
	claims  []weighed // best first
}

// judge lets the side with the best evidence win. Nothing is averaged: the
// other sides stay as contradictions. Between sides of equal rank, "fits" and
// "fits with changes" give the worse of the two; usable against not usable is
// unknown, but that measures mate does not answer a source that says no: its
// reason may lie in what nobody measured. A claim that a thing is unknown never
// speaks against one that knows.
func (e *evidence) judge(claims []claim, v *graph.Variant) judgement {
	sides := e.sidesOf(claims, v)
	if len(sides) > 1 {
		sides = kept(sides, func(s side) bool { return s.verdict != graph.Unknown })
	}
	won, against := sides[0], sides[1:]
	level := kept(slices.Clone(against), func(s side) bool { return s.rank == won.rank })
	switch refused := slices.IndexFunc(level, func(s side) bool { return s.verdict == graph.DoesNotFit }); {
	case refused >= 0 && won.onlyComputed() && !level[refused].onlyComputed():
		won, against = takeOut(sides, 1+refused)
	case refused >= 0:
		return undecided(won, sides)
	case len(level) > 0:
		won, against = takeOut(sides, 1)
	}
	j := won.judgement()
	j.against = contradictions(against)
	return j
}

// takeOut gives one of the sides, and the others.
func takeOut(sides []side, at int) (side, []side) {
	return sides[at], slices.Concat(sides[:at], sides[at+1:])
}

// sidesOf sorts claims into sides, best rank first, better verdict first
// between equals.
func (e *evidence) sidesOf(claims []claim, v *graph.Variant) []side {
	var sides []side
	for _, c := range claims {
		at := slices.IndexFunc(sides, func(s side) bool { return s.verdict == c.verdict })
		if at < 0 {
			at = len(sides)
			sides = append(sides, side{verdict: c.verdict})
		}
		sides[at].claims = append(sides[at].claims, e.weigh(c, v))
	}
	for i := range sides {
		s := &sides[i]
		slices.SortStableFunc(s.claims, func(a, b weighed) int {
			return cmp.Or(cmp.Compare(b.rank, a.rank), cmp.Compare(a.via.order(), b.via.order()),
				cmp.Compare(len(a.links), len(b.links)), compareSources(a.voice, b.voice), cmp.Compare(a.why, b.why))
		})
		s.rank = together(mapped(s.claims, func(w weighed) Source {
			w.voice.Rank = w.rank
			return w.voice
		}))
	}
	slices.SortFunc(sides, func(a, b side) int {
		return cmp.Or(cmp.Compare(b.rank, a.rank), cmp.Compare(a.verdict, b.verdict))
	})
	return sides
}

// onlyComputed reports whether nobody states what the side says.
func (s side) onlyComputed() bool {
	return !slices.ContainsFunc(s.claims, func(w weighed) bool { return w.via != ViaComputed })
}

// judgement is what the side says, in the words of its best claim.
func (s side) judgement() judgement {
	best := s.claims[0]
	j := judgement{verdict: s.verdict, via: best.via, why: best.why, rank: s.rank, source: best.voice,
		changes: best.changes}
	var voices []Source
	for _, c := range s.claims {
		j.steps = mergeSteps(j.steps, c.steps)
		j.quantity = max(j.quantity, c.quantity)
		if c.scheme != "" {
			j.schemes = append(j.schemes, c.scheme)
		}
		for _, step := range c.steps {
			voices = append(voices, step.Sources...)
		}
	}
	voices = mergeSources(voices, nil)
	j.schemes = unique(j.schemes)
	j.others = kept(distinct(voices), func(o Source) bool { return o.ID != j.source.ID })
	return j
}

// undecided is the judgement when voices of equal rank call a thing usable and
// not usable.
func undecided(won side, all []side) judgement {
	j := won.judgement()
	j.verdict = graph.Unknown
	j.why = fmt.Sprintf("%s against %s: %s on both sides", won.verdict, graph.DoesNotFit, won.rank)
	j.changes = nil
	j.against = contradictions(all)
	return j
}

func contradictions(sides []side) []Contradiction {
	return mapped(sides, func(s side) Contradiction {
		j := s.judgement()
		return Contradiction{Verdict: j.verdict, Why: j.why, Via: j.via, Source: j.source, Steps: j.steps}
	})
}
