package queries

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"matewell/graph"
)

// SwapReport is what a swap implies on every variant that the question names.
type SwapReport struct {
	// Answers holds one answer for all variants on which it is the same, in the
	// order of their first variants; at least one.
	Answers []SwapAnswer `json:"answers"`
	// Split lists the variants when there are several answers, and SettledBy
	// the facts that tell which one holds, sorted: "frame number", "market",
	// "model year".
	Split     []SplitLine `json:"split,omitempty"`
	SettledBy []string    `json:"settled_by,omitempty"`
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
	m, err := MachinesFor(ctx, r, MachineQuestion{On: q.On, Market: q.Market, Frame: q.Frame})
	if err != nil {
		return SwapReport{}, err
	}
	if m.Bike != "" || len(m.Variants) < 2 || len(m.Variants) > mostSwapVariants {
		s, err := setupFor(ctx, r, m, q.Scheme)
		if err != nil {
			return SwapReport{}, err
		}
		a, err := s.swap(ctx, q)
		return SwapReport{Answers: []SwapAnswer{a}}, err
	}
	report, err := swapOnEach(ctx, setupOf(newLibrary(r), m.Variants[0], q.Scheme), m, q)
	if err != nil {
		return SwapReport{}, err
	}
	if len(report.Answers) > 1 || len(report.Without) > 0 {
		report.Split, report.SettledBy = m.splitLines(), report.settledBy(m.IDs())
	}
	return report, nil
}

// swapOnEach answers for each variant, and joins the answers that are the same.
func swapOnEach(ctx context.Context, first *Setup, m Machines, q SwapQuestion) (SwapReport, error) {
	var report SwapReport
	var alike [][]graph.VariantID
	at := map[string]int{}
	var fault error
	for _, v := range m.Variants {
		a, err := first.Sibling(v, q.Scheme).swap(ctx, q)
		if missing := (*NotFoundError)(nil); errors.As(err, &missing) && missing.Where == "on "+string(v.ID) {
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
		report.Answers[i].Covers = coveragesOf(alike[i], m.IDs())
	}
	return report, nil
}

// content is all that an answer says but for the variant it says it of.
func (a SwapAnswer) content() (string, error) {
	plain := a
	plain.ID, plain.On, plain.Covers = "", "", nil
	plain.Mates, plain.WithChanges = anonymous(a.Mates), anonymous(a.WithChanges)
	plain.DoesNotMate, plain.Unknown = anonymous(a.DoesNotMate), anonymous(a.Unknown)
	plain.Numbers = mapped(a.Numbers, func(n Number) Number {
		n.AnswerID = ""
		return n
	})
	if a.Then != nil {
		then := *a.Then
		then.ID = ""
		then.Left = anonymous(then.Left)
		plain.Then = &then
	}
	text, err := json.Marshal(plain)
	return string(text), err
}

// anonymous are outcomes without the identities that name their variant.
func anonymous(outcomes []Outcome) []Outcome {
	return mapped(outcomes, func(o Outcome) Outcome {
		o.AnswerID = ""
		return o
	})
}

// SafetyOpen reports whether something safety-relevant is unknown or does not
// fit on any of the variants.
func (r SwapReport) SafetyOpen() bool {
	return slices.ContainsFunc(r.Answers, func(a SwapAnswer) bool { return !a.Ready })
}

// settledBy names the facts that tell which of the answers holds.
func (r SwapReport) settledBy(universe []graph.VariantID) []string {
	groups := mapped(r.Answers, func(a SwapAnswer) []Coverage { return a.Covers })
	without := mapped(r.Without, func(w SwapWithout) graph.VariantID { return w.On })
	groups = append(groups, coveragesOf(without, universe))
	var facts []string
	for _, covers := range groups {
		var alike []graph.VariantID
		for _, c := range covers {
			alike = append(alike, c.On...)
		}
		for _, c := range covers {
			facts = append(facts, settledBy(c, alike, universe)...)
			if slices.ContainsFunc(universe, func(id graph.VariantID) bool {
				v := variantOf(id)
				return !slices.Contains(alike, id) && (v.Year < c.From || v.Year > c.To)
			}) {
				facts = append(facts, "model year")
			}
		}
	}
	return unique(facts)
}

// splitLines lists the variants that an expression names.
func (m Machines) splitLines() []SplitLine {
	return mapped(m.Variants, func(v graph.Variant) SplitLine {
		line := SplitLine{Variant: v.ID, Market: v.Market}
		if !v.Frames.IsZero() {
			line.Frames = v.Frames.String()
		}
		return line
	})
}

// settledBy names the facts in which the variants differ: "model year",
// "market", "frame number".
func (m Machines) settledBy() []string {
	years, markets, seasons := map[int]bool{}, map[string]bool{}, map[season]bool{}
	for _, v := range m.Variants {
		years[v.Year], markets[v.Market], seasons[seasonOf(v)] = true, true, true
	}
	var facts []string
	if len(years) > 1 {
		facts = append(facts, "model year")
	}
	if len(markets) > 1 {
		facts = append(facts, "market")
	}
	if len(seasons) < len(m.Variants) {
		facts = append(facts, "frame number")
	}
	return facts
}
