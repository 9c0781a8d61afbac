package mating

import (
	"strings"

	"matewell/graph"
)

// askFor is the measurement of one dimension, from its feature kind.
func askFor(s Side, dim string) Ask {
	a := Ask{Position: s.Position, Part: s.Part, Feature: s.Feature.Name, Dim: dim, What: dim, Where: label(s)}
	if kind, ok := graph.FeatureKindNamed(s.Feature.Kind); ok {
		if spec, ok := kind.Dim(dim); ok {
			a.What, a.Gauge, a.Accuracy = spec.Is, spec.Gauge, spec.Accuracy
		}
	}
	return a
}

// label is how an answer calls a side: its position and feature, else its part,
// else its kind.
func label(s Side) string {
	name := s.Position.Local()
	if name == "" {
		name = string(s.Part)
	}
	switch {
	case name == "" && s.Feature.Name == "":
		return kindWords(s)
	case name == "":
		return s.Feature.Name
	case s.Feature.Name == "":
		return name
	}
	return name + ", " + s.Feature.Name
}

// short is how an answer calls a side where its feature goes without saying:
// its position, else its part, else its kind.
func short(s Side) string {
	s.Feature.Name = ""
	return label(s)
}

// articles puts "an" before the words and numbers that want it: "an 8 mm bolt",
// "an M10x1 bolt" is written so by hand.
func articles(text string) string {
	if !strings.Contains(text, "a ") && !strings.HasPrefix(text, "A ") {
		return text
	}
	var out strings.Builder
	for i := 0; i < len(text); i++ {
		out.WriteByte(text[i])
		alone := text[i] == 'a' && (i == 0 || text[i-1] == ' ') || text[i] == 'A' && i == 0 // within, it is the ampere
		if alone && i+2 < len(text) && text[i+1] == ' ' && wantsAn(text[i+2:]) {
			out.WriteByte('n')
		}
	}
	return out.String()
}

// wantsAn reports whether what follows starts with the sound of a vowel: a
// word, or one of the numbers 8, 11, 18 and 80 to 89.
func wantsAn(rest string) bool {
	word, _, _ := strings.Cut(rest, " ")
	whole, _, _ := strings.Cut(word, ".")
	switch {
	case word == "":
		return false
	case strings.ContainsRune("aeio", rune(word[0])):
		return true
	case word[0] == '8':
		return len(whole) <= 2
	}
	return whole == "11" || whole == "18"
}
