package measure

import (
	"fmt"
	"strings"
	"unicode"
)

// unit is one row of the table of units: value in base unit = value x factor +
// offset.
type unit struct {
	name   string // canonical spelling
	typ    Type
	factor float64
	offset float64
	also   []string // other spellings, as foldUnit leaves them
}

// The base unit of each type comes first among its own. Factors are exact by
// definition (1 in = 25.4 mm, 1 lb = 0.45359237 kg, standard gravity 9.80665
// m/s2; the metric horsepower is 75 kgf m/s); the pound-force foot is as QUDT
// and UCUM print it. testdata/published/units.csv checks them.
var units = [...]unit{
	{"mm", Length, 1, 0, []string{"millimetre", "millimetres", "millimeter", "millimeters"}},
	{"in", Length, 25.4, 0, []string{`"`, "inch", "inches"}},
	{"cm", Length, 10, 0, nil},
	{"m", Length, 1000, 0, []string{"metre", "metres", "meter", "meters"}},
	{"ft", Length, 304.8, 0, []string{"foot", "feet"}},
	{"µm", Length, 0.001, 0, []string{"um", "μm", "micron", "microns"}},
	{"thou", Length, 0.0254, 0, nil},
	{"deg", Angle, 1, 0, []string{"°", "degree", "degrees"}},
	{"rad", Angle, 180 / 3.14159265358979323846, 0, nil},
	{"N m", Torque, 1, 0, []string{"nm", "newtonmetre", "newtonmetres"}},
	{"lbf ft", Torque, 1.3558179483314004, 0, []string{"lbfft", "ftlbf", "lbft", "ftlb", "ftlbs", "lbsft"}},
	{"lbf in", Torque, 1.3558179483314004 / 12, 0, []string{"lbfin", "inlbf", "lbin", "inlb", "inlbs", "lbsin"}},
	{"kgf m", Torque, 9.80665, 0, []string{"kgfm", "mkgf", "kgm", "mkg"}},
	{"kgf cm", Torque, 0.0980665, 0, []string{"kgfcm", "cmkgf", "kgcm", "cmkg"}},
	{"N cm", Torque, 0.01, 0, []string{"ncm"}},
	{"bar", Pressure, 1, 0, nil},
	{"kPa", Pressure, 0.01, 0, []string{"kpa"}},
	{"MPa", Pressure, 10, 0, []string{"mpa"}},
	{"Pa", Pressure, 0.00001, 0, []string{"pa"}},
	{"psi", Pressure, 0.06894757293168361, 0, []string{"lbf/in2"}},
	{"kgf/cm2", Pressure, 0.980665, 0, []string{"kg/cm2"}},
	{"N/mm2", Pressure, 10, 0, []string{"n/mm2"}},
	{"kg", Mass, 1, 0, nil},
	{"g", Mass, 0.001, 0, []string{"gram", "grams"}},
	{"lb", Mass, 0.45359237, 0, []string{"lbs"}},
	{"oz", Mass, 0.028349523125, 0, nil},
	{"cm3", Volume, 1, 0, []string{"cc", "ccm", "ml"}},
	{"l", Volume, 1000, 0, []string{"litre", "litres", "liter", "liters"}},
	{"mm3", Volume, 0.001, 0, nil},
	{"W", Power, 1, 0, []string{"w", "watt", "watts"}},
	{"kW", Power, 1000, 0, []string{"kw"}},
	{"PS", Power, 735.49875, 0, []string{"ps"}},
	{"hp", Power, 745.6998715822702, 0, []string{"bhp"}},
	{"V", Voltage, 1, 0, []string{"v", "volt", "volts"}},
	{"mV", Voltage, 0.001, 0, []string{"mv"}},
	{"°C", Temperature, 1, 0, []string{"°c", "c", "degc", "celsius"}},
	{"°F", Temperature, 5.0 / 9, -160.0 / 9, []string{"°f", "f", "degf", "fahrenheit"}},
	{"K", Temperature, 1, -273.15, []string{"k", "kelvin"}},
	{"N", Force, 1, 0, []string{"n", "newton", "newtons"}},
	{"kN", Force, 1000, 0, []string{"kn"}},
	{"lbf", Force, 4.4482216152605, 0, nil},
	{"kgf", Force, 9.80665, 0, nil},
	{"km/h", Speed, 1, 0, []string{"kmh", "kph"}},
	{"mph", Speed, 1.609344, 0, nil},
	{"m/s", Speed, 3.6, 0, nil},
	{"A", Current, 1, 0, []string{"a", "amp", "amps", "ampere"}},
	{"mA", Current, 0.001, 0, []string{"ma"}},
	{"ohm", Resistance, 1, 0, []string{"ω", "ohms"}},
	{"kohm", Resistance, 1000, 0, []string{"kω", "kohms"}},
	{"N/mm", Stiffness, 1, 0, nil},
	{"kgf/mm", Stiffness, 9.80665, 0, []string{"kg/mm"}},
	{"lbf/in", Stiffness, 4.4482216152605 / 25.4, 0, []string{"lb/in", "lbs/in"}},
}

