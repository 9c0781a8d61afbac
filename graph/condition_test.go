package graph_test

import (
	"strings"
	"testing"

	"matewell/graph"
)

// A note that fluid comes out says the same as the word for it; one that it does not, or no
// more, says nothing.
func TestConditionTold(t *testing.T) {
	for note, want := range map[string]string{"weeps at one piston": graph.Leaking, "Leaks": graph.Leaking,
		"left seal seeping": graph.Leaking, "no leak found": "", "doesn't leak": "", "leaked, now dry": "",
		"weeps no more": "", "sweeping marks": "", "rusty": "corroded", "": "", "unsafe do not use": "scrap",
		"Needs replacing": "scrap", "perished": "perished", "worn out": "scrap", "worn": "worn", "N.G.": "scrap",
		"needs new bushes": "doubtful", "needed cleaning, bent": "bent", "not bent, used": "used", "good": "good",
		"very good condition": "good", "from the new machine": "", "44 teeth": "", "with split pin": "",
		"frayed at lever end": "frayed", "welded once": "doubtful", "no cracks": "", "not unsafe": "", "chewed": "scored",
		"needs 2 washers": "", "needs no shims": "", "needs polishing": "", "needs checking": "doubtful",
		"the number is worn off": "", "paint chipped": "", "number worn off, cracked": "cracked", "not worn out": "",
		"cracked under the paint": "cracked", "with split link": "", "split": "torn", "hard chromed": "",
		"must not be used": "scrap", "junk": "scrap", "says \"12V\" on it": ""} {
		if got := graph.ConditionTold(note); got != want {
			t.Errorf("%q tells %q, want %q", note, got, want)
		}
	}
	if _, known := graph.ConditionNamed(graph.Leaking); !known {
		t.Error("no such condition")
	}
}

// What wears and its limit are dimensions of the kind they are said of, and a limit
// decides nothing of whether a part fits.
func TestWearLimitsAreDimensions(t *testing.T) {
	for _, l := range graph.WearLimits() {
		k, known := graph.FeatureKindNamed(l.Kind)
		if !known || l.Past == "" {
			t.Errorf("%+v: no such kind, or no word for what is beyond", l)
			continue
		}
		for _, name := range []string{l.Dim, l.By} {
			switch d, has := k.Dim(name); {
			case !has:
				t.Errorf("%s has no %s", l.Kind, name)
			case name == l.By && d.Decides():
				t.Errorf("%s of %s decides", name, l.Kind)
			}
		}
	}
}

// otherLimits are dimensions that are called like a limit and are none of what wears,
// each with what they are held against.
var otherLimits = map[string]string{
	"cable-draw.most": "how far the cable is drawn: by the lever that it meets",
}

// Every dimension that is called a least or a most is the limit of another of its
// feature, or stands among those that are not: no limit can be written down that nothing
// is judged by.
func TestEveryLimitIsDeclared(t *testing.T) {
	declared := map[string]bool{}
	for _, l := range graph.WearLimits() {
		declared[l.Kind+"."+l.By] = true
	}
	found := 0
	for _, k := range graph.FeatureKinds() {
		for _, d := range k.Dims {
			name := k.Name + "." + d.Name
			if !isCalledLimit(d.Name) {
				continue
			}
			found++
			if declared[name] == (otherLimits[name] != "") {
				t.Errorf("%s: declared in WearLimits %t, another limit %q: want one of the two", name, declared[name],
					otherLimits[name])
			}
		}
	}
	if found < len(declared) {
		t.Errorf("%d limits are called so, %d are declared", found, len(declared))
	}
}

func isCalledLimit(dim string) bool {
	for _, word := range []string{"minimum", "maximum", "most", "least", "max", "min"} {
		if dim == word || strings.HasPrefix(dim, word+"-") {
			return true
		}
	}
	return false
}
