package loader

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/measure"
)

// LoadOffers reads files of offers over what base holds, which must be given: files that
// have the key "offers" and nothing else. Every fault goes to probs; with an error among them
// there are no offers. They come in the order they are written, files in the order
// of the layers. The error is for other trouble, as that of Load.
func LoadOffers(ctx context.Context, base graph.Reader, layers []Layer, probs *diag.List) ([]graph.Offer, error) {
	w := newWorld()
	w.takesOffers = true
	if err := read(ctx, w, base, layers, nil, probs); err != nil {
		return nil, err
	}
	if probs.Err() != nil {
		return nil, nil
	}
	return w.offers, nil
}

// rawOffer is an offer as written.
type rawOffer struct {
	at        diag.Pos
	title     word
	price     word
	postage   word
	parcel    word
	condition word
	variant   word
	holds     []word
	without   []word
	parts     []rawOfferedPart
}

// rawOfferedPart is one part of an offer.
type rawOfferedPart struct {
	at        diag.Pos
	part      word
	quantity  number
	condition word
	note      word
}

func offerForm() form[rawOffer] {
	return mapping("an offer", func(o *rawOffer) *diag.Pos { return &o.at },
		says("what the seller calls it", key("title", phrase().form(), func(o *rawOffer) *word { return &o.title })),
		need(says("what all of it costs, 35 EUR; 0 EUR for a gift, unknown where nobody named a price",
			key("price", moneyOrUnknown().form(), func(o *rawOffer) *word { return &o.price }))),
		says("what sending it costs, once a parcel; nothing when left out",
			key("postage", money().form(), func(o *rawOffer) *word { return &o.postage })),
		says("what it is sent in; offers with the same word come in one parcel, which costs the dearest postage of theirs "+
			"once",
			key("parcel", phrase().form(), func(o *rawOffer) *word { return &o.parcel })),
		says("new, used, or to inspect when nobody who knows has looked at it; used when left out",
			key("condition", conditionForm(), func(o *rawOffer) *word { return &o.condition })),
		says("variant it comes off, model/year/market",
			key("variant", free().form(), func(o *rawOffer) *word { return &o.variant })),
		says("places and assemblies of the variant whose parts are in it",
			key("holds", oneOrMore("places", free().form()), func(o *rawOffer) *[]word { return &o.holds })),
		says("places and assemblies of the variant that are missing from it",
			key("without", oneOrMore("places", free().form()), func(o *rawOffer) *[]word { return &o.without })),
		says("parts in it, by their numbers",
			key("parts", list("parts", offeredPartForm()), func(o *rawOffer) *[]rawOfferedPart { return &o.parts })))
}

func offeredPartForm() form[rawOfferedPart] {
	part := func(p *rawOfferedPart) *word { return &p.part }
	return wordOr(phrase(), part, mapping("an offered part", func(p *rawOfferedPart) *diag.Pos { return &p.at },
		need(says("brand, one space, number", key("part", phrase().form(), part))),
		says("how many; 1 when left out",
			key("quantity", count().form(), func(p *rawOfferedPart) *number { return &p.quantity })),
		says("condition of this one; that of the offer when left out",
			key("condition", conditionForm(), func(p *rawOfferedPart) *word { return &p.condition })),
		says("free text", key("note", phrase().form(), func(p *rawOfferedPart) *word { return &p.note }))))
}

func conditionForm() form[word] {
	return oneOf(graph.ConditionNew, graph.ConditionUsed, graph.ConditionInspect).form()
}

// resolveOffers takes the offers, or reports them where a data set should be: an
// offer is gone tomorrow, and is asked with rather than known.
func resolveOffers(w *world) {
	for _, f := range w.files {
		if w.takesOffers && !f.broken {
			onlyOffers(w, f)
		}
		for _, raw := range f.offers {
			if !w.takesOffers {
				w.Errorf(raw.name.pos, "misplaced-offer", "offer %q stands in a data set", raw.name.text).Hint =
					"keep offers in a file of their own, and ask with it: matewell donor --offer FILE"
				continue
			}
			resolveOffer(w, raw)
		}
	}
}

// onlyOffers reports a file that is no file of offers, or more than that.
func onlyOffers(w *world, f *dataFile) {
	others := *f
	others.offers, others.body, others.source = nil, nil, nil
	d := &diag.Diagnostic{}
	switch first := (diag.Pos{File: f.name, Line: 1, Col: 1}); {
	case !others.holdsNothing():
		d = w.Errorf(first, "not-an-offer", "this file holds more than offers")
		d.Hint = "put the rest into a data folder, and name that with --data"
	case len(f.offers) == 0:
		d = w.Errorf(first, "not-an-offer", "this file holds no offer")
		d.Hint = `write them under the key "offers"; see: matewell schema offers`
	}
}

