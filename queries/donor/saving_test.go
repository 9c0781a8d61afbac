package donor_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"matewell/graph/sampletest"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/once"
	"matewell/queries/plan"
	"matewell/queries/readertest"
)

// What saves work changes no answer: the smallest cost, and how many plans have
// it, are those of judging every combination.
func TestDonorSavingChangesNothing(t *testing.T) {
	demotest.Alone(t)
	r := once.New(readertest.New(demotest.Facts(t)))
	questions := append(demoDonors(),
		donor.DonorQuestion{On: "skerry-620/2005/uk", From: "fjeld-750/2004/uk",
			Take: []string{"front-brake/lever", "mirrors/mirror-right"}},
		donor.DonorQuestion{On: "skerry-620/2002/eu", From: "fjeld-750/2003/eu",
			Take: []string{"rear-suspension/shock", "stands/side-stand"}})
	share := sampletest.OneIn(t, 8)
	for i, q := range questions {
		for _, q.Prefer = range []plan.Prefer{plan.PreferEffort, plan.PreferParts, plan.PreferMoney} {
			if i == 3 && q.Prefer == plan.PreferMoney {
				continue // thousands of rows to judge without the savings: 13 s
			}
			name := fmt.Sprintf("%d/%s", i, q.Prefer)
			if !share(name) {
				continue
			}
			t.Run(name, func(t *testing.T) {
				q.Time = time.Hour
				want, _, err := donor.SettleDonor(context.Background(), r, q, true)
				got, _, err2 := donor.SettleDonor(context.Background(), r, q, false)
				if err != nil || err2 != nil || !want.Proved || !got.Proved || len(want.Plans) != len(got.Plans) ||
					want.Equal != got.Equal ||
					len(want.Plans) > 0 && want.Plans[0].Cost != got.Plans[0].Cost {
					t.Fatalf("%+v, want %+v; errors %v, %v", got, want, err2, err)
				}
			})
		}
	}
}
