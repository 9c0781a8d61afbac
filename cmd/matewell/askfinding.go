package main

import (
	"context"
	"errors"
	"strings"

	"github.com/charmbracelet/huh"

	"matewell/graph"
	"matewell/queries"
)

// askFinding asks for a finding, question by question, on a terminal. What was
// given on the command line is filled in already.
func (e env) askFinding(ctx context.Context, r graph.Reader, q *queries.RecordQuestion) error {
	if !e.InTerm || !e.OutTerm {
		return usagef("record wants a part number")
	}
	if q.By == "" {
		name, err := e.userName()
		if err != nil {
			return err
		}
		q.By = name
	}
	changes, measured, photos := strings.Join(q.Changes, "\n"), strings.Join(q.Measured, "\n"), strings.Join(q.Photos, "\n")
	form := huh.NewForm(
		huh.NewGroup(
			huh.NewInput().Title("Part number").Value(&q.Part).Validate(func(typed string) error {
				_, err := queries.PartFor(ctx, r, typed)
				return err
			}),
			huh.NewInput().Title("On which machine?").Description("skerry-620/2004/eu, or one of your bikes; empty if you only measured").
				Value(&q.On).Validate(e.machineTyped(ctx, r)),
			huh.NewInput().Title("At which position?").Description("front-brake/caliper-left").Value(&q.Position).
				Validate(func(typed string) error { return positionTyped(ctx, r, q.On, typed) }),
			huh.NewSelect[string]().Title("Verdict").Options(huh.NewOptions(append(verdictWords(), "")...)...).Value(&q.Verdict),
			huh.NewText().Title("What had to be done?").Description("a line each: what; effort; part").Value(&changes).Lines(3),
		),
		huh.NewGroup(
			huh.NewText().Title("What did you measure?").Description("a line each: feature.dimension=value; gauge").Value(&measured).Lines(3),
			huh.NewSelect[string]().Title("How do you know?").Options(huh.NewOptions(methodWords()...)...).Value(&q.Method),
			huh.NewText().Title("Photo files").Description("a line each; may be empty").Value(&photos).Lines(2),
			huh.NewInput().Title("Note").Value(&q.Note),
			huh.NewInput().Title("Who are you?").Description("a nickname will do").Value(&q.By),
		),
	).WithInput(e.In).WithOutput(e.Out).WithAccessible(e.Getenv("TERM") == "dumb" || e.Getenv("ACCESSIBLE") != "")
	err := form.RunWithContext(ctx)
	if errors.Is(err, huh.ErrUserAborted) {
		return context.Canceled
	}
	q.Changes, q.Measured, q.Photos = filledLines(changes), filledLines(measured), filledLines(photos)
	return err
}

// machineTyped checks a machine as it is typed; none is one too.
func (e env) machineTyped(ctx context.Context, r graph.Reader) func(string) error {
	return func(typed string) error {
		if typed == "" {
			return nil
		}
		_, err := queries.MachinesFor(ctx, r, queries.MachineQuestion{On: typed})
		return err
	}
}

func positionTyped(ctx context.Context, r graph.Reader, on, typed string) error {
	if on == "" && typed == "" {
		return nil
	}
	machines, err := queries.MachinesFor(ctx, r, queries.MachineQuestion{On: on})
	if err != nil {
		return err
	}
	_, err = queries.PositionFor(ctx, r, machines.Model, typed)
	return err
}

// filledLines are the lines of a text that hold something.
func filledLines(text string) []string {
	var lines []string
	for line := range strings.Lines(text) {
		if line = strings.TrimSpace(line); line != "" {
			lines = append(lines, line)
		}
	}
	return lines
}
