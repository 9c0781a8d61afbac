package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"testing/fstest"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/disk"
	"matewell/loader"
	"matewell/queries"
)

// typedOfferFile is how a fault names an offer that was typed and stands in no
// file.
const typedOfferFile = "--offer"

// readOffers reads what was given after --offer, over what is known: files, and
// offers typed in one line, which hold a semicolon. Faults in files are printed;
// one in a typed offer is a usage error.
func readOffers(ctx context.Context, e desk.Env, base graph.Reader, given []string) ([]graph.Offer, error) {
	if len(given) == 0 {
		return nil, nil
	}
	var layers []loader.Layer
	names := map[string]int{}
	for i, one := range given {
		layer, err := offerLayer(ctx, e, base, one, i, names)
		if err != nil {
			return nil, err
		}
		layers = append(layers, layer)
	}
	var probs diag.List
	offers, err := loader.LoadOffers(ctx, base, layers, &probs)
	if err != nil {
		return nil, err
	}
	for _, d := range probs.Sorted() {
		if strings.HasPrefix(d.Pos.File, typedOfferFile) && d.Severity == diag.Error {
			return nil, desk.Usagef("--offer: %s", hinted(d))
		}
	}
	return offers, shelf.ReportFaults(e, layers, &probs)
}

func hinted(d diag.Diagnostic) string {
	if d.Hint == "" {
		return d.Message
	}
	return d.Message + "; " + d.Hint
}

// offered is the part that a number names, with its brand, as swap reads it too;
// the number as it stands where no part is called so, for the loader to say.
func offered(ctx context.Context, base graph.Reader, number string) (string, error) {
	part, err := queries.PartFor(ctx, base, number)
	if missing := (*queries.NotFoundError)(nil); errors.As(err, &missing) {
		if brand, _, _ := strings.Cut(number, " "); brandKnown(ctx, base, brand) {
			return number, nil
		}
	}
	return string(part), err
}

func brandKnown(ctx context.Context, base graph.Reader, name string) bool {
	brands, err := base.Brands(ctx, graph.BrandID(name))
	return err == nil && len(brands) > 0
}

// offerLayer is one thing after --offer as a file to read. A typed offer is called
// by what it offers.
func offerLayer(ctx context.Context, e desk.Env, base graph.Reader, given string, i int,
	names map[string]int) (loader.Layer, error) {
	what, _, typed := strings.Cut(given, ";")
	if typed {
		name := strings.TrimSpace(what)
		if names[name]++; names[name] > 1 {
			name = fmt.Sprintf("%s (%d)", name, names[name])
		}
		whole := func(number string) (string, error) { return offered(ctx, base, number) }
		text, err := loader.OfferText(name, given, whole)
		if err != nil {
			return loader.Layer{}, desk.Usagef("--offer %q: %v", given, err)
		}
		return loader.Layer{FS: fstest.MapFS{fmt.Sprintf("%s-%d.yaml", typedOfferFile, i+1): {Data: []byte(text)}}}, nil
	}
	dir, file := filepath.Split(given)
	dir = filepath.Clean(dir)
	content, err := desk.ReadInput(e, given, disk.MaxPlain)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return loader.Layer{}, desk.Usagef("--offer: there is no file %q; an offer typed in one line has a semicolon and a "+
			"price, "+
			`as "Tarnholt 205.4010; 80 EUR"`, given)
	case err != nil:
		return loader.Layer{}, fmt.Errorf("--offer %s: %w", given, desk.Reason(err))
	}
	return loader.Layer{Name: filepath.ToSlash(dir), FS: fstest.MapFS{file: {Data: content}}}, nil
}
