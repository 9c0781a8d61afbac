package main

import (
	"context"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/graph"
	"matewell/queries/bike"
)

func newBikeBuildCmd(e desk.Env) *cobra.Command {
	return bikeWorkCommand(e, runBikeBuild, cobra.Command{
		Use:   "build NAME [--assembly ASSEMBLY]",
		Short: "Tell in which order the machine goes together, and what can be built today",
		Long: `Build tells in which order what is not on your machine yet goes on, from how the
places say they follow one another and how the machine is joined together: bolts
after what they hold, an axle after what it carries, hoses after what they go to.

Each assembly says how much of it can be built today out of boxes and bags, and
what holds up the rest. A place waits when its part is there and something that
goes on before it is not. What goes on new every time must be bought.`,
		Example: `  matewell bike build winter-project
  matewell bike build winter-project --assembly front-brake`,
	})
}

func runBikeBuild(ctx context.Context, e desk.Env, opts bikeAskOptions) error {
	return ask(ctx, e, opts.askOptions, bike.BikeBuild, opts.BikeWorkQuestion, bikeBuildPage)
}

func bikeBuildPage(a bike.BikeBuildAnswer) page.Page {
	about := page.Section{Title: "How " + string(a.Bike) + " goes together"}
	about.Table = page.Table{Columns: []string{"assembly", "to fit", "today", "held up most by"},
		Detail: "held up most by"}
	for _, line := range a.Assemblies {
		about.Table.Add(line.Name, strconv.Itoa(line.Left), strconv.Itoa(line.Today), blockText(line.Blocks))
	}
	about.After = []string{fmt.Sprintf("%d of %d places can be fitted today with what is there.", a.Today, a.Left)}
	if a.Left == 0 {
		about.Lines, about.After = []string{"Nothing is left to fit."}, nil
	}
	order := page.Section{Title: "In this order"}
	order.Table = page.Table{Columns: []string{"stage", "position", "pieces", "part", "state", "with"}, Group: "stage",
		Detail: "with"}
	order.Rows.Columns = []string{"stage", "assembly", "position", "safety", "pieces", "part", "state", "from",
		"waits_for", "takes"}
	for i, stage := range a.Stages {
		name := fmt.Sprintf("%d %s", i+1, stage.Name)
		for _, p := range stage.Fit {
			order.Table.Add(name, page.Place(p.Position), strconv.Itoa(p.Quantity), page.Hard(p.Part), buildState(p),
				buildWith(p))
			order.Rows.Add(strconv.Itoa(i+1), stage.Assembly.Local(), p.Position.Local(), string(p.Safety),
				strconv.Itoa(p.Quantity),
				string(p.Part), p.State, page.Join(p.From, func(u bike.BoxUse) string { return u.Box }),
				page.Join(p.HeldUp, graph.PositionID.Local), page.Join(p.Takes, func(s string) string { return s }))
		}
	}
	if len(a.Cycle) > 0 {
		order.After = []string{"These each wait for another of them, which no order satisfies: " + places(a.Cycle) +
			". The data says so under \"after\"."}
	}
	return page.Page{about, order, cautionSection(a.Cautions)}
}

// blockText names what holds up most of an assembly.
func blockText(blocks []bike.BuildBlock) string {
	const shown = 3
	text := page.Join(blocks[:min(shown, len(blocks))], func(b bike.BuildBlock) string {
		return fmt.Sprintf("%s (%s; holds up %d)", page.Place(b.Position), b.State, b.HoldsUp)
	})
	if more := len(blocks) - shown; more > 0 {
		text += fmt.Sprintf(" and %d more", more)
	}
	return text
}

func buildState(p bike.BuildPlace) string {
	if p.Safety != "" {
		return p.State + " (" + string(p.Safety) + ")"
	}
	return p.State
}

// buildWith is where a part lies, what it waits for and what goes on with it.
func buildWith(p bike.BuildPlace) string {
	var lines []string
	if p.Why != "" {
		lines = append(lines, p.Why)
	}
	for _, use := range p.From {
		lines = append(lines, boxUseText(use))
	}
	if len(p.MovesOver) > 0 {
		lines = append(lines, "moves over from that: "+page.Join(p.MovesOver, page.Place))
	}
	if p.Renew {
		lines = append(lines, "new every time")
	}
	if p.Bench != "" {
		lines = append(lines, benchText(p.Bench))
	}
	if p.State == bike.BuildWaits {
		lines = append(lines, "waits for "+places(p.HeldUp))
	}
	for _, takes := range p.Takes {
		lines = append(lines, "with "+takes)
	}
	return page.EachOnLine(lines, func(s string) string { return s })
}
