package donor_test

import (
	"slices"
	"testing"
	"time"

	"matewell/graph"
	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// A part that is sold no more is not had at its list price: it counts as what has no
// price, and the plan says so. One that is still sold keeps its price, and so does the
// near miss: it is gone for good, but an offer has it.
func TestSoldNoMoreHasNoPrice(t *testing.T) {
	const lever = "Tarnholt 207.7008"
	for _, tt := range []struct {
		name  string
		gone  bool
		offer bool
		want  string // the price of the lever
	}{
		{"still sold", false, false, "list"}, {"sold no more", true, false, ""},
		{"near miss: offered", true, true, "offer"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			facts := demotest.Facts(t)
			facts.Parts = slices.Clone(facts.Parts)
			i := slices.IndexFunc(facts.Parts, func(p graph.Part) bool { return p.ID == lever })
			if i < 0 {
				t.Fatalf("no %s", lever)
			}
			facts.Parts[i].Gone, facts.Parts[i].Price = tt.gone, []graph.Reading{{Text: "35 EUR"}}
			q := donor.DonorQuestion{On: "skerry-620/2002/eu", Time: time.Minute,
				Swaps: []swap.Replacement{{Position: "front-brake/master-cylinder", Part: "Tarnholt 207.7003"},
					{Position: "front-brake/lever", Part: lever}}}
			if tt.offer {
				q.Offers = []graph.Offer{{Name: "box", Parts: []graph.OfferedPart{{Part: lever, Quantity: 1}}}}
			}
			a, err := donor.Donor(t.Context(), readertest.New(facts), q)
			if err != nil || len(a.Plans) == 0 {
				t.Fatalf("%s, error %v", a.Outcome, err)
			}
			p := a.Plans[0]
			at := slices.IndexFunc(p.Get, func(x donor.DonorPart) bool { return x.Part == lever })
			if at < 0 {
				t.Fatalf("no lever among %v", p.Get)
			}
			switch x := p.Get[at]; {
			case tt.want == "" && (x.Price != "" || x.Note == ""):
				t.Errorf("price %q, note %q; want none, and a note", x.Price, x.Note)
			case tt.want == "list" && (x.Price == "" || x.Note != ""):
				t.Errorf("price %q, note %q; want that of the list, and no note", x.Price, x.Note)
			case tt.want == "offer" && x.Note != "":
				t.Errorf("note %q on a part that an offer has", x.Note)
			}
		})
	}
}

// What an offer brings is not on the list of what to get; what nothing brings is.
func TestShopLeavesOutWhatIsOffered(t *testing.T) {
	const lever = "Tarnholt 207.7008"
	facts := readertest.New(demotest.Facts(t))
	for _, offered := range []bool{false, true} {
		q := donor.DonorQuestion{On: "skerry-620/2002/eu", Time: time.Minute,
			Swaps: []swap.Replacement{{Position: "front-brake/master-cylinder", Part: "Tarnholt 207.7003"},
				{Position: "front-brake/lever", Part: lever}}}
		if offered {
			q.Offers = []graph.Offer{{Name: "box", Parts: []graph.OfferedPart{{Part: lever, Quantity: 1}}}}
		}
		a, err := donor.Donor(t.Context(), facts, q)
		if err != nil || len(a.Plans) == 0 {
			t.Fatalf("%s, error %v", a.Outcome, err)
		}
		list, err := donor.Shop(t.Context(), facts, q, a.Plans[0])
		if err != nil {
			t.Fatal(err)
		}
		listed := false
		for _, l := range list.List.Rows {
			listed = listed || l.Part == lever
		}
		if listed == offered {
			t.Errorf("offered %v, on the list %v", offered, listed)
		}
	}
}
