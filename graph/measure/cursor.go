package measure

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Limits on a number as written. Within them every value prints back exactly
// as it was read: 14 digits are fewer than the 15 a float64 always keeps.
const (
	maxWhole    = 8   // digits before the point
	maxDecimals = 6   // digits after the point; 1/64 needs all six
	maxText     = 200 // bytes of one quantity
)

// cursor walks over a text from left to right.
type cursor struct {
	text string
	at   int
}

// tidy refuses what can't be part of a value and gives one spelling to signs
// and spaces that look alike in print.
func tidy(text string, limit int) (string, error) {
	if !utf8.ValidString(text) {
		return "", errors.New("the text is not UTF-8")
	}
	if len(text) > limit {
		return "", fmt.Errorf("the text is longer than %d bytes", limit)
	}
	if isTidy(text) {
		return text, nil
	}
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '\u2212' || r == '\u2013': // minus sign, en dash
			b.WriteByte('-')
		case r == '\t' || unicode.Is(unicode.Zs, r):
			b.WriteByte(' ')
		case r == '\u201d' || r == '\u2033': // closing quote, double prime
			b.WriteByte('"')
		case unicode.IsControl(r) || unicode.Is(unicode.Cf, r):
			return "", fmt.Errorf("control character %q", r)
		case r > unicode.MaxASCII && unicode.IsNumber(r) && r != '²' && r != '³':
			return "", fmt.Errorf("%q is not a plain digit: write 0 to 9, and fractions as 1/2", r)
		default:
			b.WriteRune(r)
		}
	}
	return strings.Join(strings.Fields(b.String()), " "), nil
}

// isTidy reports whether a text needs no tidying: printable ASCII with single spaces.
// Nearly all are.
func isTidy(text string) bool {
	for i := range len(text) {
		if c := text[i]; c < ' ' || c > '~' || c == ' ' && (i == 0 || i == len(text)-1 || text[i-1] == ' ') {
			return false
		}
	}
	return true
}

// noComma refuses a comma between digits: it may be a decimal comma or a
// thousands separator, and guessing wrong is a factor of a thousand.
func noComma(text string) error {
	for i := 1; i+1 < len(text); i++ {
		if text[i] == ',' && isDigit(text[i-1]) && isDigit(text[i+1]) {
			return fmt.Errorf("decimal comma: write a decimal point, %q, and no thousands separator",
				text[:i]+"."+text[i+1:])
		}
	}
	return nil
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }

func (c *cursor) done() bool { return c.at >= len(c.text) }

func (c *cursor) rest() string { return c.text[c.at:] }

func (c *cursor) space() {
	for !c.done() && c.text[c.at] == ' ' {
		c.at++
	}
}

// take moves over a prefix when it is there.
func (c *cursor) take(prefix string) bool {
	if !strings.HasPrefix(c.rest(), prefix) {
		return false
	}
	c.at += len(prefix)
	return true
}

func (c *cursor) digits() string {
	start := c.at
	for !c.done() && isDigit(c.text[c.at]) {
		c.at++
	}
	return c.text[start:c.at]
}

// number reads a plain decimal without a sign: "14", "0.05", ".5".
func (c *cursor) number() (float64, error) {
	start := c.at
	whole := c.digits()
	decimals := ""
	if strings.HasPrefix(c.rest(), ".") {
		c.at++
		decimals = c.digits()
		if decimals == "" {
			return 0, errors.New("a decimal point with no digit after it")
		}
	}
	if whole == "" && decimals == "" {
		if c.done() {
			return 0, errors.New("a number is missing")
		}
		return 0, fmt.Errorf("no number at %q", c.rest())
	}
	if err := c.afterNumber(); err != nil {
		return 0, err
	}
	if len(strings.TrimLeft(whole, "0")) > maxWhole {
		return 0, fmt.Errorf("number %q is too large: at most %d digits before the point", whole, maxWhole)
	}
	if len(strings.TrimRight(decimals, "0")) > maxDecimals {
		return 0, fmt.Errorf("number %q has more than %d decimals", c.text[start:c.at], maxDecimals)
	}
	return strconv.ParseFloat(c.text[start:c.at], 64)
}

// afterNumber refuses what would silently change a number.
func (c *cursor) afterNumber() error {
	rest := c.rest()
	if rest == "" {
		return nil
	}
	if rest[0] == '.' {
		return errors.New("two decimal points")
	}
	if (rest[0] == 'e' || rest[0] == 'E') && len(rest) > 1 &&
		(isDigit(rest[1]) || rest[1] == '+' || rest[1] == '-') {
		return errors.New("exponents are not read: write the number out")
	}
	return nil
}

// magnitude reads a number without a sign, or a fraction: "14", "5/8",
// "1 1/2".
func (c *cursor) magnitude() (float64, error) {
	start := c.at
	value, err := c.number()
	if err != nil {
		return 0, err
	}
	whole := !strings.Contains(c.text[start:c.at], ".")
	if whole && c.fractionFollows() {
		c.at++
		return c.over(value)
	}
	mixed := *c
	if whole && mixed.take(" ") {
		if top := mixed.digits(); top != "" && mixed.fractionFollows() {
			numerator, err := strconv.ParseFloat(top, 64)
			if err != nil || len(top) > 2 {
				return 0, fmt.Errorf("fraction %q is not one of a ruler", top)
			}
			mixed.at++
			*c = mixed
			part, err := c.over(numerator)
			if err == nil && part >= 1 {
				err = fmt.Errorf("the fraction after %s is 1 or more", strconv.FormatFloat(value, 'f', -1, 64))
			}
			return value + part, err
		}
	}
	return value, nil
}

func (c *cursor) fractionFollows() bool {
	rest := c.rest()
	return len(rest) > 1 && rest[0] == '/' && isDigit(rest[1])
}

// over reads a denominator. Only those of a ruler are taken, because a sixth of
// an inch has no exact decimal and would not print back.
func (c *cursor) over(numerator float64) (float64, error) {
	text := c.digits()
	switch text {
	case "2", "4", "8", "16", "32", "64":
	default:
		return 0, fmt.Errorf("fraction with %q below the line: use 2, 4, 8, 16, 32 or 64", text)
	}
	if numerator > 9999 {
		return 0, fmt.Errorf("fraction with a number above 9999 over the line")
	}
	denominator, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return 0, err
	}
	return numerator / denominator, nil
}

// unit reads the words of a unit: "mm", "N m", "lbf-ft", "km/h", "cm3".
// It is empty when none stands here.
func (c *cursor) unit() string {
	start := c.at
	for !c.done() {
		r, size := utf8.DecodeRuneInString(c.rest())
		after := c.text[c.at+size:]
		switch {
		case unicode.IsLetter(r) && (c.at > start || startsWord(c.rest())) || strings.ContainsRune(`°"²³`, r):
		case (r == '2' || r == '3') && c.at > start && strings.ContainsAny(c.text[c.at-1:c.at], "mn"):
		case strings.ContainsRune(" .-*/·⋅", r) && c.at > start && startsWord(after):
		default:
			return strings.TrimSpace(c.text[start:c.at])
		}
		c.at += size
	}
	return strings.TrimSpace(c.text[start:c.at])
}

// startsWord reports whether a letter stands at the start, and not the "to" of
// a range.
func startsWord(text string) bool {
	r, _ := utf8.DecodeRuneInString(text)
	return unicode.IsLetter(r) && text != "to" && !strings.HasPrefix(text, "to ")
}
