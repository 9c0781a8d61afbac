package why

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/differ"
	"matewell/queries/evidence"
	"matewell/queries/fits"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/part"
	"matewell/queries/swap"
)

// WhyQuestion asks for the whole trail of an answer. One of its fields must be
// set: the identity of an answer, or the question that it answers.
type WhyQuestion struct {
	ID     string // see AnswerID and SwapID
	Fits   *fits.FitsQuestion
	Differ *differ.DifferQuestion
	Swap   *swap.SwapQuestion
}

// WhyAnswer is the answer to a WhyQuestion.
type WhyAnswer struct {
	// Trails are in the order of the answer's rows; of a swap, what does not
	// mate comes first.
	Trails   []WhyTrail        `json:"trails"`
	Cautions []queries.Caution `json:"cautions,omitempty"`
}

// WhyTrail is the way from what the sources say to one row of an answer.
type WhyTrail struct {
	ID      string        `json:"id"`
	About   string        `json:"about"`
	Safety  graph.Safety  `json:"safety,omitempty"`
	Verdict graph.Verdict `json:"verdict,omitempty"`
	Says    string        `json:"says"` // the row's reason in one phrase
	Steps   []WhyStep     `json:"steps"`
	// ContradictedBy are the voices against it, each with its own steps.
	ContradictedBy []evidence.Contradiction `json:"contradicted_by,omitempty"`
	// Settle is what to measure or look up: against a contradiction, or for
	// what is unknown.
	Settle []string `json:"settle,omitempty"`

	touches []string // the sorts of feature of the parts that are changed
	work    bool     // see examine.Outcome.HasWork
}

// WhyStep is a step with its place in the trail.
type WhyStep struct {
	Number int `json:"number"` // from 1
	evidence.Step
	// From are the numbers of the steps that it was worked out from.
	From []int `json:"from,omitempty"`
}

// What would prove a rule or a conclusion wrong.
const (
	wrongRule     = "the parts offered up show otherwise: the rule knows only the measures it was given"
	wrongComputed = "one of the steps it comes from is wrong"
	wrongSilence  = "a source that lists something here"
	wrongWinner   = "a voice of a higher rank says otherwise"
	wrongMeasure  = "measured again it is another"
)

// Why gives the trail of an answer. Errors are *NotFoundError, *AmbiguousError, a
// *QuestionError for an identity that is none, or come from the reader. The same question
// over the same facts gives the same trails.
func Why(ctx context.Context, r graph.Reader, q WhyQuestion) (WhyAnswer, error) {
	keep := func(WhyTrail) bool { return true }
	if q.ID != "" {
		var err error
		if q, keep, err = questionOf(q.ID); err != nil {
			return WhyAnswer{}, err
		}
	}
	trails, err := trailsOf(ctx, r, q)
	if err != nil {
		return WhyAnswer{}, err
	}
	a := WhyAnswer{Trails: lists.Kept(trails, keep)}
	if len(a.Trails) == 0 {
		return a, &queries.NotFoundError{What: "answer", Asked: askedText(q)}
	}
	var touches []string
	for _, t := range a.Trails {
		touches = append(touches, t.touches...)
	}
	a.Cautions = queries.CautionsAbout(touches, lists.Mapped(a.Trails,
		func(t WhyTrail) graph.Safety { return t.Safety })...)
	return a, nil
}

func trailsOf(ctx context.Context, r graph.Reader, q WhyQuestion) ([]WhyTrail, error) {
	switch {
	case q.Fits != nil:
		asked := *q.Fits
		asked.All = true // a trail is about one place
		a, err := swap.Fits(ctx, r, asked)
		return lists.Mapped(a.Rows, fitsTrail), err
	case q.Differ != nil:
		return differTrails(ctx, r, *q.Differ)
	case q.Swap != nil:
		return swapTrails(ctx, r, *q.Swap)
	}
	return nil, &queries.QuestionError{Asked: "", Err: errors.New("why wants the identity of an answer, or the question")}
}

// questionOf reads an identity back into the question, and tells which trails
// it names.
func questionOf(text string) (WhyQuestion, func(WhyTrail) bool, error) {
	if strings.HasPrefix(text, "swap:") {
		id, err := swap.ParseSwapID(text)
		if err != nil {
			return WhyQuestion{}, nil, err
		}
		return WhyQuestion{ID: text, Swap: &swap.SwapQuestion{On: id.On, Scheme: id.Scheme, Swaps: id.Swaps}},
			func(t WhyTrail) bool { return id.Outcome == "" || strings.HasSuffix(t.ID, ":"+id.Outcome) }, nil
	}
	id, err := queries.ParseAnswerID(text)
	if err != nil {
		return WhyQuestion{}, nil, err
	}
	if id.Question == "differ" {
		q := differ.DifferQuestion{A: string(id.Variant), B: string(id.Other), Position: id.Position.Local()}
		return WhyQuestion{ID: text, Differ: &q}, func(WhyTrail) bool { return true }, nil
	}
	q := fits.FitsQuestion{Part: string(id.Part), On: string(id.Variant), Position: id.Position.Local()}
	return WhyQuestion{ID: text, Fits: &q}, func(t WhyTrail) bool {
		is, err := queries.ParseAnswerID(t.ID)
		return err == nil && (is.Part == "") == (id.Part == "")
	}, nil
}

