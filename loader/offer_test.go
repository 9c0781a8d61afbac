package loader_test

import (
	"path"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/measure"
	"matewell/loader"
)

func loadOffers(t *testing.T, body string) ([]graph.Offer, string, *diag.List) {
	t.Helper()
	files := fstest.MapFS{"o.yaml": {Data: []byte(body)}}
	var probs diag.List
	offers, err := loader.LoadOffers(t.Context(), below(t), []loader.Layer{{FS: files}}, &probs)
	if err != nil {
		t.Fatal(err)
	}
	return offers, report(t, files, &probs), &probs
}

// What is written of an offer comes back, with what is left out filled in.
func TestLoadOffers(t *testing.T) {
	offers, faults, _ := loadOffers(t, `offers:
  left side:
    title: caliper and more
    price: 45.50 EUR
    postage: 8 EUR
    parcel: seller in town
    condition: to inspect
    variant: skerry-620/2002/eu
    holds: [front-brake]
    without: Front-Brake/Caliper-Left
    parts:
      - Tarnholt 207.4418b
      - {part: Brakkholm KIT7, quantity: 2, condition: new, note: unopened}
  gift: {price: 0 EUR, parts: [Tarnholt 207.4418c]}
`)
	if faults != "" {
		t.Fatal(faults)
	}
	for i := range offers {
		offers[i].Pos = diag.Pos{}
		for j := range offers[i].Parts {
			offers[i].Parts[j].Pos = diag.Pos{}
		}
	}
	want := []graph.Offer{
		{Name: "left side", Title: "caliper and more", Price: measure.Money{Hundredths: 4550, Currency: "EUR"},
			Postage: measure.Money{Hundredths: 800, Currency: "EUR"}, Parcel: "seller in town",
			Condition: graph.ConditionInspect,
			Variant:   "skerry-620/2002/eu", Holds: []string{"front-brake"}, Without: []string{"front-brake/caliper-left"},
			Parts: []graph.OfferedPart{
				{Part: "Tarnholt 207.4418b", Quantity: 1, Condition: graph.ConditionInspect},
				{Part: "Brakkholm kit-7", Quantity: 2, Condition: graph.ConditionNew, Note: "unopened"}}},
		{Name: "gift", Price: measure.Money{Currency: "EUR"}, Condition: graph.ConditionUsed,
			Parts: []graph.OfferedPart{{Part: "Tarnholt 207.4418c", Quantity: 1, Condition: graph.ConditionUsed}}},
	}
	if !reflect.DeepEqual(offers, want) {
		t.Errorf("got  %+v\nwant %+v", offers, want)
	}
}

// Each slip is one fault, at its place, and says what to do.
func TestOfferFaults(t *testing.T) {
	const good = "  good: {price: 5 EUR, parts: [Tarnholt 207.4418b]}\n"
	tests := []struct{ name, body, code, at, says string }{
		{"no price", "offers:\n  a: {parts: [Tarnholt 207.4418b]}\n", "missing-key", "o.yaml:2:6", `lacks "price"`},
		{"price of nothing known", "offers:\n  a: {price: 35, parts: [Tarnholt 207.4418b]}\n", "bad-value", "o.yaml:2:14",
			`"35 EUR"`},
		{"price no purse holds", "offers:\n  a: {price: 99999999 EUR, parts: [Tarnholt 207.4418b]}\n", "impossible-value",
			"o.yaml:2:14", "99999999"},
		{"unknown part", "offers:\n  a: {price: 5 EUR, parts: [Tarnholt 207.4481c]}\n", "unknown-part", "o.yaml:2:29",
			`did you mean "Tarnholt 207.4418c"`},
		{"unknown variant", "offers:\n  a: {price: 5 EUR, variant: skerry-620/2002/ue, holds: front-brake}\n",
			"unknown-variant", "o.yaml:2:30", "skerry-620/2002/eu"},
		{"unknown place", "offers:\n  a: {price: 5 EUR, variant: skerry-620/2002/eu, holds: [front-brak]}\n",
			"unknown-position", "o.yaml:2:58", `did you mean "front-brake"?`},
		{"places of no machine", "offers:\n  a: {price: 5 EUR, holds: front-brake}\n", "missing-key", "o.yaml:2:3",
			`lacks "variant"`},
		{"nothing in it", "offers:\n  a: {price: 5 EUR}\n", "missing-key", "o.yaml:2:3", "holds nothing"},
		{"a condition nobody knows", "offers:\n  a: {price: 5 EUR, condition: mint, parts: [Tarnholt 207.4418b]}\n",
			"bad-value", "o.yaml:2:32", "to inspect"},
		{"none of a part", "offers:\n  a: {price: 5 EUR, parts: [{part: Tarnholt 207.4418b, quantity: 0}]}\n",
			"zero-quantity", "o.yaml:2:66", "1 or more"},
		{"two currencies", "offers:\n" + good + "  b: {price: 5 NOK, parts: [Tarnholt 207.4418b]}\n", "two-currencies",
			"o.yaml:3:14", "one currency"},
		{"a key that is none", "offers:\n  a: {prise: 5 EUR, price: 5 EUR, parts: [Tarnholt 207.4418b]}\n", "unknown-key",
			"o.yaml:2:7", `did you mean "price"?`},
		{"more than offers", "sources: {s: {kind: report, title: T}}\noffers:\n" + good, "not-an-offer", "o.yaml:1:1",
			"--data"},
		{"no offers", "offers:\n", "not-an-offer", "o.yaml:1:1", "schema offers"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			offers, got, probs := loadOffers(t, tt.body)
			if probs.Errors() != 1 || !strings.HasPrefix(got, tt.at+": error: ") || !strings.Contains(got, "["+tt.code+"]") ||
				!strings.Contains(got, tt.says) {
				t.Errorf("want one %s at %s that says %q, got\n%s", tt.code, tt.at, tt.says, got)
			}
			if offers != nil {
				t.Errorf("a file with an error gave %v", offers)
			}
		})
	}
}

