package mating

import "matewell/graph"

// JudgeWear judges features of one part, each by itself: what wears, against the limit
// that the part has for it (graph.WearLimits), one check for each of which both are
// known. What nobody measured, or has no limit, is for others to ask for. The limits are
// the maker's or those of the rules of the road; none is set here.
func JudgeWear(features ...Side) []Check {
	var all []Check
	limits := graph.WearLimits()
	for _, s := range features {
		for _, l := range limits {
			if l.Kind != s.Feature.Kind || len(s.Feature.Dims[l.Dim]) == 0 || len(s.Feature.Dims[l.By]) == 0 {
				continue
			}
			all = append(all, judge(false, func(b *bench) { wear(b, s, l) })...)
		}
	}
	return all
}

func wear(b *bench, s Side, l graph.WearLimit) {
	c := b.check("limit of wear")
	c.Rule += ", " + l.Dim + " of " + s.Feature.Name
	is, okIs := c.length(s, l.Dim)
	limit, okLimit := c.length(s, l.By)
	if !okIs || !okLimit {
		return
	}
	left, word := is.minus(limit), "at least "
	if l.Most {
		left, word = limit.minus(is), "at most "
	}
	c.sizes(mm(is.nominal), word+mm(limit.nominal), "")
	words := l.Dim + " of " + s.Feature.Name + " " + mm(is.nominal) + ", " + word + mm(limit.nominal)
	switch {
	case left.low >= -eps && (l.Most || left.nominal > eps):
		c.fits("%s", words)
	case left.high < -eps:
		c.Gap = mm(-left.nominal)
		c.no("%s: %s", l.Past, words)
	case left.low >= -eps:
		c.settle(askFor(s, l.Dim))
		c.unknown("at its limit, with nothing left to wear: %s", words)
	default:
		c.settle(askFor(s, l.Dim))
		c.unknown("at the limits of the sizes it may be %s: %s", l.Past, words)
	}
}
