package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/drawing"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph/disk"
	"matewell/queries/gauge"
)

type gaugeOptions struct {
	shelf.Where
	out   string
	force bool
}

func newGaugeCmd(e desk.Env) *cobra.Command {
	var opts gaugeOptions
	cmd := &cobra.Command{
		Use:   "gauge",
		Short: "Draw the sizes of hardware at full size, to find an unlabelled bolt",
		Long: `Gauge draws what the set knows of hardware at full size on A4: bolt diameters,
pitches as combs, spanner sizes, lengths under the head, rings, bearings, hole
circles. Lay the bolt on it. A ruler on each page proves the scale: print at
100 %, and measure it before you trust anything else on the page. Where one page
does not hold all, the others are FILE-2.svg, FILE-3.svg and so on.

A printer is good for half a millimetre at best. What decides about brakes,
steering, wheels or drive is measured with a gauge.`,
		Example: "  matewell gauge --out gauge.svg",
		Args:    wants(0, 0, "no arguments: it draws the sizes of the whole set"),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return runGauge(cmd.Context(), e, opts)
		},
		ValidArgsFunction: nothing,
	}
	addWhere(cmd, &opts.Where)
	cmd.Flags().StringVar(&opts.out, "out", "gauge.svg", "the first page, an SVG `FILE`")
	cmd.Flags().BoolVar(&opts.force, "force", false, "write over files that are not matewell's")
	return cmd
}

func runGauge(ctx context.Context, e desk.Env, opts gaugeOptions) (err error) {
	r, err := shelf.Open(ctx, e, opts.Where)
	if err != nil {
		return err
	}
	defer r.Done(&err)
	sizes, err := gauge.Sizes(ctx, r)
	if err != nil {
		return err
	}
	if err := disk.MayWrite(opts.out); err != nil {
		return fmt.Errorf("write %s: %w", opts.out, err)
	}
	pages := drawing.Gauge(sizes)
	if len(pages) == 0 {
		return fmt.Errorf("no part of the set has a size that could be drawn")
	}
	return desk.WriteDrawings(e, opts.out, pages, opts.force)
}