// A prefix in the wrong case is another unit by a factor of a million or more,
// so these spellings are never taken for MPa, mV and mm.
var wrongCase = [...]string{"mPa", "MV", "Mm"}

// UnitError says that a unit of one type stood where another type was wanted,
// such as "N m" where a length was wanted.
type UnitError struct {
	Unit string
	Got  Type // the type the unit belongs to
	Want Type // the type that was wanted
}

// Error is the fault in words, with the units that would have been right.
func (e *UnitError) Error() string {
	return fmt.Sprintf("%q is a unit of %s where %s is wanted: write it in %s",
		e.Unit, e.Got, e.Want, unitList(e.Want))
}

// foldUnit drops what people write between the parts of a unit, so that "N·m",
// "N.m", "N-m" and "Nm" are one.
func foldUnit(name string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case ' ', '.', '·', '⋅', '-', '*':
			return -1
		case '²':
			return '2'
		case '³':
			return '3'
		}
		return unicode.ToLower(r)
	}, name)
}

func findUnit(name string) (unit, bool) {
	for _, wrong := range wrongCase {
		if name == wrong {
			return unit{}, false
		}
	}
	for _, u := range units { // the canonical spelling needs no folding
		if name == u.name {
			return u, true
		}
	}
	folded := foldUnit(name)
	if folded == "" {
		return unit{}, false
	}
	for _, u := range units {
		if folded == foldUnit(u.name) {
			return u, true
		}
		for _, other := range u.also {
			if folded == other {
				return u, true
			}
		}
	}
	return unit{}, false
}

// unitFor finds a unit of the wanted type; the error is a UnitError when the
// unit is known but of another type.
func unitFor(name string, want Type) (unit, error) {
	u, ok := findUnit(name)
	if !ok {
		return unit{}, fmt.Errorf("unknown unit %q: write the %s in %s", name, want, unitList(want))
	}
	if u.typ != want {
		return unit{}, &UnitError{Unit: u.name, Got: u.typ, Want: want}
	}
	return u, nil
}

func baseUnit(t Type) (unit, bool) {
	for _, u := range units {
		if u.typ == t {
			return u, true
		}
	}
	return unit{}, false
}

// unitNames are the canonical spellings of a type's units, the base unit first;
// none for a type without a unit.
func unitNames(t Type) []string {
	var names []string
	for _, u := range units {
		if u.typ == t {
			names = append(names, u.name)
		}
	}
	return names
}

func unitList(t Type) string {
	names := unitNames(t)
	if len(names) == 0 {
		return "no unit"
	}
	return strings.Join(names, ", ")
}

func (u unit) toBase(value float64) float64   { return value*u.factor + u.offset }
func (u unit) fromBase(value float64) float64 { return (value - u.offset) / u.factor }
