package part_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"testing"

	"matewell/graph"
	"matewell/queries"
	"matewell/queries/part"
	"matewell/queries/readertest"
)

// manyListings is a bolt at twenty places of one machine and one of another.
func manyListings() graph.Facts {
	f := graph.Facts{
		Kinds:  []graph.Kind{{ID: "bolt", Name: "bolt"}},
		Models: []graph.Model{{ID: "holm"}, {ID: "voe"}},
		Variants: []graph.Variant{{ID: "holm/2001/eu", Model: "holm", Year: 2001, Market: "eu"},
			{ID: "voe/2001/eu", Model: "voe", Year: 2001, Market: "eu"}},
		Parts: []graph.Part{{ID: "Tarnholt 9001", Brand: "Tarnholt", Kind: "bolt", Name: "bolt"}},
	}
	for i := range 21 {
		model := "holm"
		if i == 20 {
			model = "voe"
		}
		at := graph.PositionID(fmt.Sprintf("%s:frame/place-%02d", model, i))
		f.Fitments = append(f.Fitments, graph.Fitment{ID: graph.FitmentID(at + "=x"), Position: at, Part: "Tarnholt 9001",
			Quantity: 1,
			On:       []graph.VariantID{graph.VariantID(model + "/2001/eu")}})
	}
	return f
}

func TestFindSaysHowManyListingsItLeavesOut(t *testing.T) {
	for _, c := range []struct {
		q           part.FindQuestion
		given, more int
	}{
		{part.FindQuestion{Text: "bolt"}, 12, 9},
		{part.FindQuestion{Text: "bolt", All: true}, 21, 0},
		{part.FindQuestion{Text: "bolt", On: "voe"}, 1, 0},
		{part.FindQuestion{Text: "bolt", On: "holm"}, 20, 0},
	} {
		a, err := part.Find(context.Background(), readertest.New(manyListings()), c.q)
		if err != nil || len(a.Parts) != 1 {
			t.Fatalf("%+v: %v, %d parts", c.q, err, len(a.Parts))
		}
		if got := a.Parts[0]; len(got.Uses) != c.given || got.MoreListed != c.more {
			t.Errorf("%+v gives %d listings and leaves out %d, want %d and %d", c.q, len(got.Uses), got.MoreListed, c.given,
				c.more)
		}
	}
}

// A bolt is said as the trade says it (ISO 225: "M8 x 35", the coarse pitch understood, ISO
// 261), its class as ISO 898-1 marks it; a measure alone may be any dimension; what
// stands on a casting is a number.
func TestFindTakesMeasuresAlone(t *testing.T) {
	bolt := func(number, length, class string) graph.Part {
		return graph.Part{ID: graph.PartID("Tarnholt " + number), Brand: "Tarnholt", Kind: "fork-bolt",
			Features: []graph.Feature{{Name: "thread", Kind: "male-thread", Dims: map[string][]graph.Reading{
				"thread": {{Text: "M8x1.25"}}, "length": {{Text: length}}, "class": {{Text: class}}}}}}
	}
	lettered := bolt("3", "60 mm", "8.8")
	lettered.Aliases = []graph.Alias{{Type: "casting number", Text: "TK 77L"}}
	facts := graph.Facts{Kinds: []graph.Kind{{ID: "fork-bolt", Name: "bolt of the fork",
		Features: []graph.KindFeature{{Name: "thread", Kind: "male-thread"}}}},
		Parts: []graph.Part{bolt("1", "35 mm", "8.8"), bolt("2", "35 mm", "10.9"), lettered}}
	ring := map[string][]graph.Reading{"inside": {{Text: "20 mm"}}, "outside": {{Text: "42 mm"}},
		"width": {{Text: "12 mm"}}}
	facts.Kinds = append(facts.Kinds, graph.Kind{ID: "hub-bearing", Name: "bearing of a hub",
		Features: []graph.KindFeature{{Name: "ring", Kind: "bearing"}}})
	facts.Parts = append(facts.Parts, graph.Part{ID: "Tarnholt 4", Brand: "Tarnholt", Kind: "hub-bearing",
		Features: []graph.Feature{{Name: "ring", Kind: "bearing", Dims: ring}}})
	for asked, want := range map[string][]graph.PartID{
		"bolt M8x1.25 35mm":               {"Tarnholt 1", "Tarnholt 2"},
		"bolt M8x1.25 35 mm 10.9":         {"Tarnholt 2"},
		"bolt M8x35":                      {"Tarnholt 1", "Tarnholt 2"},
		"M8x1.25x60":                      {"Tarnholt 3"},
		"bolt length=60 mm M8":            {"Tarnholt 3"},
		"bolt M8x1 35mm":                  {}, // another pitch
		"bolt M8x40":                      {}, // none of that length
		"fork thread=M8x1.25 length=35mm": {"Tarnholt 1", "Tarnholt 2"},
		"TK 77L":                          {"Tarnholt 3"},
		"bearing 20x42x12":                {"Tarnholt 4"},
		"bearing 20x47x14":                {},
	} {
		a, err := part.Find(t.Context(), readertest.New(facts), part.FindQuestion{Text: asked})
		got := []graph.PartID{}
		for _, f := range a.Parts {
			got = append(got, f.Part)
		}
		if err != nil || !slices.Equal(got, want) {
			t.Errorf("find %s: %v, %v; want %v", asked, got, err, want)
		}
	}
	for _, asked := range []string{"bolt 12 bananas", "bolt 12 V", "foo 12mm"} {
		if _, err := part.Find(t.Context(), readertest.New(facts), part.FindQuestion{Text: asked}); err == nil {
			t.Errorf("find %s is answered", asked)
		}
	}
}

// FuzzFind puts any words to a small set: they are understood, or refused as a question.
func FuzzFind(f *testing.F) {
	for _, seed := range []string{"bolt thread=M8x1.25 length=35mm", "bolt", "thread = M8", "=", "bolt length=",
		"length=35mm length=36mm", "bolt M8x35 8.8", "35 mm",
		"bolt thread=M8x1.25 length=about 35 mm", "\x00", ""} {
		f.Add(seed)
	}
	facts := manyListings()
	facts.Kinds[0].Features = []graph.KindFeature{{Name: "shank", Kind: "bolt"}}
	facts.Parts[0].Features = []graph.Feature{{Name: "shank", Kind: "bolt", Dims: map[string][]graph.Reading{
		"length": {{Text: "35 mm"}}}}}
	r := readertest.New(facts)
	f.Fuzz(func(t *testing.T, text string) {
		_, err := part.Find(context.Background(), r, part.FindQuestion{Text: text})
		var refused *queries.QuestionError
		var notFound *queries.NotFoundError
		if err != nil && !errors.As(err, &refused) && !errors.As(err, &notFound) {
			t.Errorf("%q: %v", text, err)
		}
	})
}
