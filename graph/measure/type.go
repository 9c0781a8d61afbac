package measure

import "fmt"

// Type says what sort of thing a dimension holds. The zero value is no type at
// all, so that a forgotten one is noticed.
type Type int

// The types, with the unit that a Quantity of the type is kept in.
const (
	Length      Type = iota + 1 // mm
	Angle                       // deg
	Torque                      // N m
	Pressure                    // bar
	Mass                        // kg
	Volume                      // cm3
	Power                       // W
	Voltage                     // V
	Temperature                 // °C
	Force                       // N
	Speed                       // km/h
	Current                     // A
	Resistance                  // ohm
	Stiffness                   // N/mm, the rate of a spring
	Count                       // whole number, 0 or more, no unit
	Ratio                       // plain number above 0: "2.8", "5:1", "90/25"
	Thread                      // "M10x1.25", "M10x1.25 LH", "3/8-24 UNF", "G 1/8"
	Word                        // one phrase
	Words                       // comma-separated set of phrases: "DOT 4, DOT 5.1"
	YesNo                       // "yes" or "no"
	Text                        // free text
	Points                      // "A: 6.5 mm grommet at 120,35; B: M6 insert"
	Sizes                       // "2x 27 mm + 2x 30.15 mm"
	Pins                        // "1 feed 12 V, 2 earth, 3 signal pulse"
)

var typeNames = [...]string{"no type", "length", "angle", "torque", "pressure", "mass", "volume",
	"power", "voltage", "temperature", "force", "speed", "current", "resistance", "stiffness", "count", "ratio", "thread",
	"word",
	"words", "yes or no", "text", "points", "sizes", "pins"}

// String is the type in words: "length", "thread"; "no type" for the zero
// value.
func (t Type) String() string {
	if t < 0 || int(t) >= len(typeNames) {
		return fmt.Sprintf("Type(%d)", int(t))
	}
	return typeNames[t]
}

// Measured reports whether values of the type are numbers with a unit: Length
// to Stiffness.
func (t Type) Measured() bool { return t >= Length && t <= Stiffness }

// mayBeNegative says for which types a value below zero means something: an
// offset to the other side, the other direction of turning, vacuum, frost.
func (t Type) mayBeNegative() bool {
	switch t {
	case Length, Angle, Temperature, Voltage, Pressure:
		return true
	}
	return false
}
