package donor_test

import (
	"slices"
	"testing"
	"time"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/donor"
)

// TestUnpricedOfferComesLast: an offer that nobody named a price of is bought only where nothing
// with a price does, however dear, and then it is told.
func TestUnpricedOfferComesLast(t *testing.T) {
	const wheel = "Tarnholt 205.7006"
	offer := func(name string, hundredths int) graph.Offer {
		o := graph.Offer{Name: name, Unpriced: hundredths == 0, Condition: graph.ConditionUsed,
			Parts: []graph.OfferedPart{{Part: wheel, Quantity: 1, Condition: graph.ConditionUsed}}}
		if hundredths > 0 {
			o.Price = measure.Money{Hundredths: hundredths, Currency: "EUR"}
		}
		return o
	}
	for _, tt := range []struct {
		name   string
		offers []graph.Offer
		want   string
	}{
		{"a dear one beside it", []graph.Offer{offer("nobody says", 0), offer("dear", 90000)}, "dear"},
		{"nothing else", []graph.Offer{offer("nobody says", 0)}, "nobody says"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			a := answered(t, donor.DonorQuestion{On: "skerry-620/2003/eu/late", Take: []string{"front-wheel/wheel"},
				Offers: tt.offers, Time: time.Second})
			if len(a.Plans) == 0 {
				t.Fatal("no plan")
			}
			p := a.Plans[0]
			if len(p.Buy) != 1 || p.Buy[0].Name != tt.want {
				t.Errorf("bought %+v, want %s", p.Buy, tt.want)
			}
			told := slices.Contains(p.Cost.Unpriced, "offer nobody says")
			if isUnknown := tt.want == "nobody says"; told != isUnknown || (p.Buy[0].Price == graph.PriceUnknown) != isUnknown {
				t.Errorf("price %s, no price is known for %v", p.Buy[0].Price, p.Cost.Unpriced)
			}
		})
	}
}
