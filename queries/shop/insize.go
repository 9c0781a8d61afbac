package shop

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
)

// mostBolts is how many bolts of a set are looked through for one of a size, and mostNamed how
// many numbers of it are named.
const mostBolts, mostNamed = 5000, 3

// inSize names for each bolt that is ordered by its sizes what is sold in just that size: one
// thread, a length that the order allows, no lower a class. Where nothing limits the length it
// is the shortest that does.
func inSize(ctx context.Context, r graph.Reader, made []Made) error {
	if !slices.ContainsFunc(made, func(m Made) bool { return m.What == "bolt" }) {
		return nil
	}
	ids, err := r.PartsOfKindUpTo(ctx, mostBolts, "bolt")
	if err != nil {
		return err
	}
	bolts, err := r.Parts(ctx, ids...)
	for i, m := range made {
		if numbers := numbersFor(m, bolts); m.What == "bolt" && len(numbers) > 0 {
			made[i].Spec = append(slices.Clone(m.Spec), mating.Field{Name: "on sale in this size",
				Value: strings.Join(numbers, ", ") + "; look at head and class"})
		}
	}
	return err
}

// numbersFor are the numbers of bolts of the size of an order, with their heads and classes; a
// few, sorted.
func numbersFor(m Made, bolts []graph.Part) []string {
	low, high, ok := lengthOf(fieldOf(m.Spec, "length"))
	thread, class := fieldOf(m.Spec, "thread"), fieldOf(m.Spec, "class")
	if !ok || thread == "" {
		return nil
	}
	byLength := map[float64][]string{}
	for _, bolt := range bolts {
		f, _ := machine.FeatureOfKind(bolt, "male-thread")
		long, known := machine.LengthIn(f, "length")
		if !known || bolt.Gone || machine.BestText(f, "thread") != thread || long < low || long > high ||
			!mating.ServesOrder(machine.BestText(f, "class"), class) {
			continue
		}
		byLength[long] = append(byLength[long], fmt.Sprintf("%s (%s)", bolt.ID, strings.Join(lists.Kept([]string{
			measure.Format(long, measure.Length), machine.BestText(f, "head"), machine.BestText(f, "class")},
			func(s string) bool { return s != "" }), ", ")))
	}
	if len(byLength) == 0 {
		return nil
	}
	numbers := byLength[slices.Min(lists.KeysOf(byLength))]
	slices.Sort(numbers)
	return numbers[:min(mostNamed, len(numbers))]
}

// lengthOf is between what a length of an order lies: "40 mm under the head", "29 to 34 mm ...",
// "at least 56 mm ...". False for one in words.
func lengthOf(text string) (low, high float64, ok bool) {
	text, isLeast := strings.CutPrefix(text, "at least ")
	for _, end := range []string{" under the head", " over all", " long"} {
		text = strings.TrimSuffix(text, end)
	}
	if from, to, isRange := strings.Cut(text, " to "); isRange {
		a, errA := measure.ParseQuantity(from, measure.Length)
		b, errB := measure.ParseQuantity(to, measure.Length)
		return a.Nominal, b.Nominal, errA == nil && errB == nil
	}
	q, err := measure.ParseQuantity(text, measure.Length)
	// How lengths are read, and how much longer a bolt is still of use, in mm. Common practice, no source.
	const near, longer = 0.05, 5
	if isLeast {
		return q.Nominal - near, q.Nominal + longer, err == nil
	}
	return q.Low - near, q.High + near, err == nil
}

func fieldOf(spec []mating.Field, name string) string {
	at := slices.IndexFunc(spec, func(f mating.Field) bool { return f.Name == name })
	if at < 0 {
		return ""
	}
	return spec[at].Value
}
