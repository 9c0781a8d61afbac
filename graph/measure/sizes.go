package measure

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Size is how many there are of one diameter, such as the pistons of a caliper.
type Size struct {
	Count    int     // at least 1
	Diameter float64 // mm, above 0, to the nearest 1e-6 mm
}

// String is "2x 27 mm", or "48 mm" for a single one.
func (s Size) String() string {
	if s.Count == 1 {
		return plain(s.Diameter) + " mm"
	}
	return fmt.Sprintf("%dx %s mm", s.Count, plain(s.Diameter))
}

func (s Size) same(other Size) bool {
	return s.Count == other.Count && near(Length, s.Diameter, other.Diameter)
}

// maxCount is more than any part has of one diameter.
const maxCount = 999

// parseSizes reads "2x 27 mm + 2x 30.15 mm", smallest first, equal diameters
// added up.
func parseSizes(text string) ([]Size, error) {
	var sizes []Size
	for _, item := range strings.Split(text, "+") {
		s, err := parseSize(strings.TrimSpace(item))
		if err != nil {
			return nil, err
		}
		i := slices.IndexFunc(sizes, func(t Size) bool { return t.Diameter == s.Diameter })
		if i < 0 {
			sizes = append(sizes, s)
			continue
		}
		if sizes[i].Count += s.Count; sizes[i].Count > maxCount {
			return nil, fmt.Errorf("more than %d of one diameter", maxCount)
		}
	}
	slices.SortFunc(sizes, func(a, b Size) int {
		if a.Diameter < b.Diameter {
			return -1
		}
		return 1
	})
	return sizes, nil
}

func parseSize(item string) (Size, error) {
	s := Size{Count: 1}
	item = strings.ReplaceAll(item, "×", "x")
	c := &cursor{text: item}
	if digits := c.digits(); digits != "" {
		c.space()
		if c.take("x") || c.take("X") {
			count, err := strconv.Atoi(digits)
			if err != nil || count < 1 || count > maxCount {
				return s, fmt.Errorf("count %q is not 1 to %d", digits, maxCount)
			}
			s.Count, item = count, strings.TrimSpace(c.rest())
		}
	}
	q, err := parseQuantity(item, Length)
	if err != nil {
		return s, fmt.Errorf("%q: %w", item, err)
	}
	if q.Toleranced || q.Range {
		return s, fmt.Errorf("%q: a diameter in this list has no tolerance", item)
	}
	if s.Diameter = math.Round(q.Nominal*1e6) / 1e6; s.Diameter <= 0 {
		return s, errors.New("a diameter is above zero")
	}
	return s, nil
}
