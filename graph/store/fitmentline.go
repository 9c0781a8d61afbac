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
	// part, source and file are those read last, mostly the same as the next. What is
	// read must not keep all of its bundle, and is kept once where it is alike.
	part, source, file string
}

// read gives the fitment of a line; ok is false when decode is to read it.
func (l *fitmentLines) read(line string) (f graph.Fitment, ok bool) {
	if strings.IndexByte(line, '\\') >= 0 {
		return f, false
	}
	l.rest = line
	if !l.take(`{"ID":"`) {
		return f, false
	}
	f.ID = graph.FitmentID(strings.Clone(l.text()))
	if l.take(`,"Position":"`) {
		f.Position = graph.PositionID(l.within(string(f.ID), l.text()))
	}
	if l.take(`,"Part":"`) {
		f.Part = graph.PartID(l.kept(&l.part, l.text()))
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
		f.Scheme = strings.Clone(l.text())
	}
	if l.take(`,"Note":"`) {
		f.Note = strings.Clone(l.text())
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

// kept is a text as it was kept last, else a copy, which is kept.
func (l *fitmentLines) kept(last *string, text string) string {
	if *last != text {
		*last = strings.Clone(text)
	}
	return *last
}

// within is a piece of a text that is kept, else a copy.
func (l *fitmentLines) within(kept, piece string) string {
	if at := strings.Index(kept, piece); at >= 0 {
		return kept[at : at+len(piece)]
	}
	return strings.Clone(piece)
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

// variants gives the list of variants, whose bracket was taken. Fitments share it, as
// they do whatever else is read once: nobody changes it in place.
func (l *fitmentLines) variants() []graph.VariantID {
	written, rest, closed := strings.Cut(l.rest, `"]`)
	if l.rest = rest; !closed {
		l.rest = "cut off"
		return nil
	}
	if known, ok := l.on[written]; ok {
		return slices.Clip(known)
	}
	written = strings.Clone(written)
	var list []graph.VariantID
	for one := range strings.SplitSeq(strings.TrimPrefix(written, `"`), `","`) {
		list = append(list, graph.VariantID(one))
	}
	if l.on == nil {
		l.on = map[string][]graph.VariantID{}
	}
	l.on[written] = list
	return slices.Clip(list)
}

func (l *fitmentLines) place() diag.Pos {
	pos := parsePlace(l.text())
	pos.File = l.kept(&l.file, pos.File)
	return pos
}

// cites gives the list of sources, whose bracket was taken.
func (l *fitmentLines) cites() (list []graph.Cite, ok bool) {
	for {
		var c graph.Cite
		switch {
		case l.take(`{"source":"`):
			c.Source = graph.SourceID(l.kept(&l.source, l.text()))
			if l.take(`,"pos":"`) {
				c.Pos = l.place()
			}
		case l.take(`{"pos":"`):
			c.Pos = l.place()
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
