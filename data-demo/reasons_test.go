package datademo_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"matewell/graph"
	"matewell/graph/measure"
)

// bulletinKinds are the kinds of part that each bulletin is about, by its title.
var bulletinKinds = map[graph.SourceID][]graph.KindID{
	"bulletin-2003-04": {"wiring-loom", "clocks", "side-stand", "spacer", "engine"},
	"bulletin-2004-11": {"brake-hose"},
	"bulletin-2005-06": {"regulator"},
}

// sourcesKnewOfIt checks that no change is sourced from what was printed before it was
// announced, no listing from what is more than a year older than the model year, and
// nothing from a bulletin about another part.
func sourcesKnewOfIt(t *testing.T, f graph.Facts) {
	sources := map[graph.SourceID]graph.Source{}
	for _, s := range f.Sources {
		sources[s.ID] = s
	}
	kinds, names := map[graph.PartID]graph.KindID{}, map[graph.PartID]string{}
	for _, p := range f.Parts {
		kinds[p.ID], names[p.ID] = p.Kind, p.Name
	}
	bulletins := 0
	for _, s := range f.Supersessions {
		for _, said := range s.Said {
			source := sources[said.Source]
			if s.Date != "" && source.Date != "" && source.Date[:min(len(source.Date), len(s.Date))] < s.Date {
				t.Errorf("%s to %s is of %s, and %s of %s", s.Old, s.New, s.Date, source.ID, source.Date)
			}
			about, isBulletin := bulletinKinds[source.ID]
			if isBulletin != (source.Kind == graph.SourceBulletin) {
				t.Errorf("nobody says what %s is about", source.ID)
			}
			if !isBulletin {
				continue
			}
			bulletins++
			if !slices.Contains(about, kinds[s.Old]) {
				t.Errorf("%s sources %s, a %s: %s", source.ID, s.Old, kinds[s.Old], source.Title)
			}
			for _, ends := range [][2]string{{"front", "rear"}, {"rear", "front"}} {
				if strings.Contains(source.Title, ends[0]+" ") && strings.Contains(names[s.Old], ends[1]+" ") {
					t.Errorf("%s sources %s, %s", source.Title, s.Old, names[s.Old])
				}
			}
		}
	}
	if bulletins < 5 {
		t.Errorf("only %d changes from bulletins checked", bulletins)
	}
}

// reasonsHold checks what reasons and names say against what is measured.
func reasonsHold(t *testing.T, f graph.Facts) {
	parts := map[graph.PartID]graph.Part{}
	for _, p := range f.Parts {
		parts[p.ID] = p
	}
	checked := 0
	for _, s := range f.Supersessions {
		old, now := parts[s.Old], parts[s.New]
		switch {
		case old.Kind == "handlebar" && (s.Reason == "wider" || strings.Contains(old.Name, "narrow")):
			checked++
			was, _ := length(old, "lever-place-left", "y")
			if is, ok := length(now, "lever-place-left", "y"); !ok || math.Abs(was) >= math.Abs(is) {
				t.Errorf("%s, %s, has its levers at %g mm, and the wider %s at %g mm", old.ID, old.Name, was, now.ID, is)
			}
		case strings.HasPrefix(s.Reason, "taut"):
			checked++
			if long, most := pathOf(f, old, now.ID); long >= most {
				t.Errorf("%s is taut, and is %g mm long on a path of %g mm", old.ID, long, most)
			}
		}
		form, was := word(old, "boss", "form")
		is, both := word(now, "boss", "form")
		if was && both && form != is {
			checked++
			if s.NewOnOld == graph.Yes {
				t.Errorf("%s, held by %s, goes where %s was, held by %s", s.New, is, s.Old, form)
			}
		}
		for _, stronger := range s.Companions {
			if strings.Contains(s.Reason, "too weak") && isListedBefore(f, stronger.Part, s.Date) {
				t.Errorf("%s is needed because the old ones are too weak, and was built in before", stronger.Part)
			}
		}
	}
	for _, p := range f.Parts {
		outward, isBracket := length(p, "shift", "outward")
		apart, known := length(p, "metal", "between")
		if a, ok := length(p, "leg-side", "spacing"); !isBracket || !known || !ok {
			continue
		} else if b, _ := length(p, "caliper-side", "spacing"); a == b && apart > math.Abs(outward)+1 &&
			!strings.Contains(p.Note, "further round") {
			t.Errorf("%s moves holes of one spacing by %g mm, and they stand %g mm apart", p.ID, outward, apart)
		}
		checked++
	}
	if checked < 5 {
		t.Errorf("only %d reasons checked", checked)
	}
}

// isListedBefore reports whether a part is listed on a model year before a change.
func isListedBefore(f graph.Facts, part graph.PartID, date string) bool {
	years := map[graph.VariantID]int{}
	for _, v := range f.Variants {
		years[v.ID] = v.Year
	}
	return slices.ContainsFunc(f.Fitments, func(fit graph.Fitment) bool {
		return fit.Part == part && slices.ContainsFunc(fit.On, func(v graph.VariantID) bool {
			return date != "" && fmt.Sprint(years[v]) < date[:4]
		})
	})
}

// pathOf is how long a line is, and the longest path at the places where what took its
// place is listed.
func pathOf(f graph.Facts, old graph.Part, newer graph.PartID) (long, path float64) {
	long, _ = length(old, "line", "length")
	at := map[graph.PositionID]bool{}
	for _, fit := range f.Fitments {
		at[fit.Position] = at[fit.Position] || fit.Part == newer
	}
	for _, run := range f.Runs {
		for _, need := range run.Needs {
			for _, r := range need.Length {
				if v, err := measure.Parse(r.Text, measure.Length); err == nil && at[run.Line] {
					path = max(path, v.Quantity.Nominal)
				}
			}
		}
	}
	return long, path
}

// word is the first reading of a dimension as written.
func word(p graph.Part, feature, dim string) (string, bool) {
	f, _ := p.Feature(feature)
	if len(f.Dims[dim]) == 0 {
		return "", false
	}
	return f.Dims[dim][0].Text, true
}
