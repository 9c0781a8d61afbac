package measure_test

import (
	"errors"
	"strings"
	"testing"

	"matewell/graph/measure"
)

func TestParseYears(t *testing.T) {
	tests := []struct {
		name, text string
		want       measure.Years
		printed    string
	}{
		{"one", "2003", measure.Years{From: 2003, To: 2003}, "2003"},
		{"range", "2001-2004", measure.Years{From: 2001, To: 2004}, "2001-2004"},
		{"en dash and spaces", " 2001 – 2004 ", measure.Years{From: 2001, To: 2004}, "2001-2004"},
		{"in words", "2001 to 2004", measure.Years{From: 2001, To: 2004}, "2001-2004"},
		{"range of one", "2003-2003", measure.Years{From: 2003, To: 2003}, "2003"},
		{"first and last", "1885-2100", measure.Years{From: 1885, To: 2100}, "1885-2100"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := measure.ParseYears(tt.text)
			if err != nil || got != tt.want || got.String() != tt.printed {
				t.Errorf("got %+v (%s), %v, want %+v (%s)", got, got, err, tt.want, tt.printed)
			}
		})
	}
}

func TestParseYearsRefuses(t *testing.T) {
	tests := []struct{ name, text, says string }{
		{"nothing", "", "written"},
		{"five digits", "20004", "four digits"},
		{"two digits", "03", "four digits"},
		{"before the first motorcycle", "1884", "outside of 1885 to 2100"},
		{"far future", "2101", "outside of 1885 to 2100"},
		{"word", "early", "written"},
		{"open", "2001-", "written"},
		{"three", "2001-2002-2003", "written"},
		{"negative", "-2001", "written"},
		{"full-width digits", "２００１", "plain digit"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := measure.ParseYears(tt.text)
			if err == nil || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("got %+v, %v, want an error that says %q", got, err, tt.says)
			}
		})
	}
	if _, err := measure.ParseYears("2004-2001"); !errors.Is(err, measure.ErrReversed) {
		t.Errorf("reversed: %v is not ErrReversed", err)
	}
}

func TestYears(t *testing.T) {
	some := measure.Years{From: 2001, To: 2003}
	for year, want := range map[int]bool{2000: false, 2001: true, 2003: true, 2004: false} {
		if got := some.Has(year); got != want {
			t.Errorf("%s has %d: %v, want %v", some, year, got, want)
		}
	}
	var all measure.Years
	if !all.IsZero() || !all.Has(1990) || !all.Overlaps(some) || !some.Overlaps(all) || all.String() != "all years" {
		t.Errorf("the zero value is not all years: %s", all)
	}
	tests := []struct {
		name  string
		other measure.Years
		want  bool
	}{
		{"shares the last", measure.Years{From: 2003, To: 2006}, true},
		{"next to it", measure.Years{From: 2004, To: 2006}, false},
		{"inside", measure.Years{From: 2002, To: 2002}, true},
		{"before", measure.Years{From: 1998, To: 2000}, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if some.Overlaps(tt.other) != tt.want || tt.other.Overlaps(some) != tt.want {
				t.Errorf("%s and %s: want %v both ways", some, tt.other, tt.want)
			}
		})
	}
}

func TestParseFrames(t *testing.T) {
	tests := []struct {
		name, text string
		want       measure.Frames
		printed    string
	}{
		{"closed", "TK6A-000101 to TK6A-004120", measure.Frames{Prefix: "TK6A-", From: 101, To: 4120, Width: 6},
			"TK6A-000101 to TK6A-004120"},
		{"prefix once", "TK6A-000101 to 004120", measure.Frames{Prefix: "TK6A-", From: 101, To: 4120, Width: 6},
			"TK6A-000101 to TK6A-004120"},
		{"open", "TK6A-004121 on", measure.Frames{Prefix: "TK6A-", From: 4121, Width: 6}, "TK6A-004121 on"},
		{"open, other word", "tk6a-004121 onwards", measure.Frames{Prefix: "TK6A-", From: 4121, Width: 6}, "TK6A-004121 on"},
		{"from the start", "up to TK6A-004120", measure.Frames{Prefix: "TK6A-", To: 4120, Width: 6}, "up to TK6A-004120"},
		{"from number 0", "TK6A-000000 to TK6A-004120", measure.Frames{Prefix: "TK6A-", To: 4120, Width: 6},
			"up to TK6A-004120"},
		{"lower case and space", "tk6a 000101 TO tk6a 004120", measure.Frames{Prefix: "TK6A-", From: 101, To: 4120,
			Width: 6}, "TK6A-000101 to TK6A-004120"},
		{"one frame", "TK6A-000101 to TK6A-000101", measure.Frames{Prefix: "TK6A-", From: 101, To: 101, Width: 6},
			"TK6A-000101 to TK6A-000101"},
		{"no prefix", "101 to 4120", measure.Frames{From: 101, To: 4120}, "101 to 4120"},
		{"not filled up", "AB-9001 to AB-12000", measure.Frames{Prefix: "AB-", From: 9001, To: 12000}, "AB-9001 to AB-12000"},
		{"stars around it", "*AB9001* on", measure.Frames{Prefix: "AB", From: 9001, Width: 4}, "AB9001 on"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := measure.ParseFrames(tt.text)
			if err != nil || got != tt.want || got.String() != tt.printed {
				t.Errorf("got %+v (%s), %v, want %+v (%s)", got, got, err, tt.want, tt.printed)
			}
			if again, err := measure.ParseFrames(got.String()); err != nil || again != got {
				t.Errorf("read back: %+v, %v", again, err)
			}
		})
	}
}

