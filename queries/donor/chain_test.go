package donor_test

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/once"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// A rear sprocket for a wider chain takes the donor's chain, front sprocket and wheel
// with it; a spacer behind the front one brings both into line and lengthens nothing at
// the rear.
func TestSprocketOfWiderChainIsPlanned(t *testing.T) {
	a := answered(t, donor.DonorQuestion{On: "skerry-620/2003/eu/late", From: "fjeld-750/2003/eu",
		Take: []string{"final-drive/sprocket-rear"}})
	if len(a.Plans) == 0 {
		t.Fatalf("%s: %v", a.Outcome, a.InTheWay)
	}
	p := a.Plans[0]
	at := func(place string) int {
		return slices.IndexFunc(p.Make, func(g swap.Get) bool { return g.Position.Local() == place })
	}
	if i := at("final-drive/sprocket-front"); i < 0 || !strings.HasPrefix(p.Make[i].Text, "sprocket spacer 4 mm thick") {
		t.Errorf("no spacer behind the front sprocket: %v", p.Make)
	}
	if i := at("final-drive/sprocket-stud"); i >= 0 {
		t.Errorf("a spacer behind the front sprocket lengthens the rear one's studs: %s", p.Make[i].Text)
	}
	for _, place := range []string{"rear-wheel/spacer-left", "rear-wheel/spacer-right"} {
		here := func(l donor.DonorPart) bool { return l.Position.Local() == place }
		if at(place) < 0 && !slices.ContainsFunc(slices.Concat(p.Take, p.Get), here) {
			t.Errorf("no spacer for the row at %s: %v", place, p.Make)
		}
	}
}

// When the time is over with neither a plan nor a proof, what stood in the way is named.
func TestWhatStandsInTheWayIsNamed(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	named := 0
	for _, looks := range []int{100, 300, 1000, 3000} {
		began, n := time.Unix(0, 0), 0
		a, err := donor.Donor(context.Background(), r, donor.DonorQuestion{On: "skerry-620/2003/eu/late",
			From: "fjeld-750/2003/eu", Take: []string{"front-brake"}, Time: time.Duration(looks) * time.Millisecond,
			Began: began, Now: func() time.Time { n++; return began.Add(time.Duration(n) * time.Millisecond) }})
		if err != nil {
			t.Fatal(err)
		}
		if len(a.InTheWay) > 0 && (len(a.Plans) > 0 || a.Clash != nil) {
			t.Errorf("%d looks: %d plans, and in the way %v", looks, len(a.Plans), a.InTheWay)
		}
		for _, j := range a.InTheWay {
			named++
			if j.Text == "" {
				t.Errorf("%d looks: %s %s is in the way and nobody says why", looks, j.What, j.ID)
			}
		}
	}
	if named == 0 {
		t.Error("nothing was named at any time")
	}
}
