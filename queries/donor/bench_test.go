package donor_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/once"
	"matewell/queries/readertest"
)

// BenchmarkDonor answers each of the four questions of the stories, with nothing
// kept from the question before.
func BenchmarkDonor(b *testing.B) {
	facts := readertest.New(demotest.Facts(b))
	for i, q := range demoDonors() {
		q.Time = time.Minute
		b.Run(fmt.Sprintf("D%d", i+1), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := donor.Donor(context.Background(), once.New(facts), q); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
