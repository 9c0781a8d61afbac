package loader

import (
	"context"

	"matewell/graph"
)

// fetch is filled in below.
func (w *world) fetch(ctx context.Context, base graph.Reader) error { return nil }
