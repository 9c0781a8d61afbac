package queries_test

import (
	"encoding"
	"encoding/json"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"matewell/queries/bike"
	"matewell/queries/conflicts"
	"matewell/queries/differ"
	"matewell/queries/donor"
	"matewell/queries/evidence"
	"matewell/queries/fits"
	"matewell/queries/gaps"
	"matewell/queries/part"
	"matewell/queries/swap"
	"matewell/queries/why"
)

// TestJSONNames walks the types of every answer: each field that is printed has
// a name in lower case with underscores, so that the published schema is of one
// piece.
func TestJSONNames(t *testing.T) {
	answers := []any{fits.FitsAnswer{}, differ.DifferAnswer{}, part.PartAnswer{}, part.WhereAnswer{},
		part.IdentifyAnswer{}, part.FindAnswer{}, why.WhyAnswer{}, conflicts.ConflictsAnswer{},
		swap.SwapAnswer{}, donor.DonorAnswer{}, gaps.Answer{}, bike.BikeFoundAnswer{}}
	seen := map[reflect.Type]bool{}
	for _, a := range answers {
		checkNames(t, reflect.TypeOf(a), seen)
	}
	if len(seen) < 25 {
		t.Errorf("only %d types were looked at", len(seen))
	}
}

func checkNames(t *testing.T, typ reflect.Type, seen map[reflect.Type]bool) {
	for typ.Kind() == reflect.Pointer || typ.Kind() == reflect.Slice || typ.Kind() == reflect.Map {
		typ = typ.Elem()
	}
	if typ.Kind() != reflect.Struct || seen[typ] || typ.Implements(reflect.TypeFor[encoding.TextMarshaler]()) {
		return
	}
	seen[typ] = true
	name := regexp.MustCompile(`^[a-z]+(_[a-z]+)*$`)
	for i := range typ.NumField() {
		f := typ.Field(i)
		tag, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case !f.IsExported() || tag == "-":
			continue
		case f.Anonymous && tag == "":
		case !name.MatchString(tag):
			t.Errorf("%s.%s is printed as %q", typ, f.Name, tag)
		}
		checkNames(t, f.Type, seen)
	}
}

// TestJSONWords: verdicts and ranks are printed in words, lists as lists even
// when they are empty.
func TestJSONWords(t *testing.T) {
	a := fits.FitsAnswer{Rows: []fits.FitsRow{}, Verdicts: []fits.VerdictCount{}}
	text, err := json.Marshal(a)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := string(text), `{"rows":[],"verdicts":[]}`; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	row := fits.FitsRow{Verdict: 4, Rank: evidence.RankFactory}
	if text, err = json.Marshal(row); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"verdict":"does not fit"`, `"rank":"factory document"`} {
		if !strings.Contains(string(text), want) {
			t.Errorf("%s is not in %s", want, text)
		}
	}
}
