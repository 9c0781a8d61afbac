package measure

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Quantity is a number with its unit and its tolerance. All three values are in
// the base unit of the type (see Type). The zero Quantity is none at all.
type Quantity struct {
	Type Type
	// Nominal is the value; Low and High are the limits the drawing allows,
	// the same as Nominal when it gives none. Nominal may lie outside of the
	// limits, as in "20 mm +0.033/+0.02".
	Nominal, Low, High float64
	Toleranced         bool // "±0.05" or "+0/-0.1" was written
	// Range is true when "20-30 mm" was written; Nominal is then the middle.
	Range bool
	// Unit is the unit as written, in its canonical spelling. A ratio keeps
	// its second half here, ":1" or "/25"; a count and a plain ratio have "".
	Unit string
}

// ParseQuantity reads a number with its unit as a drawing says it: "14 mm",
// "5/8 in", "1 1/2 in", "22.2 mm +0/-0.1", "22.2 mm ±0.05", "20-30 mm",
// "32 Nm", "-30 mm". For Count and Ratio there is no unit. The error quotes the
// text; errors.As finds a *UnitError in it when the unit is of another type.
func ParseQuantity(text string, want Type) (Quantity, error) {
	q, err := parseQuantity(text, want)
	if err != nil {
		return Quantity{}, fmt.Errorf("%s %q: %w", want, text, err)
	}
	return q, nil
}

func parseQuantity(text string, want Type) (Quantity, error) {
	clean, err := tidy(text, maxText)
	if err == nil {
		err = noComma(clean)
	}
	if err == nil && clean == "" {
		err = errors.New("nothing is written")
	}
	if err != nil {
		return Quantity{}, err
	}
	c := &cursor{text: clean}
	switch {
	case want == Count:
		return count(c)
	case want == Ratio:
		return ratio(c)
	case want.Measured():
		return measured(c, want)
	}
	return Quantity{}, fmt.Errorf("%s is not a number with a unit", want)
}

func count(c *cursor) (Quantity, error) {
	text := c.digits()
	if text == "" || !c.done() {
		return Quantity{}, errors.New("a whole number without a unit is wanted, 0 or more")
	}
	if len(text) > maxWhole {
		return Quantity{}, fmt.Errorf("more than %d digits", maxWhole)
	}
	n, err := strconv.Atoi(text)
	return exactly(Count, float64(n), ""), err
}

func ratio(c *cursor) (Quantity, error) {
	top, err := c.number()
	if err != nil {
		return Quantity{}, err
	}
	c.space()
	bottom, mark := 1.0, ""
	if c.take(":") || c.take("/") {
		mark = c.text[c.at-1 : c.at]
		c.space()
		if bottom, err = c.number(); err != nil {
			return Quantity{}, err
		}
	}
	if !c.done() {
		return Quantity{}, fmt.Errorf(`%q is left over: a ratio is written "2.8", "5:1" or "90/25"`, c.rest())
	}
	if top <= 0 || bottom <= 0 {
		return Quantity{}, errors.New("a ratio is above zero")
	}
	unit := ""
	if mark != "" {
		unit = mark + plain(bottom)
	}
	return exactly(Ratio, top/bottom, unit), nil
}

// Under is the second half of a ratio that was written with two, 25 of 90/25.
func (q Quantity) Under() (float64, bool) {
	if q.Type != Ratio || len(q.Unit) < 2 {
		return 0, false
	}
	bottom, err := strconv.ParseFloat(q.Unit[1:], 64)
	return bottom, err == nil
}

func exactly(t Type, value float64, unit string) Quantity {
	return Quantity{Type: t, Nominal: value, Low: value, High: value, Unit: unit}
}

// span is a quantity still in the unit that was written.
type span struct {
	nominal, low, high float64
	toleranced, isFrom bool
}

func measured(c *cursor, want Type) (Quantity, error) {
	first, err := magnitudeOf(c, want)
	if err != nil {
		return Quantity{}, err
	}
	c.space()
	name := c.unit()
	c.space()
	s, err := limits(c, first, want)
	if err != nil {
		return Quantity{}, err
	}
	c.space()
	second := c.unit()
	if !c.done() {
		return Quantity{}, fmt.Errorf("%q is left over", c.rest())
	}
	u, err := oneUnit(name, second, want)
	if err != nil {
		return Quantity{}, err
	}
	q := Quantity{Type: want, Unit: u.name, Toleranced: s.toleranced, Range: s.isFrom,
		Nominal: u.toBase(s.nominal), Low: u.toBase(s.low), High: u.toBase(s.high)}
	return q, q.possible()
}

// oneUnit takes the unit written behind the number or behind the limits.
// Written in both places, it must be the same.
func oneUnit(name, second string, want Type) (unit, error) {
	if name == "" {
		name, second = second, ""
	}
	if name == "" {
		base, _ := baseUnit(want)
		return unit{}, fmt.Errorf("the unit is missing: write it in %s, such as \"14 %s\"", unitList(want), base.name)
	}
	u, err := unitFor(name, want)
	if err != nil || second == "" {
		return u, err
	}
	other, err := unitFor(second, want)
	if err == nil && other.name != u.name {
		err = fmt.Errorf("two units, %s and %s", u.name, other.name)
	}
	return u, err
}

func (q Quantity) possible() error {
	if !q.Type.mayBeNegative() && min(q.Low, q.Nominal) < 0 {
		return fmt.Errorf("a %s below zero is %w", q.Type, ErrImpossible)
	}
	if q.Type == Temperature && min(q.Low, q.Nominal) < -273.15 {
		return errors.New("below absolute zero")
	}
	return nil
}

