package mating

import (
	"math"
	"strings"

	"matewell/graph/measure"
)

// deciding is the reading that a verdict hangs on, among those it was judged by: the one
// whose size the reason gives first, else the one that stands as what was met or wanted,
// else the first. False for a check that read nothing.
func (c Check) deciding() (Use, bool) {
	if len(c.Uses) == 0 {
		return Use{}, false
	}
	why := c.Why
	if c.Gap != "" { // how far apart two sizes are is neither of them
		why = strings.ReplaceAll(why, c.Gap, "")
	}
	for _, text := range []string{why, c.Had, c.Wanted} {
		first, found := math.MaxInt, Use{}
		for _, use := range c.Uses {
			if at := sizeAt(text, use.Reading.Text); at >= 0 && at < first {
				first, found = at, use
			}
		}
		if first < math.MaxInt {
			return found, true
		}
	}
	return c.Uses[0], true
}

// SettleText is the measurement that settles a check: what it asks for itself where it
// could not tell, else the reading that it hangs on, with its gauge where the check
// names one. Empty for a check that neither read nor asks anything.
func (c Check) SettleText(unknown bool) string {
	if unknown && len(c.Measure) > 0 {
		return c.Measure[0].Text()
	}
	use, ok := c.deciding()
	if !ok {
		if len(c.Measure) > 0 {
			return c.Measure[0].Text()
		}
		return ""
	}
	for _, ask := range c.Measure {
		if ask.Position == use.Position && ask.Part == use.Part && ask.Feature == use.Feature && ask.Dim == use.Dim {
			return ask.Text()
		}
	}
	return use.measureText()
}

// measureText says to measure what was read.
func (u Use) measureText() string {
	text := "measure " + u.Dim
	if u.Feature != "" {
		text += " of " + u.Feature
	}
	switch {
	case u.Part != "":
		text += " on " + string(u.Part)
	case u.Position != "":
		text += " at " + u.Position.Local()
	}
	return text
}

// sizeAt is where a text gives the size of a reading, as written or as a rule prints it;
// below zero where it does not.
func sizeAt(text, reading string) int {
	at := wholeAt(text, reading)
	if v, err := measure.Parse(reading, measure.Length); err == nil {
		if printed := wholeAt(text, mm(spanOf(v.Quantity).nominal)); printed >= 0 && (at < 0 || printed < at) {
			at = printed
		}
	}
	return at
}

// wholeAt is where a text holds a size that is not part of a longer number or word.
func wholeAt(text, size string) int {
	if size == "" {
		return -1
	}
	inside := func(c byte) bool {
		return c == '.' || c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
	}
	for from := 0; from < len(text); {
		at := strings.Index(text[from:], size)
		if at < 0 {
			return -1
		}
		at += from
		end := at + len(size)
		if (at == 0 || !inside(text[at-1])) && (end == len(text) || text[end] == '.' || !inside(text[end])) {
			return at
		}
		from = at + 1
	}
	return -1
}
