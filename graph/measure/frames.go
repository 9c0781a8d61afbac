package measure

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
)

// Frames is an interval of frame numbers that share a prefix, both ends
// included. The zero value is all frames.
type Frames struct {
	// Prefix is what stands before the running number, upper case, with its
	// dash: "TK6A-".
	Prefix string
	// From is the first number, 0 for "from the start"; To is the last, 0 for
	// an open end.
	From, To int
	// Width is how many digits the running number is stamped with; 0 when the
	// ends were written with different widths.
	Width int
}

// maxSerial is how many digits a running number may have.
const maxSerial = 12

// ParseFrames reads an interval: "TK6A-000101 to TK6A-004120" (the prefix may
// be left out behind "to"), "TK6A-004121 on", "up to TK6A-004120". A reversed
// interval is an error (ErrReversed).
func ParseFrames(text string) (Frames, error) {
	f, err := parseFrames(text)
	if err != nil {
		return Frames{}, fmt.Errorf("frame numbers %q: %w", text, err)
	}
	return f, nil
}

func parseFrames(text string) (Frames, error) {
	clean, err := tidy(text, maxText)
	if err != nil {
		return Frames{}, err
	}
	if rest, ok := cutPrefixFold(clean, "up to "); ok {
		end, err := splitFrame(rest)
		if err != nil {
			return Frames{}, err
		}
		return bounded(Frames{Prefix: end.prefix, To: end.number, Width: end.width})
	}
	rest, ok := cutSuffixFold(clean, " on")
	if !ok {
		rest, ok = cutSuffixFold(clean, " onwards")
	}
	if ok {
		start, err := splitFrame(rest)
		if err != nil {
			return Frames{}, err
		}
		if start.prefix == "" && start.number == 0 {
			return Frames{}, errors.New("these are all frames: leave the interval out")
		}
		return Frames{Prefix: start.prefix, From: start.number, Width: start.width}, nil
	}
	first, second, ok := cutFold(clean, " to ")
	if !ok {
		return Frames{}, errors.New(`write "TK6A-000101 to TK6A-004120", "TK6A-004121 on" or "up to TK6A-004120"`)
	}
	return closedFrames(first, second)
}

func closedFrames(first, second string) (Frames, error) {
	start, err := splitFrame(first)
	if err != nil {
		return Frames{}, err
	}
	end, err := splitFrame(second)
	if err != nil {
		return Frames{}, err
	}
	if end.prefix != "" && foldFrame(end.prefix) != foldFrame(start.prefix) {
		return Frames{}, fmt.Errorf("two prefixes, %q and %q: write one interval for each", start.prefix, end.prefix)
	}
	if end.number < start.number {
		return Frames{}, ErrReversed
	}
	if start.width != end.width && (start.padded() || end.padded()) {
		return Frames{}, fmt.Errorf("the ends have %d and %d digits: write both as stamped", start.width, end.width)
	}
	f := Frames{Prefix: start.prefix, From: start.number, To: end.number, Width: start.width}
	switch {
	case start.number == 0:
		f.Width = end.width // the same interval as "up to"
	case end.width != start.width:
		f.Width = 0
	}
	return bounded(f)
}

func bounded(f Frames) (Frames, error) {
	if f.To == 0 {
		return Frames{}, errors.New("the last frame number is 0")
	}
	return f, nil
}

func cutPrefixFold(text, prefix string) (string, bool) {
	if len(text) < len(prefix) || !strings.EqualFold(text[:len(prefix)], prefix) {
		return text, false
	}
	return text[len(prefix):], true
}

func cutSuffixFold(text, suffix string) (string, bool) {
	cut := len(text) - len(suffix)
	if cut < 0 || !strings.EqualFold(text[cut:], suffix) {
		return text, false
	}
	return text[:cut], true
}

func cutFold(text, sep string) (before, after string, ok bool) {
	for i := 0; i+len(sep) <= len(text); i++ {
		if strings.EqualFold(text[i:i+len(sep)], sep) {
			return text[:i], text[i+len(sep):], true
		}
	}
	return text, "", false
}

// frame is one frame number taken apart.
type frame struct {
	prefix string // upper case, with its dash
	number int
	width  int
}

// padded reports whether the running number is filled up with zeros.
func (f frame) padded() bool { return len(strconv.Itoa(f.number)) < f.width }

// ParseFrame takes a frame number apart: prefix in upper case with its dash,
// and running number. Spaces and dots count as dashes; the stars that some
// makers stamp around the number are dropped.
func ParseFrame(text string) (prefix string, number int, err error) {
	f, err := splitFrame(text)
	if err != nil {
		return "", 0, err
	}
	return f.prefix, f.number, nil
}

