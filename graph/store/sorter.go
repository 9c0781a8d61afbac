package store

import (
	"context"
	"fmt"
	"slices"

	"github.com/lanrat/extsort"
)

// sorter puts lines in order: a few in memory, many with the help of files.
// The zero sorter keeps its files where the system keeps such files.
type sorter struct {
	dir   string // where files go
	held  []string
	bytes int
	spill *spill
}

// spill is a sort that uses files.
type spill struct {
	in     chan string
	sorter *extsort.OrderedSorter[string]
	out    <-chan string
	errs   <-chan error
	cancel context.CancelFunc
	done   <-chan struct{}
}

const (
	// heldBytes is how much is sorted in memory before files are used.
	heldBytes = 16 << 20
	// spilledLines is how many lines a file holds; two or three such loads are
	// in memory at a time.
	spilledLines = 50_000
)

func (s *sorter) add(line string) error {
	if s.spill != nil {
		return s.spill.add(line)
	}
	s.held = append(s.held, line)
	if s.bytes += len(line); s.bytes < heldBytes {
		return nil
	}
	s.spill = newSpill(s.dir)
	for _, line := range s.held {
		if err := s.spill.add(line); err != nil {
			return err
		}
	}
	s.held = nil
	return nil
}

func newSpill(dir string) *spill {
	ctx, cancel := context.WithCancel(context.Background())
	in := make(chan string, 256)
	p := &spill{in: in, cancel: cancel}
	p.sorter, p.out, p.errs = extsort.Ordered(in, &extsort.Config{ChunkSize: spilledLines, NumWorkers: 1,
		SortedChanBuffSize: 256, TempFilesDir: dir})
	done := make(chan struct{})
	p.done = done
	go func() {
		p.sorter.Sort(ctx)
		close(done)
	}()
	return p
}

func (p *spill) add(line string) error {
	select {
	case p.in <- line:
		return nil
	case err := <-p.errs:
		return fmt.Errorf("store: sort: %w", err)
	}
}

// each visits the lines in order and ends the sort.
func (s *sorter) each(ctx context.Context, visit func(string) error) error {
	if s.spill == nil {
		slices.Sort(s.held)
		for _, line := range s.held {
			if err := visit(line); err != nil {
				return err
			}
		}
		return ctx.Err()
	}
	close(s.spill.in)
	defer s.close()
	for line := range s.spill.out {
		if err := visit(line); err != nil {
			return err
		}
		if err := ctx.Err(); err != nil {
			return err
		}
	}
	if err := <-s.spill.errs; err != nil {
		return fmt.Errorf("store: sort: %w", err)
	}
	return ctx.Err()
}

// close ends a sort that may not have been read to its end.
func (s *sorter) close() {
	if s.spill == nil {
		return
	}
	s.spill.cancel()
	for range s.spill.out { // so that nobody waits to be read
	}
	<-s.spill.done
}
