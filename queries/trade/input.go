package trade

import (
	"fmt"
	"math"
)

// inputError says which input of a formula can't be.
type inputError struct {
	What string // "bore"
	Got  string // "0 mm"
	Want string // "above zero"
}

// Error is one sentence without a stop: "bore is 0 mm: it must be above zero".
func (e *inputError) Error() string {
	return fmt.Sprintf("%s is %s: it must be %s", e.What, e.Got, e.Want)
}

// The bounds of any measure that must be above zero, in its own unit. They are
// ours: wide enough for every motorcycle, narrow enough that no formula here
// overflows or divides by something that has vanished.
const (
	least = 1e-6
	most  = 1e6
)

// positive refuses what isn't a real number above zero.
func positive(what string, value float64, unit string) error {
	if value >= least && value <= most {
		return nil // false for NaN as well
	}
	return &inputError{what, amount(value, unit), "a real number above zero"}
}

// between refuses what is outside low to high, both allowed.
func between(what string, value, low, high float64, unit string) error {
	if value >= low && value <= high {
		return nil
	}
	return &inputError{what, amount(value, unit), fmt.Sprintf("%g to %s", low, amount(high, unit))}
}

// signed refuses what isn't a real number of a size a motorcycle has.
func signed(what string, value float64, unit string) error {
	return between(what, value, -most, most, unit)
}

func amount(value float64, unit string) string {
	if unit == "" {
		return fmt.Sprintf("%g", value)
	}
	return fmt.Sprintf("%g %s", value, unit)
}

// teeth refuses a wheel that could not be a sprocket or a sensor ring.
func teeth(what string, n, low int) error {
	if n >= low && n <= 1000 {
		return nil
	}
	return &inputError{what, fmt.Sprintf("%d teeth", n), fmt.Sprintf("%d to 1000 teeth", low)}
}

func degrees(radians float64) float64 { return radians * 180 / math.Pi }
func radians(degrees float64) float64 { return degrees * math.Pi / 180 }