func splitFrame(text string) (frame, error) {
	clean, err := tidy(text, maxText)
	if err != nil {
		return frame{}, fmt.Errorf("frame number %q: %w", text, err)
	}
	clean = strings.ToUpper(strings.Trim(clean, "* "))
	for _, r := range clean {
		if !(r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("- ./", r)) {
			return frame{}, fmt.Errorf("frame number %q: %q can't be part of it", text, r)
		}
	}
	head := strings.TrimRight(clean, "0123456789")
	digits := clean[len(head):]
	if digits == "" {
		return frame{}, fmt.Errorf("frame number %q does not end in a running number", text)
	}
	if len(digits) > maxSerial {
		return frame{}, fmt.Errorf("frame number %q has a running number of more than %d digits", text, maxSerial)
	}
	number, err := strconv.Atoi(digits)
	if err != nil {
		return frame{}, fmt.Errorf("frame number %q: %w", text, err)
	}
	return frame{prefix: dashed(head), number: number, width: len(digits)}, nil
}

// dashed gives one dash for every run of separators, none in front.
func dashed(head string) string {
	words := strings.FieldsFunc(head, isSeparator)
	joined := strings.Join(words, "-")
	if joined != "" && strings.TrimRightFunc(head, isSeparator) != head {
		joined += "-"
	}
	return joined
}

func isSeparator(r rune) bool { return strings.ContainsRune("- ./", r) }

func foldFrame(text string) string {
	return strings.Map(func(r rune) rune {
		if isSeparator(r) || r == '*' {
			return -1
		}
		return r
	}, strings.ToUpper(text))
}

// IsZero reports whether the interval stands for all frames.
func (f Frames) IsZero() bool { return f == Frames{} }

// Has reports whether a frame number lies in the interval; a number with
// another prefix does not. The error says that the text can't be read as a
// frame number, or has another count of digits than this prefix is stamped
// with: a digit lost in typing must not pick the wrong variant.
func (f Frames) Has(text string) (bool, error) {
	given, err := splitFrame(text)
	if err != nil {
		return false, err
	}
	if f.IsZero() {
		return true, nil
	}
	if foldFrame(given.prefix) != foldFrame(f.Prefix) {
		var ok bool
		if given, ok = f.withoutDash(given, text); !ok {
			return false, nil
		}
	}
	if f.padded() && given.width != f.Width {
		return false, fmt.Errorf("frame number %q has %d digits behind %q where %d are stamped",
			text, given.width, f.Prefix, f.Width)
	}
	return f.From <= given.number && (f.To == 0 || given.number <= f.To), nil
}

// withoutDash reads a number that was typed without the dash behind a prefix
// that itself ends in a digit: "TK6000101" for "TK6-000101".
func (f Frames) withoutDash(given frame, text string) (frame, bool) {
	digits, ok := strings.CutPrefix(foldFrame(text), foldFrame(f.Prefix))
	if !ok || strings.HasSuffix(given.prefix, "-") {
		return given, false
	}
	again, err := splitFrame(digits)
	if err != nil || again.prefix != "" {
		return given, false
	}
	return again, true
}

// padded reports whether the numbers are known to be filled up with zeros.
func (f Frames) padded() bool {
	return f.From > 0 && len(strconv.Itoa(f.From)) < f.Width ||
		f.To > 0 && len(strconv.Itoa(f.To)) < f.Width
}

// Overlaps reports whether a frame may lie in both intervals.
func (f Frames) Overlaps(other Frames) bool {
	if f.IsZero() || other.IsZero() {
		return true
	}
	return foldFrame(f.Prefix) == foldFrame(other.Prefix) &&
		(other.To == 0 || f.From <= other.To) && (f.To == 0 || other.From <= f.To)
}

// Covers reports whether every frame of the other interval lies in this one.
// Nothing but the zero interval covers the zero interval.
func (f Frames) Covers(other Frames) bool {
	if f.IsZero() {
		return true
	}
	return !other.IsZero() && foldFrame(f.Prefix) == foldFrame(other.Prefix) &&
		f.From <= other.From && (f.To == 0 || other.To != 0 && other.To <= f.To)
}

// String is the interval as ParseFrames reads it, or "all frames".
func (f Frames) String() string {
	number := func(n int) string { return fmt.Sprintf("%s%0*d", f.Prefix, f.Width, n) }
	switch {
	case f.IsZero():
		return "all frames"
	case f.To == 0:
		return number(f.From) + " on"
	case f.From == 0:
		return "up to " + number(f.To)
	}
	return number(f.From) + " to " + number(f.To)
}
