package queries_test

import (
	"context"
	"fmt"
	"strings"

	"matewell/graph"
	"matewell/queries"
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
		case option == "twins":
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

// answerText asks the question and writes the answer as a story shows it.
func answerText(ctx context.Context, r graph.Reader, line string) string {
	q := readAsk(line)
	var text string
	var err error
	switch q.verb {
	case "fits":
		var a queries.FitsAnswer
		a, err = queries.Fits(ctx, r, queries.FitsQuestion{Part: strings.Join(q.args, " "), On: q.options["on"],
			Market: q.options["market"], Frame: q.options["frame"], Position: q.options["position"],
			Assembly: q.options["assembly"], Twins: q.options["twins"] != ""})
		text = fitsText(a)
	case "differ":
		var a queries.DifferAnswer
		a, err = queries.Differ(ctx, r, queries.DifferQuestion{A: q.arg(0), B: q.arg(1), Market: q.options["market"],
			Assembly: q.options["assembly"], Position: q.options["position"]})
		text = differText(a)
	case "part":
		var a queries.PartAnswer
		a, err = queries.Part(ctx, r, queries.PartQuestion{Part: strings.Join(q.args, " ")})
		text = partText(a)
	case "where":
		var a queries.WhereAnswer
		a, err = queries.Where(ctx, r, queries.WhereQuestion{Part: strings.Join(q.args, " ")})
		text = whereText(a)
	case "identify":
		var a queries.IdentifyAnswer
		a, err = queries.Identify(ctx, r, queries.IdentifyQuestion{Frame: q.options["frame"],
			On: strings.Join(q.args, " "), Market: q.options["market"]})
		text = identifyText(a)
	case "find":
		var a queries.FindAnswer
		a, err = queries.Find(ctx, r, queries.FindQuestion{Text: strings.Join(q.args, " "), On: q.options["on"]})
		text = findText(a)
	default:
		err = fmt.Errorf("the story asks %q, which no question is called", q.verb)
	}
	if err != nil {
		return "error: " + err.Error() + "\n"
	}
	return text
}