func TestParseFramesRefuses(t *testing.T) {
	tests := []struct{ name, text, says string }{
		{"nothing", "", "write"},
		{"one number", "TK6A-000101", "write"},
		{"two prefixes", "TK6A-000101 to TK6B-000200", "two prefixes"},
		{"no running number", "TK6A- on", "running number"},
		{"foreign letter", "TÜ6A-000101 on", "can't be part"},
		{"a digit lost at one end", "TK6A-000101 to TK6A-04120", "6 and 5 digits"},
		{"up to nothing", "up to TK6A-000000", "is 0"},
		{"all", "0 on", "leave the interval out"},
		{"too long", "A-1234567890123 on", "more than 12 digits"},
		{"control character", "TK6A-\x07000101 on", "control character"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := measure.ParseFrames(tt.text)
			if err == nil || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("got %+v, %v, want an error that says %q", got, err, tt.says)
			}
		})
	}
	if _, err := measure.ParseFrames("TK6A-004120 to TK6A-000101"); !errors.Is(err, measure.ErrReversed) {
		t.Errorf("reversed: %v is not ErrReversed", err)
	}
}

func frames(t *testing.T, text string) measure.Frames {
	t.Helper()
	if text == "" {
		return measure.Frames{}
	}
	f, err := measure.ParseFrames(text)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestFramesHas(t *testing.T) {
	tests := []struct {
		name, interval, frame string
		want                  bool
		says                  string // in the error; empty when none
	}{
		{"first", "TK6A-000101 to TK6A-004120", "TK6A-000101", true, ""},
		{"last", "TK6A-000101 to TK6A-004120", "TK6A-004120", true, ""},
		{"one before", "TK6A-000101 to TK6A-004120", "TK6A-000100", false, ""},
		{"one behind", "TK6A-000101 to TK6A-004120", "TK6A-004121", false, ""},
		{"as typed in a hurry", "TK6A-000101 to TK6A-004120", "tk6a 000200", true, ""},
		{"without its dash", "TK6A-000101 to TK6A-004120", "TK6A000200", true, ""},
		{"without the dash behind a digit", "TK6-000101 to TK6-004120", "TK6000200", true, ""},
		{"other prefix", "TK6A-000101 to TK6A-004120", "TK6B-000200", false, ""},
		{"longer prefix", "TK6-000101 to TK6-004120", "TK60-000200", false, ""},
		{"open end", "TK6A-004121 on", "TK6A-999999", true, ""},
		{"before an open end", "TK6A-004121 on", "TK6A-004120", false, ""},
		{"up to", "up to TK6A-004120", "TK6A-000001", true, ""},
		{"all", "", "TK6A-000200", true, ""},
		{"grows by a digit", "AB-9001 on", "AB-12000", true, ""},
		{"a digit lost", "TK6A-000101 to TK6A-004120", "TK6A-00412", false, "5 digits"},
		{"a digit doubled", "TK6A-000101 to TK6A-004120", "TK6A-0004120", false, "7 digits"},
		{"no number in it", "TK6A-000101 to TK6A-004120", "TK6A", false, "running number"},
		{"not a frame number", "", "the red one!", false, "can't be part"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := frames(t, tt.interval).Has(tt.frame)
			if got != tt.want {
				t.Errorf("got %v, %v, want %v", got, err, tt.want)
			}
			if tt.says == "" && err != nil || tt.says != "" && (err == nil || !strings.Contains(err.Error(), tt.says)) {
				t.Errorf("error %v, want %q in it", err, tt.says)
			}
		})
	}
}

func TestFramesOverlapAndCover(t *testing.T) {
	tests := []struct {
		name, a, b       string
		overlaps, covers bool // covers: a covers b
	}{
		{"the same", "A-100 to A-200", "A-100 to A-200", true, true},
		{"inside", "A-100 to A-200", "A-120 to A-180", true, true},
		{"sticks out behind", "A-100 to A-200", "A-150 to A-201", true, false},
		{"sticks out in front", "A-100 to A-200", "A-099 to A-150", true, false},
		{"share one frame", "A-100 to A-200", "A-200 to A-300", true, false},
		{"next to it", "A-100 to A-200", "A-201 to A-300", false, false},
		{"other prefix", "A-100 to A-200", "B-100 to B-200", false, false},
		{"open covers closed", "A-100 on", "A-150 to A-200", true, true},
		{"closed never covers open", "A-100 to A-200", "A-150 on", true, false},
		{"open covers later open", "A-100 on", "A-101 on", true, true},
		{"open and earlier open", "A-100 on", "A-099 on", true, false},
		{"from the start", "up to A-200", "A-001 to A-200", true, true},
		{"meeting ends", "up to A-200", "A-201 on", false, false},
		{"all covers any", "", "A-100 to A-200", true, true},
		{"any does not cover all", "A-100 to A-200", "", true, false},
		{"all covers all", "", "", true, true},
		{"dash or none", "A-100 to A-200", "A100 to A200", true, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a, b := frames(t, tt.a), frames(t, tt.b)
			if a.Overlaps(b) != tt.overlaps || b.Overlaps(a) != tt.overlaps {
				t.Errorf("Overlaps: %v and %v, want %v", a.Overlaps(b), b.Overlaps(a), tt.overlaps)
			}
			if got := a.Covers(b); got != tt.covers {
				t.Errorf("Covers: %v, want %v", got, tt.covers)
			}
		})
	}
}

func TestParseFrame(t *testing.T) {
	prefix, number, err := measure.ParseFrame("* tk6a 000101 *")
	if prefix != "TK6A-" || number != 101 || err != nil {
		t.Errorf("got %q, %d, %v", prefix, number, err)
	}
	if _, _, err := measure.ParseFrame("TK6A"); err == nil {
		t.Error("a frame number without digits at its end gave no error")
	}
}