// signed reads a magnitude that may have a sign.
func signed(c *cursor) (float64, error) {
	negative := c.take("-")
	if !negative {
		c.take("+")
	}
	value, err := c.magnitude()
	if negative && value != 0 {
		value = -value
	}
	return value, err
}

// magnitudeOf reads a magnitude that may have a sign. "60/55 W" is no fraction.
func magnitudeOf(c *cursor, want Type) (float64, error) {
	if want == Power {
		return c.number()
	}
	return signed(c)
}

// limits reads a tolerance or the second end of a range; with neither, the
// value stands alone. "60/55 W" are the two filaments of a lamp.
func limits(c *cursor, first float64, want Type) (span, error) {
	s := span{nominal: first, low: first, high: first}
	up, down, ok, err := tolerance(c)
	if err != nil {
		return s, err
	}
	if ok {
		s.low, s.high, s.toleranced = first+down, first+up, true
		return s, nil
	}
	both := want == Power && c.take("/") // of a lamp with two filaments, in either order
	if !both && !c.take("to ") && !c.take("-") {
		return s, nil
	}
	c.space()
	second, err := magnitudeOf(c, want)
	if err != nil {
		return s, err
	}
	if both && second <= first {
		first, second = second, first
	}
	if second < first {
		return s, fmt.Errorf("%w: from %s to %s; a mixed fraction is written with a space, \"1 1/2 in\"",
			ErrReversed, plain(first), plain(second))
	}
	s.low, s.high, s.nominal, s.isFrom = first, second, (first+second)/2, !both || first < second
	return s, nil
}

// ErrReversed is found by errors.Is in the error for a range whose second end
// is below its first.
var ErrReversed = errors.New("the range is reversed")

// ErrImpossible is the error for what can be read, but nothing can measure: a
// torque below zero, a pitch coarser than its thread allows.
var ErrImpossible = errors.New("impossible")

// tolerance reads "±0.05", "+/-0.05", "+0/-0.1", "-0.1/+0", "+0.03/+0.02" or
// "0/-0.1". Without one the cursor stays where it is.
func tolerance(c *cursor) (up, down float64, ok bool, err error) {
	if c.take("±") || c.take("+/-") || c.take("+-") {
		c.space()
		up, err = c.number()
		return up, 0 - up, err == nil, err
	}
	if c.done() {
		return 0, 0, false, nil
	}
	back := c.at
	first, firstOK := deviation(c)
	c.space()
	parted := c.take("/") || c.text[back] != '0'
	c.space()
	second, secondOK := deviation(c)
	if firstOK && secondOK && parted {
		return max(first, second), min(first, second), true, nil
	}
	c.at = back
	if c.take("+") {
		c.at = back
		return 0, 0, false, errors.New(`a tolerance is written with both sides, "+0.1/-0" or "±0.1"`)
	}
	return 0, 0, false, nil
}

// deviation reads a number with a sign, or a bare zero.
func deviation(c *cursor) (float64, bool) {
	negative := c.take("-")
	signed := negative || c.take("+")
	value, err := c.number()
	if err != nil || !signed && value != 0 {
		return 0, false
	}
	if negative && value != 0 {
		value = -value
	}
	return value, true
}

// HalfStep is half of the last digit that is written of a value, in the base unit of its
// type: 0.05 mm for "3.2 mm", 0.0127 mm for "0.126 in". Whole numbers count as written to
// a tenth. It is 0 for a fraction, which is exact, and for what can't be read.
func HalfStep(text string, t Type) float64 {
	q, err := ParseQuantity(text, t)
	if err != nil || strings.ContainsAny(text, "/") {
		return 0
	}
	u, ok := findUnit(q.Unit)
	if !ok || u.typ != t {
		return 0
	}
	decimals := 1
	if _, after, has := strings.Cut(text, "."); has {
		decimals = len(after) - len(strings.TrimLeft(after, "0123456789"))
	}
	step := math.Pow(10, -float64(decimals))
	return math.Abs(u.toBase(step)-u.toBase(0)) / 2
}

// Same reports whether two quantities are the same value with the same limits,
// in whatever units they were written. Lengths are equal within 1e-6 mm, other
// types within one part in 1e9.
func (q Quantity) Same(other Quantity) bool {
	return q.Type == other.Type && near(q.Type, q.Nominal, other.Nominal) &&
		near(q.Type, q.Low, other.Low) && near(q.Type, q.High, other.High)
}

func near(t Type, a, b float64) bool {
	if t == Length {
		return math.Abs(a-b) <= 1e-6
	}
	return math.Abs(a-b) <= 1e-9*max(1, math.Abs(a), math.Abs(b))
}

// String is the quantity as a drawing would say it, in the unit it was written
// in; ParseQuantity reads it back to the same value. Inches that are whole
// 64ths print as fractions. It is empty for the zero Quantity.
func (q Quantity) String() string {
	switch {
	case q.Type == Count:
		return plain(q.Nominal)
	case q.Type == Ratio:
		return ratioText(q)
	case !q.Type.Measured():
		return ""
	}
	u, ok := findUnit(q.Unit)
	if !ok || u.typ != q.Type {
		u, _ = baseUnit(q.Type)
	}
	low, high, nominal := u.fromBase(q.Low), u.fromBase(q.High), u.fromBase(q.Nominal)
	if q.Range {
		mark := "-"
		if plain(low)[0] == '-' || plain(high)[0] == '-' {
			mark = " to "
		}
		return number(u, low) + mark + number(u, high) + " " + u.name
	}
	text := number(u, nominal) + " " + u.name
	if q.Toleranced {
		text += " " + deviations(high-nominal, low-nominal)
	}
	return text
}
