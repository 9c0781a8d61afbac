package mating

import (
	"slices"
	"testing"

	"matewell/graph"
)

// What is weaker than the part built in, although it goes on, is left to its maker: a
// clip link where a riveted one was, a hose with a thinner wall.
func TestWeakerThanBuilt(t *testing.T) {
	chain := made("chain", "pitch", "15.875 mm", "roller", "10.16 mm", "inner-width", "9.53 mm", "make", "Brenko",
		"links", "110")
	link := func(form string) Side {
		return made("joining-link", "pitch", "15.875 mm", "roller", "10.16 mm", "inner-width", "9.53 mm", "make", "Brenko",
			"form", form)
	}
	pipe := made("spigot", "diameter", "8 mm", "carries", "brake fluid")
	hose := func(outside string) Side {
		return made("hose-end", "bore", "7.5 mm", "outside", outside, "carries", "brake fluid")
	}
	for _, test := range []struct {
		name      string
		now, was  Side
		met       Side
		rule      string
		want      graph.Verdict
		withBuilt bool
	}{
		{"a clip link for a clip link", link("clip"), link("clip"), chain, "joining link", yes, true},
		{"a clip link for a riveted one", link("clip"), link("riveted"), chain, "joining link", open, true},
		{"near miss: a riveted one for a clip link", link("riveted"), link("clip"), chain, "joining link", yes, true},
		{"a clip link, nobody knows the old one", link("clip"), link(""), chain, "joining link", yes, false},
		{"a clip link in an odd number of links", link("clip"), link("clip"), chain.with("links", "111"), "joining link", no,
			true},
		{"near miss: one link further", link("clip"), link("clip"), chain.with("links", "112"), "joining link", yes, true},
		{"a cranked link in an odd number", link("cranked"), link("clip"), chain.with("links", "111"), "joining link", open,
			true},
		{"a cranked link in an even number", link("cranked"), link("clip"), chain, "joining link", no, true},
		{"nobody counted the links", link("clip"), link("clip"), chain.with("links", ""), "joining link", open, true},
		{"a hose as thick as built", hose("13 mm"), hose("13 mm"), pipe, "hose on pipe", yes, true},
		{"near miss: a quarter of a millimetre thinner", hose("12.5 mm"), hose("13 mm"), pipe, "hose on pipe", yes, true},
		{"a wall of a quarter of a millimetre", hose("8.04 mm"), hose("13 mm"), pipe, "hose on pipe", open, true},
		{"the same, nobody knows the old one", hose("8.04 mm"), hose(""), pipe, "hose on pipe", open, false},
	} {
		m := Meeting{A: test.now, B: test.met}
		if test.withBuilt {
			m.Built = &Meeting{A: test.was, B: test.met}
		}
		if c := the(t, Judge(m), test.rule); c.Verdict != test.want {
			t.Errorf("%s: %s (%s), want %s", test.name, c.Verdict, c.Why, test.want)
		}
	}
}

// That a clip link closes a chain of an even number says nothing of whether the chain is
// long enough: the number of links is judged by the link only where it is a no.
func TestEvenLinksAreNotJudged(t *testing.T) {
	chain := made("chain", "pitch", "15.875 mm", "roller", "10.16 mm", "inner-width", "9.53 mm", "make", "Brenko")
	link := made("joining-link", "pitch", "15.875 mm", "roller", "10.16 mm", "inner-width", "9.53 mm", "make", "Brenko",
		"form", "clip")
	for links, judged := range map[string]bool{"90": false, "110": false, "111": true} {
		c := the(t, Judge(Meeting{A: link, B: chain.with("links", links)}), "joining link")
		if got := slices.ContainsFunc(c.Uses, func(u Use) bool { return u.Dim == "links" }); got != judged {
			t.Errorf("%s links: judged by them %v, want %v", links, got, judged)
		}
	}
}
