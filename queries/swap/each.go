package swap

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
)

// SwapReport is what a swap implies on every variant that the question names.
type SwapReport struct {
	// Answers holds one answer for all variants on which it is the same, in the
	// order of their first variants; at least one.
	Answers []SwapAnswer `json:"answers"`
	// Split lists the variants when there are several answers, and SettledBy
	// the facts that tell which one holds, sorted: "frame number", "market",
	// "model year".
	Split     []queries.SplitLine `json:"split,omitempty"`
	SettledBy []string            `json:"settled_by,omitempty"`
	// Without are variants that lack a position asked about.
	Without []SwapWithout `json:"without,omitempty"`
}

// SwapWithout is a variant on which the swap can't be done.
type SwapWithout struct {
	On  graph.VariantID `json:"on"`
	Why string          `json:"why"`
}

// mostSwapVariants is how many variants a swap is answered for at once: a model
// year has two to four, and an answer is a page long.
const mostSwapVariants = 12

// SwapEach answers for a model year, or a few of them, split into variants where
// the answers differ. Errors are those of Swap; more than mostSwapVariants are an
// *AmbiguousError.
func SwapEach(ctx context.Context, r graph.Reader, q SwapQuestion) (SwapReport, error) {
	m, err := queries.MachinesFor(ctx, r, queries.MachineQuestion{On: q.On, Market: q.Market, Frame: q.Frame})
	if err != nil {
		return SwapReport{}, err
	}
	if m.Bike != "" || len(m.Variants) < 2 || len(m.Variants) > mostSwapVariants {
		s, err := machine.SetupFor(ctx, r, m, q.Scheme)
		if err != nil {
			return SwapReport{}, err
		}
		a, err := answerOn(ctx, s, q)
		return SwapReport{Answers: []SwapAnswer{a}}, err
	}
	report, err := swapOnEach(ctx, machine.StartIn(machine.NewLibrary(r), m.Variants[0], q.Scheme), m, q)
	if err != nil {
		return SwapReport{}, err
	}
	if len(report.Answers) > 1 || len(report.Without) > 0 {
		report.Split, report.SettledBy = m.SplitLines(), report.settledBy(m.IDs())
	}
	return report, nil
}

// swapOnEach answers for each variant, and joins the answers that are the same.
func swapOnEach(ctx context.Context, first *machine.Setup, m queries.Machines, q SwapQuestion) (SwapReport, error) {
	var report SwapReport
	var alike [][]graph.VariantID
	at := map[string]int{}
	var fault error
	for _, v := range m.Variants {
		a, err := answerOn(ctx, first.Sibling(v, q.Scheme), q)
		if missing := (*queries.NotFoundError)(nil); errors.As(err, &missing) && missing.Where == "on "+string(v.ID) {
			report.Without = append(report.Without, SwapWithout{On: v.ID, Why: fmt.Sprintf("it has no %s", missing.Asked)})
			fault = err
			continue
		}
		if err != nil {
			return report, err
		}
		key, err := a.content()
		if err != nil {
			return report, err
		}
		i, have := at[key]
		if !have {
			i = len(report.Answers)
			at[key] = i
			report.Answers, alike = append(report.Answers, a), append(alike, nil)
		}
		alike[i] = append(alike[i], v.ID)
	}
	if len(report.Answers) == 0 {
		return report, fault
	}
	for i := range report.Answers {
		report.Answers[i].Covers = queries.CoveragesOf(alike[i], queries.UniverseOf(m.IDs()))
	}
	return report, nil
}

// anonymous are outcomes without the identities that name their variant.
func anonymous(outcomes []examine.Outcome) []examine.Outcome {
	return lists.Mapped(outcomes, func(o examine.Outcome) examine.Outcome {
		o.AnswerID = ""
		return o
	})
}

// SafetyOpen reports whether something safety-relevant is unknown or does not
// fit on any of the variants.
func (r SwapReport) SafetyOpen() bool {
	return slices.ContainsFunc(r.Answers, SwapAnswer.SafetyOpen)
}

// settledBy names the facts that tell which of the answers holds.
func (r SwapReport) settledBy(universe []graph.VariantID) []string {
	groups := lists.Mapped(r.Answers, func(a SwapAnswer) []queries.Coverage { return a.Covers })
	without := lists.Mapped(r.Without, func(w SwapWithout) graph.VariantID { return w.On })
	all := queries.UniverseOf(universe)
	groups = append(groups, queries.CoveragesOf(without, all))
	var facts []string
	for _, covers := range groups {
		var alike []graph.VariantID
		for _, c := range covers {
			alike = append(alike, c.On...)
		}
		for _, c := range covers {
			facts = append(facts, queries.SettledBy(c, alike, all)...)
			if slices.ContainsFunc(universe, func(id graph.VariantID) bool {
				v := queries.VariantOf(id)
				return !slices.Contains(alike, id) && (v.Year < c.From || v.Year > c.To)
			}) {
				facts = append(facts, "model year")
			}
		}
	}
	return lists.Unique(facts)
}
