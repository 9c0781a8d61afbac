package mating

import (
	"fmt"

	"matewell/graph/measure"
)

// linkMatch is what the rollers and the width inside of a joining link and its chain
// may differ by, in mm: the next size is 0.7 mm away (ISO 606, ISO 10190).
const linkMatch = 0.2

// joiningLinkOnChain judges the link that closes a chain: it must be of the
// chain's size, a riveted one of its make and series, and a cranked one carries
// less.
func joiningLinkOnChain(b *bench, m Meeting) {
	c := b.check("joining link")
	equalSize(c, m, "pitch", "pitch", pitchMatch, "pitch")
	equalSize(c, m, "roller", "roller", linkMatch, "rollers")
	equalSize(c, m, "inner-width", "inner-width", linkMatch, "inside")
	if either(m, "pin") {
		equalSize(c, m, "pin", "pin", pinMatch, "pins")
	}
	form, ok := c.word(m.A, "form")
	closesLinks(c, m, form)
	switch {
	case !ok:
	case form == "cranked":
		c.settle(lookAt(m.A, "form", "whether the maker of chain and machine allows a cranked link"))
		c.unknown("a cranked link carries about 35 %% less than the chain: better an even number of links")
	default:
		sameMake(c, m, form)
		stepDown(c, m, form)
	}
}

// closesLinks judges whether a link of a form closes a chain of as many links: one that is
// not cranked stands for an outer link, and joins two inner ones, which an even number
// asks for. That the number is even says nothing of whether the chain is long enough, so
// it is judged by it only where it is a no. Source: ISO 606, on cranked links.
func closesLinks(c *check, m Meeting, form string) {
	if len(m.B.Feature.Dims["links"]) == 0 {
		c.count(m.B, "links") // asks for it
		return
	}
	probe := c.bench.aside().check(c.Rule)
	links, ok := probe.count(m.B, "links")
	isOdd := links%2 == 1
	if !ok || form == "" || isOdd == (form == "cranked") {
		return
	}
	c.also(probe.Uses)
	if isOdd {
		c.sizes(fmt.Sprintf("%d links", links), "an even number", "1 link")
		c.no("%d links are an odd number, which no %s link closes: one link must come out, or go in", links, form)
		return
	}
	c.sizes(fmt.Sprintf("%d links", links), "an odd number", "1 link")
	c.no("%d links are an even number, which a cranked link does not close", links)
}

// stepDown leaves a link that is opened by hand to the chain's maker where the chain
// was closed for good: a strong chain is sold with riveted links for a reason. Source:
// chain makers' guides.
func stepDown(c *check, m Meeting, form string) {
	was, known := asBuilt(m, m.A.Feature.Kind)
	if !known || form != "clip" {
		return
	}
	if built, ok := c.peek(was, "form", measure.Word); ok && built.Text == "riveted" {
		c.settle(lookAt(m.A, "form", "whether the chain's maker allows a clip link in this chain on this machine"))
		c.unknown("a clip link where a riveted one was: whether it may is for the chain's maker to say")
	}
}

// pinMatch is how far the pins of two links may differ, in mm: read to 0.01 mm;
// the pins of neighbouring chains are 0.1 mm and more apart. Common practice, no
// source.
const pinMatch = 0.05

func sameMake(c *check, m Meeting, form string) {
	if form == "clip" && !either(m, "make") {
		c.fits("a clip link; the closed end of its clip points the way the chain runs")
		return
	}
	link, okLink := c.phrase(m.A, "make")
	chain, okChain := c.phrase(m.B, "make")
	switch {
	case !okLink || !okChain:
	case sameWords(link, chain):
		c.fits("a %s link of the chain's own make", form)
		c.Renew = append(c.Renew, "a new joining link whenever it was open")
	case form == "riveted":
		c.sizes(link, chain, "")
		c.no("a riveted link of %s does not belong in a chain of %s: pins and plates are made to each other", link, chain)
	default:
		c.sizes(link, chain, "")
		c.settle(askFor(m.A, "pin"), askFor(m.B, "pin"))
		c.unknown("a clip link of %s in a chain of %s: their pins and plates must be compared", link, chain)
	}
}
