package main

import (
	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/drawing"
	"matewell/queries/figure"
	"matewell/queries/swap"
)

// drawSwap writes the picture of an answer, page after page and, where points, paths
// or rows are touched, one more with those to scale.
func drawSwap(e desk.Env, file string, a swap.SwapAnswer, f figure.Figures, force bool) error {
	pages := drawing.Swap(a, verdictLine(a))
	if !f.IsEmpty() {
		pages = append(pages, drawing.Figures(f))
	}
	return desk.WriteDrawings(e, file, pages, force)
}
