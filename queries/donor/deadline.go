package donor

import (
	"context"
	"errors"
	"fmt"
	"sync/atomic"
	"time"
)

// errLate says that the time to look for a plan is over.
var errLate = errors.New("the time to look is over")

// deadline is the context of all that looks for a plan: once the time is over,
// whatever reads or judges under it ends with errLate. It asks a clock that was
// handed in, when it is asked itself; nothing wakes up by it. Several goroutines
// may ask it at once, as those of a database driver do; until is for when none
// reads.
//
// What is left to do once a plan is found, checking it joint by joint and
// printing it, takes time too and is kept back from the start; see keepBack.
type deadline struct {
	context.Context // of the question: when that ends, nobody waits any more
	now             func() time.Time
	began, whole    time.Time // from when until when the time lasts
	end             time.Time // when to stop looking; zero is never
	over            atomic.Bool
}

// newDeadline starts the time of a question, which may have begun before.
func newDeadline(ctx context.Context, q DonorQuestion) *deadline {
	d := &deadline{Context: ctx, now: q.Now, began: q.Began}
	if d.now == nil {
		d.now = time.Now
	}
	if d.began.IsZero() {
		d.began = d.now()
	}
	d.whole = d.began.Add(q.Time)
	return d
}

// Err is errLate once the time to look is over, or the error of the question's
// own context.
func (d *deadline) Err() error {
	if err := d.Context.Err(); err != nil {
		return err
	}
	if d.over.Load() {
		return errLate
	}
	if !d.end.IsZero() && !d.now().Before(d.end) {
		d.over.Store(true)
		return errLate
	}
	return nil
}

// until sets when to stop looking from here on; zero is never, for what must be
// done whatever the time, such as reading the question and checking the plan.
func (d *deadline) until(end time.Time) {
	d.end = end
	d.over.Store(false)
}

// keepBack keeps time for the check of the plan and for printing it: half of what
// has passed until now, from the start of the process to the question read. The
// end takes about that, on the same machine under the same load. At most it is
// a quarter of the whole time.
func (d *deadline) keepBack() {
	d.until(d.whole.Add(-min(d.passed()/2, d.whole.Sub(d.began)/4)))
}

// passed is how much time has passed, left how much there is to look; at least
// a millisecond, since none would mean no limit to those who are told.
func (d *deadline) passed() time.Duration { return d.now().Sub(d.began) }

func (d *deadline) left() time.Duration { return max(time.Millisecond, d.end.Sub(d.now())) }

// hasTimeFor reports whether something that takes so long can be done before
// the whole time is over.
func (d *deadline) hasTimeFor(work time.Duration) bool { return d.now().Add(work).Before(d.whole) }

// outcome is the outcome in words, for a search that ended with the time.
func (d *deadline) outcome(found bool) string {
	what := "no plan"
	if found {
		what = "best"
	}
	return fmt.Sprintf("%s found in %s", what, d.whole.Sub(d.began))
}
