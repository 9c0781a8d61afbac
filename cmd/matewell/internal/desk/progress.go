package desk

import (
	"io"
	"sync"
	"time"

	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"
)

// Patience is how long work may take before a bar shows that it goes on.
const Patience = 500 * time.Millisecond

// progress shows how far a long piece of work is, to a person only. Its zero
// value shows nothing.
type progress struct {
	out   io.Writer // nil when nobody watches
	what  string
	start time.Time
	now   func() time.Time

	mu   sync.Mutex
	bars *mpb.Progress
	bar  *mpb.Bar
}

// NewProgress begins to watch a piece of work. The caller must call stop.
func NewProgress(e Env, what string) *progress {
	if !e.ErrTerm || e.Bars == nil {
		return &progress{}
	}
	return &progress{out: e.Bars, what: what, start: e.Now(), now: e.Now}
}

// Step says that done of total are done. Nothing shows before patience ends.
func (p *progress) Step(done, total int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.out == nil || p.bar == nil && (p.now().Sub(p.start) < Patience || done >= total) {
		return
	}
	if p.bar == nil {
		p.bars = mpb.New(mpb.WithOutput(p.out), mpb.WithWidth(40))
		p.bar = p.bars.New(int64(total), mpb.BarStyle().Lbound("").Rbound("").Filler("=").Tip(">").Padding(" "),
			mpb.BarRemoveOnComplete(),
			mpb.PrependDecorators(decor.Name(p.what+" ")),
			mpb.AppendDecorators(decor.Percentage()))
	}
	p.bar.SetTotal(int64(total), false)
	p.bar.SetCurrent(int64(done))
}

// Stop takes the bar away. It may be called more than once.
func (p *progress) Stop() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.bar == nil {
		return
	}
	p.bar.Abort(true)
	p.bars.Wait()
	p.bar, p.out = nil, nil
}
