package store

import (
	"slices"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/graph/diag"
)

// fitmentLines reads fitments as encode writes them. The most used bolt has
// thousands, all alike: read by what is known of them, each takes a tenth of the
// time. What is written otherwise, such as a text with an escape, is left to decode.
type fitmentLines struct {
	on   map[string][]graph.VariantID // lists of variants, by how they are written
	rest string
}

// read gives the fitment of a line; ok is false when decode is to read it.
func (l *fitmentLines) read(line string) (f graph.Fitment, ok bool) {
	if strings.IndexByte(line, '\\') >= 0 {
		return f, false
	}
	l.rest = strings.Clone(line) // what is read must not keep all of its bundle
	if !l.take(`{"ID":"`) {
		return f, false
	}
	f.ID = graph.FitmentID(l.text())
	if l.take(`,"Position":"`) {
		f.Position = graph.PositionID(l.text())
	}
	if l.take(`,"Part":"`) {
		f.Part = graph.PartID(l.text())
	}
	if l.take(`,"Quantity":`) {
		f.Quantity, ok = l.number()
		if !ok {
			return f, false
		}
	}
	if l.take(`,"On":[`) {
		f.On = l.variants()
	}
	if l.take(`,"Scheme":"`) {
		f.Scheme = l.text()
	}
	if l.take(`,"Note":"`) {
		f.Note = l.text()
	}
	if l.take(`,"Said":[`) {
		f.Said, ok = l.cites()
		if !ok {
			return f, false
		}
	}
	return f, l.rest == "}"
}

// take passes over what stands next, if it does.
func (l *fitmentLines) take(next string) bool {
	rest, ok := strings.CutPrefix(l.rest, next)
	l.rest = rest
	return ok
}

// text gives what stands up to the next quotation mark.
func (l *fitmentLines) text() string {
	text, rest, closed := strings.Cut(l.rest, `"`)
	if l.rest = rest; !closed {
		l.rest = "cut off"
	}
	return text
}

func (l *fitmentLines) number() (int, bool) {
	end := strings.IndexAny(l.rest, ",}")
	if end < 0 {
		return 0, false
	}
	n, err := strconv.Atoi(l.rest[:end])
	l.rest = l.rest[end:]
	return n, err == nil
}

// variants gives the list of variants, whose bracket was taken.
func (l *fitmentLines) variants() []graph.VariantID {
	written, rest, closed := strings.Cut(l.rest, `"]`)
	if l.rest = rest; !closed {
		l.rest = "cut off"
		return nil
	}
	if known, ok := l.on[written]; ok {
		return slices.Clone(known)
	}
	var list []graph.VariantID
	for one := range strings.SplitSeq(strings.TrimPrefix(written, `"`), `","`) {
		list = append(list, graph.VariantID(one))
	}
	if l.on == nil {
		l.on = map[string][]graph.VariantID{}
	}
	l.on[written] = list
	return slices.Clone(list)
}

// cites gives the list of sources, whose bracket was taken.
func (l *fitmentLines) cites() (list []graph.Cite, ok bool) {
	for {
		var c graph.Cite
		switch {
		case l.take(`{"source":"`):
			c.Source = graph.SourceID(l.text())
			if l.take(`,"pos":"`) {
				c.Pos = parsePlace(l.text())
			}
		case l.take(`{"pos":"`):
			c.Pos = parsePlace(l.text())
		default:
			return nil, false
		}
		if list = append(list, c); !l.take("}") || c == (graph.Cite{}) || c.Pos == (diag.Pos{}) && c.Source == "" {
			return nil, false
		}
		if l.take("]") {
			return list, true
		}
		if !l.take(",") {
			return nil, false
		}
	}
}

// lineReader gives how the records of a bundle are read one by one: fitments as
// above, what else there is by decode.
func lineReader[T any]() func(line string, into *T) error {
	var lines fitmentLines
	return func(line string, into *T) error {
		if fitment, is := any(into).(*graph.Fitment); is {
			if f, ok := lines.read(line); ok {
				*fitment = f
				return nil
			}
		}
		return decode(line, into)
	}
}
