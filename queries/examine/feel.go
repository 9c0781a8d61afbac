package examine

import (
	"cmp"
	"fmt"

	"matewell/queries/trade"
)

// This file says in words what the figures of a brake mean to the hand.

// ratioWords says what the bore does, and how such a brake is said to feel.
func ratioWords(before, after hydraulics) string {
	var words, feel string
	if before.okBore && after.okBore && before.bore != after.bore {
		if change, err := trade.ChangeBore(before.bore, after.bore); err == nil {
			words = change.Words
			if otherLever(before, after) {
				words = "by the bore alone: " + words
			}
		}
	}
	ratio, err := after.ratio()
	if was, errWas := before.ratio(); words == "" && cmp.Or(err, errWas) == nil {
		words = areaWords(was, ratio)
	}
	if err == nil && after.wheel == "front" && after.style == "axial" {
		was, errWas := before.ratio()
		feel = feelWords(was, errWas == nil && before.style == after.style, ratio)
	}
	return joinWords(words, feel)
}

// feelWords says how a ratio is said to feel. Of a larger one than there was before it
// says so only where that is in another band: within one it is softer and no more
// wooden than it was.
func feelWords(was float64, okWas bool, is float64) string {
	f, err := trade.FeelOf(is)
	if err != nil {
		return ""
	}
	if before, err := trade.FeelOf(was); okWas && err == nil && before.Words == f.Words && is > was {
		return ""
	}
	return "said to feel " + f.Words + " (" + f.Source + ")"
}

// areaWords says what other pistons on the same master do. Force for a given hand
// force and lever travel both go as the hydraulic ratio. Source: Pascal's
// principle; the same fluid in and out.
func areaWords(was, is float64) string {
	percent := (is/was - 1) * 100
	switch {
	case percent > 0:
		return fmt.Sprintf(
			"more piston area presses %.1f %% harder for the same hand force, and the lever moves as much further", percent)
	case percent < 0:
		return fmt.Sprintf("less piston area presses %.1f %% less for the same hand force, and the lever moves as much less",
			-percent)
	}
	return ""
}

// leverageWords says what the ratio alone does not: another style of master, or
// another lever on it.
func leverageWords(before, after hydraulics) string {
	words := styleWords(before, after)
	if otherLever(before, after) {
		words = joinWords(words, fmt.Sprintf("the lever's own ratio changes too, from %.2g to %.2g%s", before.lever,
			after.lever, inAllWords(before, after)))
	}
	return words
}

func otherLever(before, after hydraulics) bool {
	return before.okLever && after.okLever && before.lever != after.lever
}

// inAllWords says what bore, pistons and lever come to together.
func inAllWords(before, after hydraulics) string {
	was, errWas := before.ratio()
	is, err := after.ratio()
	if cmp.Or(errWas, err) != nil || was*before.lever == 0 {
		return ""
	}
	switch percent := (is*after.lever/(was*before.lever) - 1) * 100; {
	case percent >= 0.05:
		return fmt.Sprintf(": in all it presses %.1f %% harder for the same hand force", percent)
	case percent <= -0.05:
		return fmt.Sprintf(": in all it presses %.1f %% less for the same hand force", -percent)
	}
	return ": in all it presses as hard as before"
}

func styleWords(before, after hydraulics) string {
	if before.style != "" && after.style != "" && before.style != after.style {
		return fmt.Sprintf("one master is %s, the other %s: compare total leverage, not the ratio", before.style, after.style)
	}
	return ""
}
