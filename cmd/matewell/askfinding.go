package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"golang.org/x/term"

	"matewell/cmd/matewell/internal/desk"
	"matewell/graph"
	"matewell/queries"
	"matewell/queries/evidence"
)

// asker asks a person on a terminal, a line to a question.
type asker struct {
	*term.Terminal
	words []string // what the Tab key completes to, at the question asked now
}

// asked is one question.
type asked struct {
	label string
	hint  string // an example; may be empty
	value *string
	words func() []string          // what the Tab key offers; may be nil
	check func(typed string) error // what is wrong with what was typed; may be nil
}

// askFinding asks for a finding, question by question. What was given on the
// command line is offered as the answer already.
func askFinding(ctx context.Context, e desk.Env, r graph.Reader, q *evidence.RecordQuestion) error {
	if !e.InTerm || !e.OutTerm {
		return desk.Usagef("record wants a part number")
	}
	if q.By == "" {
		name, err := userName(e)
		if err != nil {
			return err
		}
		q.By = name
	}
	restore, err := e.Raw()
	if err != nil {
		return err
	}
	defer restore()
	a := &asker{Terminal: term.NewTerminal(readWriter{e.In, e.Out}, "")}
	a.AutoCompleteCallback = a.completeLine
	fmt.Fprint(a, "Enter keeps what stands in brackets, Tab completes, Ctrl-D stops.\n")
	changes, measured, photos := strings.Join(q.Changes, " / "), strings.Join(q.Measured, " / "), strings.Join(q.Photos,
		" / ")
	for _, question := range []asked{
		{"Part number", "", &q.Part, namesFrom(ctx, r, partWords), func(typed string) error {
			_, err := queries.PartFor(ctx, r, typed)
			return err
		}},
		{"On which machine", "skerry-620/2004/eu, or a bike of yours; nothing if you only measured", &q.On,
			namesFrom(ctx, r, variantWords), func(typed string) error { return machineTyped(ctx, r, typed) }},
		{"At which position", "front-brake/caliper-left", &q.Position, namesFrom(ctx, r, positionsOn(&q.On)),
			func(typed string) error { return positionTyped(ctx, r, q.On, typed) }},
		{"Verdict", graph.OrList(graph.VerdictWords()), &q.Verdict, graph.VerdictWords, oneOfOrNone(graph.VerdictWords)},
		{"What had to be done", "what; effort; part, with a slash between several", &changes, nil, nil},
		{"What did you measure", "port.thread=M10x1; thread gauge, with a slash between several", &measured, nil, nil},
		{"How do you know", graph.OrList(methodWords()), &q.Method, methodWords, oneOfOrNone(methodWords)},
		{"Photo files", "with a slash between several", &photos, nil, nil},
		{"Note", "", &q.Note, nil, nil},
		{"Who are you", "a nickname will do", &q.By, nil, nil},
	} {
		if err := a.ask(ctx, question); err != nil {
			return err
		}
	}
	q.Changes, q.Measured, q.Photos = parts(changes), parts(measured), parts(photos)
	return nil
}

// ask puts a question until it has an answer that will do.
func (a *asker) ask(ctx context.Context, q asked) error {
	prompt := q.label
	if q.hint != "" {
		fmt.Fprintf(a, "  (%s)\n", q.hint)
	}
	if *q.value != "" {
		prompt += " [" + *q.value + "]"
	}
	a.SetPrompt(prompt + "? ")
	a.words = nil
	if q.words != nil {
		a.words = q.words()
	}
	for {
		typed, err := a.ReadLine()
		if errors.Is(err, io.EOF) || ctx.Err() != nil {
			return context.Canceled
		}
		if err != nil && !errors.Is(err, term.ErrPasteIndicator) {
			return err
		}
		if typed = strings.TrimSpace(typed); typed == "" {
			typed = *q.value
		}
		if q.check != nil {
			if err := q.check(typed); err != nil {
				fmt.Fprintf(a, "  %v\n", err)
				continue
			}
		}
		*q.value = typed
		return nil
	}
}

// completeLine completes what was typed as far as the words agree.
func (a *asker) completeLine(line string, pos int, key rune) (string, int, bool) {
	if key != '\t' || pos != len(line) {
		return "", 0, false
	}
	fits := slices.DeleteFunc(slices.Clone(a.words), func(word string) bool { return !strings.HasPrefix(word, line) })
	if len(fits) == 0 {
		return line, pos, true
	}
	common := fits[0]
	for _, word := range fits[1:] {
		for !strings.HasPrefix(word, common) {
			common = common[:len(common)-1]
		}
	}
	return common, len(common), true
}

// namesFrom reads the words the Tab key offers; without any it offers none.
func namesFrom(ctx context.Context, r graph.Reader, words wordsFrom) func() []string {
	return func() []string {
		found, err := words(ctx, r, "")
		if err != nil {
			return nil
		}
		return found
	}
}

func oneOfOrNone(words func() []string) func(string) error {
	return func(typed string) error {
		if typed == "" || slices.Contains(words(), typed) {
			return nil
		}
		return fmt.Errorf("want %s, or nothing", graph.OrList(words()))
	}
}

// machineTyped checks a machine as it is typed; none is one too.
func machineTyped(ctx context.Context, r graph.Reader, typed string) error {
	if typed == "" {
		return nil
	}
	_, err := queries.MachinesFor(ctx, r, queries.MachineQuestion{On: typed})
	return err
}

func positionTyped(ctx context.Context, r graph.Reader, on, typed string) error {
	switch {
	case on == "" && typed == "":
		return nil
	case on == "":
		return errors.New("a position belongs to a machine, and none was named")
	case typed == "":
		return nil
	}
	machines, err := queries.MachinesFor(ctx, r, queries.MachineQuestion{On: on})
	if err != nil {
		return err
	}
	_, err = queries.PositionFor(ctx, r, machines.Model, typed)
	return err
}

// parts are what stands between slashes with a blank on either side.
func parts(text string) []string {
	var all []string
	for _, part := range strings.Split(text, " / ") {
		if part = strings.TrimSpace(part); part != "" {
			all = append(all, part)
		}
	}
	return all
}

// readWriter joins the two halves of a terminal.
type readWriter struct {
	io.Reader
	io.Writer
}
