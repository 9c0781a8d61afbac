// Package othervalue has values to try in the place of a recorded one, so that it shows
// whether a verdict hangs on it: a check that says "fits" whatever a dimension is has
// judged nothing. The door is Of.
package othervalue

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
)

// Of are other values to put in the place of a new one, by the aspects in which
// it differs from the old one: a thread differs in size, in pitch and in hand, and
// what tells sizes apart need not see a pitch. A measure is tried far smaller and
// far greater, a word as every other word there is. Without an old value every
// aspect counts. None for values that can't be read.
func Of(spec graph.DimSpec, was, now string) [][]string {
	return lists.Mapped(aspectTrials(spec, was, now), func(texts []string) []string {
		return lists.Kept(texts, func(text string) bool {
			_, err := measure.Parse(text, spec.Type)
			return err == nil && (spec.Check == nil || spec.Check(text) == nil)
		})
	})
}

func aspectTrials(spec graph.DimSpec, was, now string) [][]string {
	v, err := measure.Parse(now, spec.Type)
	if err != nil {
		return nil
	}
	old, errOld := measure.Parse(was, spec.Type)
	switch {
	case spec.Type == measure.Thread:
		return threadTrials(old.Thread, v.Thread, errOld == nil)
	case spec.Type.Measured() || spec.Type == measure.Count || spec.Type == measure.Ratio:
		return [][]string{others(now, append(sizeTrials(spec, v.Quantity.Nominal), was)...)}
	case spec.Type == measure.YesNo:
		return [][]string{{yesOrNo(!v.Yes)}}
	case spec.Type == measure.Word:
		return [][]string{wordTrials(spec, was, now)}
	}
	return [][]string{others(now, was, scaled(now, 0.5), scaled(now, 2), scaled(now, 1.1), "another")}
}

func yesOrNo(yes bool) string {
	if yes {
		return "yes"
	}
	return "no"
}

// sizeTrials are a size far below and far above.
func sizeTrials(spec graph.DimSpec, v float64) []string {
	var all []string
	for _, factor := range []float64{0.05, 0.3, 0.7, 1.5, 4, 30} {
		all = append(all, measure.Format(v*factor, spec.Type))
	}
	if spec.Signed {
		all = append(all, measure.Format(v-50, spec.Type), measure.Format(v+50, spec.Type))
	}
	return others(measure.Format(v, spec.Type), all...)
}

// symbols are words of one letter, as the speed symbols of tyres: of those that a
// dimension takes, some say more than the one that is there and some less.
var symbols = strings.Split("ABCDEFGHIJKLMNOPQRSTUVWXYZ", "")

func wordTrials(spec graph.DimSpec, was, now string) []string {
	words := append([]string{was}, spec.Words...)
	if len(spec.Words) == 0 {
		words = append(words, "another", grown(now, 1), grown(now, 9), scaled(now, 2))
		if spec.Check != nil {
			words = append(words, symbols...)
		}
	}
	return others(now, words...)
}

// threadTrials are threads of another size, another pitch and another hand.
func threadTrials(was, now measure.ThreadSize, known bool) [][]string {
	metric := func(nominal, pitch float64, left bool) string {
		text := "M" + decimal(nominal) + "x" + decimal(pitch)
		if left {
			text += " LH"
		}
		return text
	}
	var all [][]string
	if !known || was.Nominal != now.Nominal {
		all = append(all, []string{metric(4, 0.7, now.LeftHand), metric(now.Nominal*2, now.Pitch, now.LeftHand),
			metric(40, 1.5, now.LeftHand)})
	}
	if !known || was.Pitch != now.Pitch || was.Standard != now.Standard {
		all = append(all, others(metric(now.Nominal, now.Pitch, now.LeftHand), metric(now.Nominal, now.Pitch/2, now.LeftHand),
			metric(now.Nominal, now.Pitch*1.2, now.LeftHand), metric(now.Nominal, now.Pitch*2, now.LeftHand)))
	}
	if !known || was.LeftHand != now.LeftHand {
		all = append(all, []string{metric(now.Nominal, now.Pitch, !now.LeftHand)})
	}
	return all
}

// decimal is a size of a thread as it is written.
func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

var anyNumber = regexp.MustCompile(`\d+(\.\d+)?`)

// grown is a text with its numbers made greater, as another size on a tyre.
func grown(text string, by float64) string {
	return replaced(text, func(v float64) float64 { return v + by })
}

// scaled is a text with its numbers multiplied.
func scaled(text string, factor float64) string {
	return replaced(text, func(v float64) float64 { return v * factor })
}

func replaced(text string, number func(float64) float64) string {
	return anyNumber.ReplaceAllStringFunc(text, func(s string) string {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			return s
		}
		return decimal(math.Round(number(v)*100) / 100)
	})
}

// others are texts that are neither empty nor the one given, each once.
func others(than string, texts ...string) []string {
	var kept []string
	for _, text := range texts {
		if text != "" && text != than && !slices.Contains(kept, text) {
			kept = append(kept, text)
		}
	}
	return kept
}