func resolveOffer(w *world, raw named[rawOffer]) {
	o := graph.Offer{Name: raw.name.text, Title: raw.item.title.text, Parcel: raw.item.parcel.text, Pos: raw.name.pos,
		Condition: graph.Condition(cmp.Or(raw.item.condition.text, string(graph.ConditionUsed)))}
	if i := slices.IndexFunc(w.offers, func(x graph.Offer) bool { return x.Name == o.Name }); i >= 0 {
		w.Errorf(raw.name.pos, "duplicate", "offer %q is given twice", o.Name).Related = []diag.Pos{w.offers[i].Pos}
		return
	}
	if o.Unpriced = raw.item.price.text == graph.PriceUnknown; !o.Unpriced {
		o.Price = moneyOf(w, raw.item.price)
	}
	o.Postage = moneyOf(w, raw.item.postage)
	oneCurrency(w, raw.item.price, o.Price)
	oneCurrency(w, raw.item.postage, o.Postage)
	resolveHolds(w, &o, raw)
	for _, p := range raw.item.parts {
		if !p.part.given() {
			continue
		}
		id, _ := partRef(w, p.part)
		o.Parts = append(o.Parts, graph.OfferedPart{Part: id, Quantity: max(1, p.quantity.n), Note: p.note.text,
			Pos:       p.part.pos,
			Condition: graph.Condition(cmp.Or(p.condition.text, string(o.Condition)))})
	}
	w.offers = append(w.offers, o)
}

// moneyOf reads an amount whose form was checked.
func moneyOf(w *world, amount word) measure.Money {
	if !amount.given() {
		return measure.Money{}
	}
	m, err := measure.ParseMoney(amount.text)
	if err != nil {
		w.Errorf(amount.pos, "impossible-value", "%s", inner(err))
	}
	return m
}

// oneCurrency reports an amount in another currency than those before: nothing
// could be added up.
func oneCurrency(w *world, amount word, m measure.Money) {
	switch {
	case m.Currency == "":
	case w.currency.text == "":
		w.currency = word{m.Currency, amount.pos}
	case w.currency.text != m.Currency:
		d := w.Errorf(amount.pos, "two-currencies", "%q is not in %s", amount.text, w.currency.text)
		d.Hint, d.Related = "give all offers in one currency, at the rate you would pay", []diag.Pos{w.currency.pos}
	}
}

// resolveHolds checks which places of its variant an offer holds.
func resolveHolds(w *world, o *graph.Offer, raw named[rawOffer]) {
	item := raw.item
	switch {
	case len(item.holds)+len(item.without) == 0:
		if len(item.parts) == 0 {
			w.Errorf(raw.name.pos, "missing-key", "offer %q holds nothing", o.Name).Hint =
				`write "parts" with their numbers, or "variant" and "holds"`
		}
		return
	case !item.variant.tried():
		w.Errorf(raw.name.pos, "missing-key", "offer %q lacks %q", o.Name, "variant").Hint =
			`"holds" and "without" name places of a machine: say which, as model/year/market`
		return
	case len(item.holds) == 0:
		w.Errorf(raw.name.pos, "missing-key", "offer %q lacks %q", o.Name, "holds")
	}
	ids := knownVariant(w, item.variant, false)
	if len(ids) != 1 {
		return
	}
	o.Variant = ids[0]
	names := namesOn(w, o.Variant)
	o.Holds, o.Without = placesIn(w, o.Variant, item.holds, names), placesIn(w, o.Variant, item.without, names)
}

// namesOn are the local names of the assemblies and positions of a variant.
func namesOn(w *world, v graph.VariantID) []string {
	models := []graph.ModelID{v.Model()}
	var names []string
	for _, p := range ask(w.base, w.base.reader.PositionsOf, models) {
		if slices.Contains(p.On, v) {
			names = append(names, p.ID.Local(), p.ID.Assembly().Local())
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

func placesIn(w *world, v graph.VariantID, written []word, names []string) []string {
	var places []string
	for _, place := range written {
		if !place.given() {
			continue
		}
		local := strings.ToLower(place.text)
		if _, found := slices.BinarySearch(names, local); !found {
			w.Errorf(place.pos, "unknown-position", "%q has no position or assembly %q", v, place.text).Hint =
				nearOrList(local, names)
			continue
		}
		places = append(places, local)
	}
	return places
}
