package measure

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// plain prints a number with at most six decimals, without trailing zeros.
func plain(value float64) string { return decimals(value, maxDecimals) }

func decimals(value float64, places int) string {
	text := strconv.FormatFloat(value, 'f', places, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

// deviations prints how far the limits lie from the nominal value.
func deviations(up, down float64) string {
	above, below := plain(up), plain(down)
	if above == "0" && below == "0" || below == "-"+above {
		return "±" + above
	}
	if above[0] != '-' {
		above = "+" + above
	}
	if below == "0" {
		below = "-0"
	} else if below[0] != '-' {
		below = "+" + below
	}
	return above + "/" + below
}

// number prints a value in the unit; inches as people say them.
func number(u unit, value float64) string {
	if u.name != "in" {
		return plain(value)
	}
	parts := math.Round(value * 64)
	if plain(parts/64) != plain(value) || math.Abs(value) >= 100 {
		return plain(value)
	}
	sign := ""
	if parts < 0 {
		sign, parts = "-", -parts
	}
	whole, top, bottom := int(parts)/64, int(parts)%64, 64
	if top == 0 {
		return sign + strconv.Itoa(whole)
	}
	for top%2 == 0 {
		top, bottom = top/2, bottom/2
	}
	if whole == 0 {
		return fmt.Sprintf("%s%d/%d", sign, top, bottom)
	}
	return fmt.Sprintf("%s%d %d/%d", sign, whole, top, bottom)
}

func ratioText(q Quantity) string {
	if bottom, ok := q.Under(); ok {
		return plain(q.Nominal*bottom) + q.Unit
	}
	return plain(q.Nominal)
}

// Format prints a value that is in the base unit of its type, with its unit:
// "15.875 mm". Lengths get at most 3 decimals, other types what a workshop
// reads; trailing zeros are cut. It is "no value" for NaN and infinities.
func Format(value float64, t Type) string {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return "no value"
	}
	text := decimals(value, places(t))
	if base, ok := baseUnit(t); ok {
		return text + " " + base.name
	}
	return text
}

func places(t Type) int {
	switch t {
	case Length, Mass, Ratio:
		return 3
	case Angle, Torque, Pressure, Volume, Voltage:
		return 2
	case Count:
		return 0
	}
	return 1
}
