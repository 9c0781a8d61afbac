package main

import (
	"strings"
	"testing"

	"matewell/cmd/matewell/internal/shelf"
)

// TestOfferedNumbers: the number of an offered part is read as that of any other,
// with its maker or without, and one that nobody knows is told as such.
func TestOfferedNumbers(t *testing.T) {
	e, _, errs := testEnv(t)
	e.Getenv = cacheAt(demoCache(t))
	r, err := shelf.Open(t.Context(), e, shelf.Where{Data: []string{shelf.DemoName}})
	if err != nil {
		t.Fatal(err, errs)
	}
	defer r.Close()
	for _, number := range []string{"207.7412", "Tarnholt 207.7412", "2077412", "2 x 207.7412"} {
		offers, err := readOffers(t.Context(), e, r, []string{number + "; 20 EUR"})
		if err != nil || len(offers) != 1 || len(offers[0].Parts) != 1 || offers[0].Parts[0].Part != "Tarnholt 207.7412" {
			t.Errorf("%q: %+v, %v", number, offers, err)
		}
	}
	for _, number := range []string{"999.9999", "K 31.140-1", "Nobody 207.7412"} {
		_, err := readOffers(t.Context(), e, r, []string{number + "; 20 EUR"})
		if err == nil || !strings.Contains(err.Error(), "no part") || strings.Contains(err.Error(), "no brand") {
			t.Errorf("%q: %v", number, err)
		}
	}
}
