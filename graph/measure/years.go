package measure

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// The first and last year that is taken for a model year.
const (
	FirstYear = 1885
	LastYear  = 2100
)

// Years is a range of model years, both ends included. The zero value is all
// years.
type Years struct{ From, To int }

// ParseYears reads one year, "2003", or a range, "2001-2004". Years outside of
// FirstYear to LastYear and reversed ranges (ErrReversed) are errors.
func ParseYears(text string) (Years, error) {
	clean, err := tidy(text, maxText)
	if err != nil {
		return Years{}, fmt.Errorf("years %q: %w", text, err)
	}
	first, second, isRange := strings.Cut(clean, "-")
	if !isRange {
		first, second, isRange = strings.Cut(clean, " to ")
	}
	if !isRange {
		second = first
	}
	from, err := parseYear(first)
	if err != nil {
		return Years{}, fmt.Errorf("years %q: %w", text, err)
	}
	to, err := parseYear(second)
	if err != nil {
		return Years{}, fmt.Errorf("years %q: %w", text, err)
	}
	if to < from {
		return Years{}, fmt.Errorf("years %q: %w", text, ErrReversed)
	}
	return Years{From: from, To: to}, nil
}

func parseYear(text string) (int, error) {
	text = strings.TrimSpace(text)
	c := &cursor{text: text}
	if c.digits(); text == "" || !c.done() {
		return 0, errors.New(`a year is written "2003", a range "2001-2004"`)
	}
	if len(text) != 4 {
		return 0, fmt.Errorf("%q is not a year of four digits", text)
	}
	year, err := strconv.Atoi(text)
	if err == nil && (year < FirstYear || year > LastYear) {
		err = fmt.Errorf("year %d is outside of %d to %d", year, FirstYear, LastYear)
	}
	return year, err
}

// IsZero reports whether the range stands for all years.
func (y Years) IsZero() bool { return y == Years{} }

// Has reports whether a year lies in the range.
func (y Years) Has(year int) bool { return y.IsZero() || y.From <= year && year <= y.To }

// Overlaps reports whether the ranges have a year in common.
func (y Years) Overlaps(other Years) bool {
	return y.IsZero() || other.IsZero() || y.From <= other.To && other.From <= y.To
}

// String is the range as ParseYears reads it, or "all years".
func (y Years) String() string {
	switch {
	case y.IsZero():
		return "all years"
	case y.From == y.To:
		return strconv.Itoa(y.From)
	}
	return fmt.Sprintf("%d-%d", y.From, y.To)
}
