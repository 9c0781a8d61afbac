package queries_test

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/queries/conflicts"
	"matewell/queries/differ"
	"matewell/queries/fits"
	"matewell/queries/part"
	"matewell/queries/swap"
	"matewell/queries/why"
)

// words splits a line as a shell would: at blanks, except inside of quotes.
func words(line string) []string {
	var out []string
	var word strings.Builder
	quoted, any := false, false
	for _, c := range line + " " {
		switch {
		case c == '"':
			quoted, any = !quoted, true
		case c == ' ' && !quoted:
			if any {
				out = append(out, word.String())
			}
			word.Reset()
			any = false
		default:
			word.WriteRune(c)
			any = true
		}
	}
	return out
}

// asked is a question taken apart: its verb, its plain arguments, its options.
type asked struct {
	verb    string
	args    []string
	options map[string]string
}

func readAsk(line string) asked {
	q := asked{options: map[string]string{}}
	all := words(line)
	q.verb = all[0]
	for i := 1; i < len(all); i++ {
		option, isOption := strings.CutPrefix(all[i], "--")
		switch {
		case !isOption:
			q.args = append(q.args, all[i])
		case slices.Contains([]string{"twins", "safety", "boxes", "plan", "donor-stays"}, option):
			q.options[option] = "yes"
		default:
			i++
			q.options[option] = all[i]
		}
	}
	return q
}

func (q asked) arg(i int) string {
	if i < len(q.args) {
		return q.args[i]
	}
	return ""
}

// swaps are the parts that a question puts at positions.
func (q asked) swaps() ([]swap.Replacement, error) {
	var swaps []swap.Replacement
	for _, arg := range q.args {
		swap, err := swap.ParseSwap(arg)
		if err != nil {
			return nil, err
		}
		swaps = append(swaps, swap)
	}
	return swaps, nil
}

// answerText asks the question and writes the answer as a story shows it.
func answerText(ctx context.Context, r graph.Reader, line string) (string, any) {
	answer, text, err := answerTo(ctx, r, readAsk(line))
	if err != nil {
		return "error: " + err.Error() + "\n", nil
	}
	return text, answer
}

func answerTo(ctx context.Context, r graph.Reader, q asked) (any, string, error) {
	all := strings.Join(q.args, " ")
	switch q.verb {
	case "donor":
		return planAnswer(ctx, r, q)
	case "fits":
		a, err := swap.Fits(ctx, r, fits.FitsQuestion{Part: all, On: q.options["on"],
			Market: q.options["market"], Frame: q.options["frame"], Position: q.options["position"],
			Assembly: q.options["assembly"], Twins: q.options["twins"] != ""})
		return a, fitsText(a), err
	case "differ":
		a, err := differ.Differ(ctx, r, differ.DifferQuestion{A: q.arg(0), B: q.arg(1), Market: q.options["market"],
			Assembly: q.options["assembly"], Position: q.options["position"]})
		return a, differText(a), err
	case "bike":
		return bikeAnswer(ctx, r, q)
	case "part":
		a, err := part.Part(ctx, r, part.PartQuestion{Part: all})
		return a, partText(a), err
	case "why":
		a, err := why.Why(ctx, r, why.WhyQuestion{ID: all})
		return a, whyText(a), err
	case "conflicts":
		a, err := conflicts.Conflicts(ctx, r, conflicts.ConflictsQuestion{On: q.options["on"], Part: q.options["part"],
			Position: q.options["position"], Safety: q.options["safety"] != ""})
		return a, conflictsText(a), err
	case "swap":
		if q.options["plan"] != "" {
			return planAnswer(ctx, r, q)
		}
		swaps, err := q.swaps()
		if err != nil {
			return nil, "", err
		}
		a, err := swap.Swap(ctx, r, swap.SwapQuestion{On: q.options["on"], Swaps: swaps})
		return unfilled{swap.SwapReport{Answers: []swap.SwapAnswer{a}}}, swapText(a), err
	case "where":
		a, err := part.Where(ctx, r, part.WhereQuestion{Part: all})
		return a, whereText(a), err
	case "identify":
		a, err := part.Identify(ctx, r, part.IdentifyQuestion{Frame: q.options["frame"], On: all,
			Market: q.options["market"]})
		return a, identifyText(a), err
	case "find":
		a, err := part.Find(ctx, r, part.FindQuestion{Text: all, On: q.options["on"]})
		return a, findText(a), err
	}
	return nil, "", fmt.Errorf("the story asks %q, which no question is called", q.verb)
}
