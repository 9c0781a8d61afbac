package store

import (
	"matewell/graph"
	"matewell/graph/measure"
)

func writeScope(p page, s graph.Scope) {
	p.number(termYearFrom, s.Years.From)
	p.number(termYearTo, s.Years.To)
	p.texts(termMarket, s.Markets)
	p.texts(termMark, s.Marks)
	writeFrames(p, s.Frames)
}

func readScope(r *record) graph.Scope {
	return graph.Scope{
		Years:   measure.Years{From: r.number(termYearFrom), To: r.number(termYearTo)},
		Markets: r.texts(termMarket),
		Marks:   r.texts(termMark),
		Frames:  readFrames(r),
	}
}

// writeFrames writes an interval of frame numbers by its four facts, so that it can
// be asked for and comes back exactly.
func writeFrames(p page, f measure.Frames) {
	p.text(termFramePrefix, f.Prefix)
	p.number(termFrameFrom, f.From)
	p.number(termFrameTo, f.To)
	p.number(termFrameDigits, f.Width)
}

func readFrames(r *record) measure.Frames {
	return measure.Frames{
		Prefix: r.text(termFramePrefix),
		From:   r.number(termFrameFrom),
		To:     r.number(termFrameTo),
		Width:  r.number(termFrameDigits),
	}
}
