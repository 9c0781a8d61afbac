package evidence

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
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

// Order is the place of a way in the order printed, from 0; -1 for none of them.
func (v Via) Order() int {
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
	Settle  string        `json:"-"` // see Claim
	Lists   graph.PartID  `json:"-"` // the part that a source lists in its place; none where it says something else
}

// String is the contradiction in short: "does not fit: fouls the leg (f-0031,
// fitted and photographed)".
func (c Contradiction) String() string {
	text := fmt.Sprintf("%s (%s)", c.Why, VoiceText(c.Via, c.Source, c.Source.Rank, c.Steps))
	if c.Verdict != graph.NoVerdict {
		text = c.Verdict.String() + ": " + text
	}
	return text
}

// VoiceText is whose word something is: a source's and its rank, or what it was computed
// from and the rank of the weakest reading.
func VoiceText(via Via, source Source, rank Rank, steps []Step) string {
	if via != ViaComputed {
		return fmt.Sprintf("%s, %s", source.ID, rank)
	}
	var from []string
	for _, s := range steps {
		if s.Kind == StepDimension && len(s.Sources) > 0 && !slices.Contains(from, s.Sources[0].ID) {
			from = append(from, s.Sources[0].ID)
		}
	}
	if len(from) == 0 && source.ID == "" {
		return "by rule, from no reading"
	}
	if len(from) == 0 {
		from = []string{source.ID}
	}
	return fmt.Sprintf("computed from %s; the weakest: %s", strings.Join(from, ", "), rank)
}

// Link is one thing that must hold for a claim to hold.
type Link struct {
	Kind    StepKind
	Text    string
	WrongIf string
	Cites   []graph.Cite
	Finding *graph.Finding // the voice when there are no citations
}

// Claim is one reason to say something about a part at a position of a variant.
type Claim struct {
	Part     graph.PartID
	Position graph.PositionID
	Variant  graph.VariantID
	Frames   measure.Frames // the claim is limited to these; zero for the whole variant
	Via      Via
	Verdict  graph.Verdict
	Why      string
	Links    []Link
	Changes  []Change
	Quantity int // how many sit there; 0 when the claim does not say
	Scheme   string
	// Settle is the measurement that decides what was computed; empty for what is said.
	Settle string
	// Hops is how many supersessions lie between the part and what is listed; 0
	// where the claim rests on none.
	Hops int
}

// weighed is a claim with its voices. A claim is as strong as its weakest link.
type weighed struct {
	Claim
	rank  Rank
	Voice Source // the best voice for the weakest link
	Steps []Step
}

// Judgement is what the claims about one part at one position of one variant
// come to.
type Judgement struct {
	Verdict  graph.Verdict
	Via      Via
	Why      string
	Rank     Rank
	Source   Source
	Others   []Source
	Steps    []Step
	Changes  []Change
	Against  []Contradiction
	Quantity int
	Schemes  []string
	Settle   string // see Claim
}

// Contradiction is what a judgement says, where an answer says otherwise.
func (j Judgement) Contradiction() Contradiction {
	return Contradiction{Verdict: j.Verdict, Why: j.Why, Via: j.Via, Source: j.Source, Steps: j.Steps,
		Settle: j.Settle}
}

// side is all claims of one verdict.
type side struct {
	verdict graph.Verdict
	rank    Rank
	claims  []*weighed // best first
}

// takeOut gives one of the sides, and the others.
func takeOut(sides []side, at int) (side, []side) {
	return sides[at], slices.Concat(sides[:at], sides[at+1:])
}

// onlyComputed reports whether nobody states what the side says.
func (s side) onlyComputed() bool {
	return !slices.ContainsFunc(s.claims, func(w *weighed) bool { return w.Via != ViaComputed })
}

// isComputed reports whether the measures say what the side says, whoever else does.
func (s side) isComputed() bool {
	return slices.ContainsFunc(s.claims, func(w *weighed) bool { return w.Via == ViaComputed })
}

// isFirstHand reports whether the side rests on what somebody has seen or a
// document states, not on hearsay.
func (s side) isFirstHand() bool {
	return slices.ContainsFunc(s.claims, func(w *weighed) bool {
		return w.Via != ViaComputed && (w.Via != ViaFinding || w.isFirstHand())
	})
}

