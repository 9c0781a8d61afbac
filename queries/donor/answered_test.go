package donor_test

import (
	"cmp"
	"context"
	"fmt"
	"sync"
	"testing"
	"time"

	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/once"
	"matewell/queries/readertest"
)

var answers sync.Map // by question

// answered is the answer to a question of the demonstration data, asked once for all
// tests that look at it: nobody may change what is in it. Its time, a minute if it has
// none, is counted in work.
func answered(t *testing.T, q donor.DonorQuestion) donor.DonorAnswer {
	t.Helper()
	q.Time = cmp.Or(q.Time, time.Minute)
	type result struct {
		a   donor.DonorAnswer
		err error
	}
	ask := sync.OnceValue(func() result {
		clock := measuredClock()
		q.Began, q.Now = clock.at, clock.now
		r := once.New(readertest.New(demotest.Facts(t)))
		a, err := donor.Donor(context.Background(), clockedReader{r, clock}, q)
		return result{a, err}
	})
	kept, _ := answers.LoadOrStore(fmt.Sprintf("%+v", q), ask)
	got := kept.(func() result)()
	if got.err != nil {
		t.Fatal(got.err)
	}
	return got.a
}
