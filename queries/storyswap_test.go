package queries_test

import (
	"fmt"
	"strconv"
	"strings"

	"matewell/queries/mating"
	"matewell/queries/swap"
)

// swapRest writes what follows from the outcomes of a swap, a line for each
// thing, in the order of the answer.
func swapRest(b *strings.Builder, a swap.SwapAnswer) {
	for _, t := range a.Trails {
		fmt.Fprintf(b, "trail: %s: %s, %s\n", t.Text, t.Ends, t.Steps[len(t.Steps)-1].What)
	}
	for _, g := range a.Get {
		fmt.Fprintf(b, "get: %s: %s %s%s\n", g.Position.Local(), g.What, g.Text, specText(g.Spec))
		if len(g.Also) > 0 {
			fmt.Fprintf(b, "    also: %s\n", joinText(g.Also))
		}
	}
	if t := a.Then; t != nil {
		fmt.Fprintf(b, "with those on: %s, ready %v\n", t.VerdictWords(), t.Ready)
		for _, o := range t.Left {
			fmt.Fprintf(b, "    left: %s %s | %s: %s\n", o.What, o.ID, o.After, o.Why)
		}
	}
	for _, r := range a.Renew {
		fmt.Fprintf(b, "renew: %d x %s %s\n", max(1, r.Quantity), r.Text, r.Position.Local())
	}
	for _, m := range a.Measure {
		fmt.Fprintf(b, "measure: %s of %s, %s to %s\n", m.What, m.Where, m.Gauge, m.Accuracy)
	}
	for _, n := range a.Numbers {
		fmt.Fprintf(b, "number: %s: %s -> %s %s", n.Name, numberText(n.Before), numberText(n.After),
			strings.TrimSpace(n.Unit+" "+n.Change))
		if n.Donor != nil {
			fmt.Fprintf(b, ", donor %s", numberText(n.Donor))
		}
		if n.Words != "" {
			fmt.Fprintf(b, ": %s", n.Words)
		}
		b.WriteByte('\n')
	}
	for _, row := range a.Torques {
		fmt.Fprintf(b, "torque: %s: %s\n", row.Joint, strings.TrimSpace(row.Torque+" "+row.See))
		for _, g := range row.Given {
			fmt.Fprintf(b, "    given: %s for %s (%s)\n", g.Value, g.For, g.Source.ID)
		}
	}
	fmt.Fprintf(b, "ready to ride: %v\n", a.Ready)
}

func specText(spec []mating.Field) string {
	var fields []string
	for _, f := range spec {
		fields = append(fields, f.Name+" "+f.Value)
	}
	if len(fields) == 0 {
		return ""
	}
	return " {" + strings.Join(fields, "; ") + "}"
}

func numberText(v *float64) string {
	if v == nil {
		return "-"
	}
	return strconv.FormatFloat(*v, 'f', -1, 64)
}

func joinText[T ~string](list []T) string {
	words := make([]string, len(list))
	for i, one := range list {
		words[i] = string(one)
	}
	return strings.Join(words, ", ")
}