// isPlaced reports whether a claim rests on no more than a name in a list.
func (w *weighed) isPlaced() bool { return w.Voice.Kind == string(graph.SourcePlaced) }

// isFirstHand reports whether a finding was made by the finder's own hands.
func (w *weighed) isFirstHand() bool {
	return slices.ContainsFunc(w.Links, func(l Link) bool {
		return l.Finding != nil && w.rank > RankSeller && isByHand(*l.Finding)
	})
}

// isByHand reports whether the finder of a finding had the part in hand.
func isByHand(f graph.Finding) bool {
	return f.Origin == "" &&
		slices.Contains([]graph.Method{graph.MethodMeasured, graph.MethodPhoto, graph.MethodFitted}, f.Method)
}

// isFoundByHand reports whether the side rests on nothing but what people found, one of
// them at least by hand.
func (s side) isFoundByHand() bool {
	return s.isFirstHand() && !slices.ContainsFunc(s.claims, func(w *weighed) bool { return w.Via != ViaFinding })
}

// isStatedOrComputed reports whether a list names the part here, or the measures say what
// the side says.
func (s side) isStatedOrComputed() bool {
	return slices.ContainsFunc(s.claims, func(w *weighed) bool { return w.Via == ViaListed || w.Via == ViaComputed })
}

// weight is whose word the side is.
func (s side) weight() string {
	if s.onlyComputed() {
		return string(ViaComputed)
	}
	return s.rank.String()
}

// isDerived reports whether the side rests on supersessions, kits and sizes alone:
// nobody lists or fitted the very part.
func (s side) isDerived() bool {
	return !slices.ContainsFunc(s.claims, func(w *weighed) bool { return w.Via == ViaListed || w.Via == ViaFinding })
}

// fewestHops is the shortest way by supersessions among the claims, 0 when there is
// none.
func (s side) fewestHops() int {
	fewest := 0
	for _, w := range s.claims {
		if w.Via == ViaSupersession && w.Hops > 0 && (fewest == 0 || w.Hops < fewest) {
			fewest = w.Hops
		}
	}
	return fewest
}

// isRefusedBy reports whether a supersession that may not be gone that way stands
// against what is derived from kits or from as long a chain: its "no" stays a no.
func (s side) isRefusedBy(no side) bool {
	hops, refused := s.fewestHops(), no.fewestHops()
	return no.verdict == graph.DoesNotFit && refused > 0 && s.isDerived() && (hops == 0 || refused <= hops)
}

// judgement is what the side says, in the words of its best claim.
func (s side) judgement() Judgement {
	best := s.claims[0]
	j := Judgement{Verdict: s.verdict, Via: best.Via, Why: best.Why, Rank: s.rank, Source: best.Voice,
		Changes: best.Changes}
	for _, c := range s.claims {
		j.Settle = cmp.Or(j.Settle, c.Settle)
	}
	j.Steps = MergeSteps(lists.Mapped(s.claims, func(c *weighed) []Step { return c.Steps })...)
	var voices []Source
	for _, c := range s.claims {
		j.Quantity = max(j.Quantity, c.Quantity)
		if c.Scheme != "" {
			j.Schemes = append(j.Schemes, c.Scheme)
		}
		for _, step := range c.Steps {
			voices = append(voices, step.Sources...)
		}
	}
	voices = MergeSources(voices, nil)
	j.Schemes = lists.Unique(j.Schemes)
	j.Others = lists.Kept(Distinct(voices), func(o Source) bool { return o.ID != j.Source.ID })
	return j
}

// undecided is the judgement when one voice calls a thing usable and another, not
// usable, that counts as much.
func undecided(won, no side, all []side) Judgement {
	j := won.judgement()
	j.Verdict = graph.Unknown
	j.Why = fmt.Sprintf("%s against %s: %s on both sides", won.verdict, graph.DoesNotFit, won.rank)
	if no.weight() != won.weight() {
		j.Why = fmt.Sprintf("disputed: %s (%s) against %s (%s)", won.verdict, won.weight(), graph.DoesNotFit, no.weight())
	}
	j.Changes = nil
	j.Against = contradictions(all)
	return j
}

func contradictions(sides []side) []Contradiction {
	return lists.Mapped(sides, func(s side) Contradiction { return s.judgement().Contradiction() })
}
