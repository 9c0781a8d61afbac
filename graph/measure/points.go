package measure

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Point is one mounting point of a panel.
type Point struct {
	Place  string  // its name, unique in the part: "A", "upper left"
	Hole   Value   // a Length (plain hole) or a Thread
	Insert string  // "grommet", "insert"; may be empty
	X, Y   float64 // mm from the part's own origin; only when Placed
	Placed bool
}

// String is the point as written: "A: 6.5 mm grommet at 120,35".
func (p Point) String() string {
	text := p.Place + ": " + p.Hole.String()
	if p.Insert != "" {
		text += " " + p.Insert
	}
	if p.Placed {
		text += " at " + plain(p.X) + "," + plain(p.Y)
	}
	return text
}

func (p Point) same(other Point) bool {
	return strings.EqualFold(p.Place, other.Place) && p.Hole.Equal(other.Hole) &&
		strings.EqualFold(p.Insert, other.Insert) && p.Placed == other.Placed &&
		near(Length, p.X, other.X) && near(Length, p.Y, other.Y)
}

// maxHoleWords is how many words the size of a hole may have: "1 1/2 in
// +0.1/-0" has four.
const maxHoleWords = 6

// parsePoints reads "A: 6.5 mm grommet at 120,35; B: M6 insert", sorted by
// place.
func parsePoints(text string) ([]Point, error) {
	var points []Point
	for _, item := range strings.Split(text, ";") {
		p, err := parsePoint(strings.TrimSpace(item))
		if err != nil {
			return nil, err
		}
		for _, other := range points {
			if strings.EqualFold(other.Place, p.Place) {
				return nil, fmt.Errorf("place %q is written twice", p.Place)
			}
		}
		points = append(points, p)
	}
	slices.SortFunc(points, func(a, b Point) int { return byNumber(a.Place, b.Place) })
	return points, nil
}

func parsePoint(item string) (Point, error) {
	place, rest, ok := strings.Cut(item, ":")
	p := Point{Place: strings.TrimSpace(place)}
	if !ok || p.Place == "" {
		return p, fmt.Errorf(`%q is not a point: write its place, a colon, its hole, "A: 6.5 mm grommet at 120,35"`, item)
	}
	rest = strings.TrimSpace(rest)
	if i := strings.LastIndex(" "+rest, " at "); i >= 0 {
		if err := p.readPlace((" " + rest)[i+len(" at "):]); err != nil {
			return p, fmt.Errorf("place %q: %w", p.Place, err)
		}
		rest = strings.TrimSpace((" " + rest)[:i])
	}
	return p, p.readHole(rest)
}

// readPlace reads "120,35", in mm.
func (p *Point) readPlace(text string) error {
	c := &cursor{text: text}
	x, err := coordinate(c)
	if err != nil {
		return err
	}
	c.space()
	if !c.take(",") {
		return fmt.Errorf(`%q is not a place: write "120,35", both in mm`, text)
	}
	c.space()
	y, err := coordinate(c)
	if err != nil {
		return err
	}
	c.space()
	c.take("mm")
	if !c.done() {
		return fmt.Errorf("%q is left over behind the place", c.rest())
	}
	p.X, p.Y, p.Placed = x, y, true
	return nil
}

func coordinate(c *cursor) (float64, error) {
	negative := c.take("-")
	value, err := c.number()
	if negative && value != 0 {
		value = -value
	}
	return value, err
}

// readHole takes as many words as make a thread or a length; what follows is
// the insert.
func (p *Point) readHole(text string) error {
	words := strings.Fields(text)
	if len(words) == 0 {
		return fmt.Errorf("place %q has no hole: write a diameter or a thread", p.Place)
	}
	for n := min(len(words), maxHoleWords); n > 0; n-- {
		size := strings.Join(words[:n], " ")
		hole, err := Parse(size, Thread)
		if err != nil {
			hole, err = Parse(size, Length)
		}
		if err != nil {
			continue
		}
		if hole.Type == Length && hole.Quantity.Low <= 0 {
			return errors.New("a hole is wider than zero")
		}
		p.Hole, p.Insert = hole, strings.Join(words[n:], " ")
		return nil
	}
	return fmt.Errorf("place %q: %q does not start with a diameter or a thread", p.Place, text)
}
