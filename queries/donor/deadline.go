package donor

import (
	"context"
	"errors"
	"fmt"
	"time"
)

// errLate says that the time to look for a plan is over.
var errLate error = lateError{}

type lateError struct{}

// Error says that the time is over.
func (lateError) Error() string { return "the time to look is over" }

// Is makes it a deadline that was exceeded, for whoever reads under the context.
func (lateError) Is(target error) bool { return target == context.DeadlineExceeded }

// deadline is the context of all that looks for a plan: once the time is over,
// whatever reads or judges under it ends with errLate. Its end is that of a context
// derived from the question's, which closes Done by a timer; asked for its error it
// also looks at the clock, so that no judgement begins too late where nobody waits
// on Done. A clock that was handed in has no timer: it is over when it is asked and
// says so. Several goroutines may ask it at once, as those of a database driver do;
// until is for when none reads.
//
// What is left to do once a plan is found, checking it joint by joint and
// printing it, takes time too and is kept back from the start; see keepBack.
type deadline struct {
	context.Context // ends when the time to look is over
	question        context.Context
	cancel          context.CancelCauseFunc
	stop            context.CancelFunc // of the timer
	now             func() time.Time
	ticks           bool            // now is the clock of the machine
	began, whole    time.Time       // from when until when the time lasts
	end             time.Time       // when to stop looking; zero is never
	enough          <-chan struct{} // closed when the person has seen enough; may be nil
}

// newDeadline starts the time of a question, which may have begun before.
func newDeadline(ctx context.Context, q DonorQuestion) *deadline {
	d := &deadline{question: ctx, now: q.Now, began: q.Began, enough: q.Stop}
	if d.now == nil {
		d.now, d.ticks = time.Now, true
	}
	if d.began.IsZero() {
		d.began = d.now()
	}
	d.whole = d.began.Add(q.Time)
	d.until(time.Time{})
	return d
}

// Err is errLate once the time to look is over, or the error of the question's
// own context.
func (d *deadline) Err() error {
	if !d.isOver() && !d.end.IsZero() && (d.stopped() || !d.now().Before(d.end)) {
		d.cancel(errLate)
	}
	if d.isOver() && context.Cause(d.Context) == errLate {
		return errLate
	}
	return d.Context.Err()
}

// ended reports whether an error comes of the time being over; a reader may have
// it from a context of its own, derived from this one.
func (d *deadline) ended(err error) bool {
	return errors.Is(err, errLate) || d.Err() == errLate && (errors.Is(err, context.DeadlineExceeded) ||
		errors.Is(err, context.Canceled))
}

// isOver reports whether the end was noticed already; it does not look at the
// clock.
func (d *deadline) isOver() bool { return d.Context.Err() != nil }

// stopped reports whether the person has seen enough.
func (d *deadline) stopped() bool {
	select {
	case <-d.enough:
		return true
	default:
		return false
	}
}

// until sets when to stop looking from here on; zero is never, for what must be
// done whatever the time, such as reading the question and checking the plan.
func (d *deadline) until(end time.Time) {
	d.release()
	d.end = end
	d.Context, d.cancel = context.WithCancelCause(d.question)
	if d.stop = func() {}; d.ticks && !end.IsZero() {
		d.Context, d.stop = context.WithTimeoutCause(d.Context, d.left(), errLate)
	}
}

// release lets go of the timer; whoever looks for a plan under the deadline calls
// it in the end.
func (d *deadline) release() {
	if d.cancel != nil {
		d.stop()
		d.cancel(nil)
	}
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

// isNearlyOver reports whether less than a quarter of the whole time is left.
func (d *deadline) isNearlyOver() bool { return d.passed() > d.whole.Sub(d.began)*3/4 }

// isHalfOver reports whether less than half of the whole time is left.
func (d *deadline) isHalfOver() bool { return d.passed() > d.whole.Sub(d.began)/2 }

// hasTimeFor reports whether something that takes so long can be done before
// the whole time is over.
func (d *deadline) hasTimeFor(work time.Duration) bool { return d.now().Add(work).Before(d.whole) }

// outcome is the outcome in words, for a search that ended with the time.
func (d *deadline) outcome(found bool) string {
	what := "no plan"
	if found {
		what = "best"
	}
	if d.stopped() {
		return what + " found until stopped"
	}
	return fmt.Sprintf("%s found in %s", what, d.whole.Sub(d.began))
}