func askedText(q WhyQuestion) string {
	switch {
	case q.ID != "":
		return q.ID
	case q.Fits != nil:
		return strings.TrimSpace("fits " + q.Fits.Part + " " + q.Fits.On)
	case q.Differ != nil:
		return fmt.Sprintf("differ %s %s", q.Differ.A, q.Differ.B)
	}
	return "swap on " + q.Swap.On
}

// SafetyOpen reports whether something at a position with a safety class is
// unknown or does not fit, or fits only after work.
func (a WhyAnswer) SafetyOpen() bool {
	return slices.ContainsFunc(a.Trails, func(t WhyTrail) bool {
		return t.Safety != graph.SafetyNone && (t.Verdict > graph.FitsWithChanges || t.work)
	})
}

// add puts a step at the end of the trail and gives its number.
func (t *WhyTrail) add(s evidence.Step, from ...int) int {
	n := len(t.Steps) + 1
	if s.WrongIf == "" {
		s.WrongIf = map[evidence.StepKind]string{evidence.StepRule: wrongRule, evidence.StepComputed: wrongComputed,
			evidence.StepDimension: wrongMeasure}[s.Kind]
	}
	slices.Sort(from)
	t.Steps = append(t.Steps, WhyStep{Number: n, Step: s, From: slices.Compact(from)})
	return n
}

// addAll adds steps in the order they were taken. A rule comes from the
// measures since the rule before it, a conclusion from all since the conclusion
// before it. It gives the numbers of those that nothing was worked out from.
func (t *WhyTrail) addAll(steps []evidence.Step) []int {
	var loose, measures, rules []int
	for _, s := range steps {
		switch s.Kind {
		case evidence.StepRule:
			from := lists.Kept(loose, func(n int) bool { return t.Steps[n-1].Kind == evidence.StepDimension })
			if len(from) == 0 {
				from = slices.Clone(measures) // they were shown with an earlier rule
			}
			loose = lists.Kept(loose, func(n int) bool { return !slices.Contains(from, n) })
			rules = append(rules, t.add(s, from...))
		case evidence.StepComputed:
			loose = []int{t.add(s, append(rules, loose...)...)}
			rules = nil
		default:
			n := t.add(s)
			loose = append(loose, n)
			if s.Kind == evidence.StepDimension {
				measures = append(measures, n)
			}
		}
	}
	return append(rules, loose...)
}

// conclude adds the steps, the rule by which their voices were weighed, and
// the verdict.
func (t *WhyTrail) conclude(steps []evidence.Step, j judgementLine) {
	from := t.addAll(steps)
	if rule := weighing(steps, j); rule != "" {
		from = append(from, t.add(evidence.Step{Kind: evidence.StepRule, Text: rule, WrongIf: wrongWinner}))
	}
	text := "so: " + j.verdict.String()
	switch {
	case j.via == evidence.ViaComputed:
		text += ", computed; the weakest reading: " + j.rank.String()
	case j.rank != evidence.NoRank:
		text += ", on the word of: " + j.rank.String()
	}
	t.add(evidence.Step{Kind: evidence.StepComputed, Text: text}, from...)
}

// difference adds the readings on both sides of one difference, and what they
// come to; it gives the number of the latter.
func (t *WhyTrail) difference(row differ.DifferRow, d differ.Difference, b *part.Cards) int {
	var from []int
	for _, s := range []*differ.DifferSide{row.A, row.B} {
		if s == nil || d.Dim == "" {
			continue
		}
		f, _ := b.Parts[s.Part].Feature(d.Feature)
		if readings := f.Dims[d.Dim]; len(readings) > 0 {
			voices := lists.Mapped(readings, func(r graph.Reading) evidence.Source { return b.Evidence.ReadingVoice(r, nil) })
			slices.SortFunc(voices, evidence.CompareSources)
			from = append(from, t.add(evidence.Step{Kind: evidence.StepDimension, Sources: voices,
				Text: fmt.Sprintf("%s of %s of %s is %s", d.Dim, d.Feature, s.Part, readings[0].Text)}))
		}
	}
	return t.add(evidence.Step{Kind: evidence.StepComputed, Text: d.Text + " (" + string(d.Class) + ")"}, from...)
}

// check adds the readings a check was judged by, the rule, and what they come
// to; it gives the number of the latter.
func (t *WhyTrail) check(s *machine.Setup, c mating.Check, sits map[graph.PositionID]int, used map[string]int) int {
	var from []int
	for _, group := range swap.UsesByPlace(c.Uses) {
		from = append(from, t.use(s, group, used))
		if n, ok := sits[group[0].Position]; ok {
			from = append(from, n)
		}
	}
	rule := "rule of " + c.Rule
	if c.Basis != "" {
		rule += ", by " + c.Basis
	}
	from = append(from, t.add(evidence.Step{Kind: evidence.StepRule, Text: rule}))
	return t.add(evidence.Step{Kind: evidence.StepComputed, Text: checkText(c)}, from...)
}

// use adds one dimension with its readings, unless it stands there already, and
// gives its number.
func (t *WhyTrail) use(s *machine.Setup, group []mating.Use, used map[string]int) int {
	key := fmt.Sprintf("%s %s %s %s", group[0].Position, group[0].Part, group[0].Feature, group[0].Dim)
	if _, have := used[key]; !have {
		used[key] = t.add(useStep(s, s.WithOutranked(group)))
	}
	return used[key]
}

// settle notes a measurement that would settle the answer, once.
func (t *WhyTrail) settle(ask mating.Ask) {
	text := ask.Text()
	if !slices.Contains(t.Settle, text) {
		t.Settle = append(t.Settle, text)
	}
}
