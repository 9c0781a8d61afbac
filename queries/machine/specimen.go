package machine

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/evidence"
)

// State is how sound one particular part is, and by what; Why is empty where
// nothing was noted.
type State struct {
	Is  graph.Soundness
	Why string // "cracked: not to be used", "thickness 3.8 mm, least 3.5 mm"
}

// worse is the less sound of two states; of two alike the first that says why.
func (s State) worse(other State) State {
	if other.Is > s.Is || other.Is == s.Is && s.Why == "" {
		return other
	}
	return s
}

// stateOf judges one particular part by the word for its condition and by what
// was measured on it against the limit that its number has. Worn is for the
// gauge to say: with a dimension that wears measured and within its limit, and none
// beyond one, the word alone makes nothing doubtful. Without a limit what wears is doubtful.
func stateOf(part graph.Part, s graph.Specimen) State {
	var state State
	judged := false
	for _, m := range s.Measured {
		wear, isWear := wearOf(part, s, m)
		judged = judged || isWear && wear.Is == graph.Sound
		state = state.worse(wear)
	}
	c, known := graph.ConditionNamed(s.Condition)
	if !known || c.Is == graph.Doubtful && judged && s.Condition == "worn" {
		return state
	}
	said := State{Is: c.Is, Why: c.Word}
	if c.Then != "" {
		said.Why += ": " + c.Then
	}
	return said.worse(state)
}

// wearOf judges one measured dimension; false where it is none that wears.
func wearOf(part graph.Part, s graph.Specimen, m graph.Measured) (State, bool) {
	f, _ := part.Feature(m.Feature)
	at := slices.IndexFunc(graph.WearLimits(), func(l graph.WearLimit) bool { return l.Kind == f.Kind && l.Dim == m.Dim })
	if at < 0 {
		return State{}, false
	}
	limit := graph.WearLimits()[at]
	now, err := measure.ParseQuantity(m.Text, measure.Length)
	text := BestText(f, limit.By)
	for _, noted := range s.Measured { // a limit read on this very piece
		if noted.Feature == m.Feature && noted.Dim == limit.By {
			text = noted.Text
		}
	}
	bound, errBound := measure.ParseQuantity(text, measure.Length)
	word := "least"
	if limit.Most {
		word = "most"
	}
	switch {
	case err != nil:
		return State{graph.Doubtful, m.Dim + " " + m.Text + " can't be read"}, true
	case errBound != nil:
		return State{graph.Doubtful, fmt.Sprintf("%s %s, and nobody recorded the %s it may be: see the part "+
			"and the maker's manual",
			m.Dim, m.Text, word)}, true
	case !limit.Most && now.Nominal < bound.Nominal, limit.Most && now.Nominal > bound.Nominal:
		return State{graph.Scrap, fmt.Sprintf("%s: %s %s, %s %s", limit.Past, m.Dim, m.Text, word, text)}, true
	}
	return State{graph.Sound, fmt.Sprintf("%s %s, %s %s", m.Dim, m.Text, word, text)}, true
}

// asMeasured is a part with what was measured on this very piece of it in the
// place of what its number has.
func asMeasured(part graph.Part, fitted graph.Fitted) graph.Part {
	if len(fitted.Measured) == 0 {
		return part
	}
	part.Features = slices.Clone(part.Features)
	for _, m := range fitted.Measured {
		for i, f := range part.Features {
			if f.Name != m.Feature {
				continue
			}
			dims := maps.Clone(f.Dims)
			if dims == nil {
				dims = map[string][]graph.Reading{}
			}
			dims[m.Dim] = []graph.Reading{{Text: m.Text, Method: m.With, Cite: graph.Cite{Pos: fitted.Pos}}}
			part.Features[i].Dims = dims
		}
	}
	return part
}

// offNumber is what was measured on one particular piece of a part and is not what its
// number has, as Seat.Measured says it. What its number says nothing of is none of it, and
// neither is what the gauge can't tell apart.
func offNumber(part graph.Part, s graph.Specimen) string {
	var off []string
	for _, m := range s.Measured {
		f, _ := part.Feature(m.Feature)
		known := f.Dims[m.Dim]
		kind, _ := graph.FeatureKindNamed(f.Kind)
		spec, ok := kind.Dim(m.Dim)
		if !ok || len(known) == 0 {
			continue
		}
		if wear, wears := wearOf(part, s, m); wears && wear.Is == graph.Sound {
			continue
		}
		now := graph.Reading{Text: m.Text, Method: "measured on it"}
		if !slices.ContainsFunc(known, func(r graph.Reading) bool { return evidence.Agree(spec, now, r) }) {
			off = append(off, m.Feature+" "+m.Dim+" "+m.Text)
		}
	}
	slices.Sort(off)
	return strings.Join(off, "; ")
}

// With is a part with one dimension of a feature as given, and nothing else said of
// that dimension. A feature that the part has not leaves it as it is.
func With(part graph.Part, feature, dim, text string) graph.Part {
	part.Features = slices.Clone(part.Features)
	for i, f := range part.Features {
		if f.Name != feature {
			continue
		}
		dims := maps.Clone(f.Dims)
		if dims == nil {
			dims = map[string][]graph.Reading{}
		}
		dims[dim] = []graph.Reading{{Text: text}}
		part.Features[i].Dims = dims
	}
	return part
}