// All slips of a file are told in one run.
func TestOfferFaultsTogether(t *testing.T) {
	_, got, probs := loadOffers(t, `offers:
  a: {price: 35, parts: [Tarnholt 207.4418b]}
  b: {price: 5 EUR, parts: [Tarnholt 9]}
  c: {price: 5 EUR, holds: [tank], variant: skerry-620/2002/eu}
`)
	if probs.Errors() != 3 {
		t.Errorf("want 3 faults, got\n%s", got)
	}
}

// One name stands for one offer, also over several files.
func TestOfferTwice(t *testing.T) {
	body := []byte("offers: {a: {price: 5 EUR, parts: [Tarnholt 207.4418b]}}\n")
	layers := []loader.Layer{{FS: fstest.MapFS{"a.yaml": {Data: body}, "b.yaml": {Data: body}}}}
	var probs diag.List
	if _, err := loader.LoadOffers(t.Context(), below(t), layers, &probs); err != nil {
		t.Fatal(err)
	}
	found := probs.Sorted()
	if len(found) != 1 || found[0].Code != "duplicate" || path.Base(found[0].Pos.File) != "b.yaml" ||
		len(found[0].Related) != 1 {
		t.Errorf("got %v", found)
	}
}

// What is typed in one line reads as if it were written in a file.
func TestOfferText(t *testing.T) {
	tests := []struct {
		typed string
		want  graph.Offer
		fault string
	}{
		{typed: "front-brake, fork of skerry-620/2002/eu; 180 EUR; 25 EUR; to inspect", want: graph.Offer{
			Price: measure.Money{Hundredths: 18000, Currency: "EUR"}, Postage: measure.Money{Hundredths: 2500, Currency: "EUR"},
			Condition: graph.ConditionInspect, Variant: "skerry-620/2002/eu", Holds: []string{"front-brake", "fork"}}},
		{typed: "2 x Tarnholt 207.4418b,Tarnholt 207.4418c;12.50 EUR;new", want: graph.Offer{
			Price: measure.Money{Hundredths: 1250, Currency: "EUR"}, Condition: graph.ConditionNew, Parts: []graph.OfferedPart{
				{Part: "Tarnholt 207.4418b", Quantity: 2, Condition: graph.ConditionNew},
				{Part: "Tarnholt 207.4418c", Quantity: 1, Condition: graph.ConditionNew}}}},
		{typed: "Tarnholt 207.4418b; 5 EUR", want: graph.Offer{Price: measure.Money{Hundredths: 500, Currency: "EUR"},
			Condition: graph.ConditionUsed, Parts: []graph.OfferedPart{
				{Part: "Tarnholt 207.4418b", Quantity: 1, Condition: graph.ConditionUsed}}}},
		{typed: "Tarnholt 207.4418b; unknown", want: graph.Offer{Unpriced: true, Condition: graph.ConditionUsed,
			Parts: []graph.OfferedPart{{Part: "Tarnholt 207.4418b", Quantity: 1, Condition: graph.ConditionUsed}}}},
		{typed: "Tarnholt 207.4418b;", fault: "its price"},
		{typed: "; 5 EUR", fault: "what is offered"},
		{typed: "Tarnholt 207.4418b; 5 EUR; mint", fault: `"mint" is neither`},
		{typed: "Tarnholt 207.4418b; 5 EUR; 2 EUR; 3 EUR", fault: `"3 EUR" is neither`},
	}
	for _, tt := range tests {
		text, err := loader.OfferText("typed", tt.typed, func(number string) (string, error) { return number, nil })
		if tt.fault != "" {
			if err == nil || !strings.Contains(err.Error(), tt.fault) {
				t.Errorf("%q: %v, want %s", tt.typed, err, tt.fault)
			}
			continue
		}
		offers, faults, _ := loadOffers(t, text)
		if err != nil || faults != "" || len(offers) != 1 {
			t.Fatalf("%q: %v\n%s", tt.typed, err, faults)
		}
		got := offers[0]
		got.Pos, tt.want.Name = diag.Pos{}, "typed"
		for i := range got.Parts {
			got.Parts[i].Pos = diag.Pos{}
		}
		if !reflect.DeepEqual(got, tt.want) {
			t.Errorf("%q:\ngot  %+v\nwant %+v", tt.typed, got, tt.want)
		}
	}
}
