package measure_test

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"matewell/graph/measure"
)

// decimal draws a number with up to six decimals, as text.
func decimal(t *rapid.T, name string, most int) string {
	whole := rapid.IntRange(0, most).Draw(t, name)
	places := rapid.IntRange(0, 6).Draw(t, name+" decimals")
	if places == 0 {
		return fmt.Sprint(whole)
	}
	limit := 1
	for range places {
		limit *= 10
	}
	return fmt.Sprintf("%d.%0*d", whole, places, rapid.IntRange(0, limit-1).Draw(t, name+" fraction"))
}

// What String prints, ParseQuantity reads as exactly the same quantity.
func TestQuantityRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		typ := measure.Type(rapid.IntRange(int(measure.Length), int(measure.Stiffness)).Draw(t, "type"))
		unit := rapid.SampledFrom(measure.UnitNames(typ)).Draw(t, "unit")
		text := decimal(t, "value", 99999999)
		switch rapid.IntRange(0, 4).Draw(t, "form") {
		case 1:
			text += " " + unit + " ±" + decimal(t, "tolerance", 1)
		case 2:
			text += " " + unit + " +" + decimal(t, "up", 10) + "/-" + decimal(t, "down", 10)
		case 3:
			text += "-" + decimal(t, "end", 99999999) + " " + unit
		case 4:
			text = "-" + text + " " + unit
		default:
			text += " " + unit
		}
		q, err := measure.ParseQuantity(text, typ)
		if err != nil {
			t.Skip(err) // reversed range, below zero
		}
		again, err := measure.ParseQuantity(q.String(), typ)
		if err != nil {
			t.Fatalf("%q prints as %q: %v", text, q, err)
		}
		if again != q {
			t.Fatalf("%q prints as %q, which reads as %+v, not %+v", text, q, again, q)
		}
	})
}

// Fractions of a ruler survive too, and equal their decimals.
func TestFractionRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := rapid.IntRange(-99*64, 99*64).Draw(t, "64ths")
		text := fmt.Sprintf("%.6f in", float64(parts)/64)
		q, err := measure.ParseQuantity(text, measure.Length)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(q.String(), ".") {
			t.Fatalf("%q prints as %q, want a fraction", text, q)
		}
		if again, err := measure.ParseQuantity(q.String(), measure.Length); err != nil || again != q {
			t.Fatalf("%q prints as %q, which reads as %+v, %v", text, q, again, err)
		}
	})
}

func TestThreadRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		nominal := decimal(t, "nominal", 300)
		text := rapid.SampledFrom([]string{"M" + nominal, "M" + nominal + "x" + decimal(t, "pitch", 8),
			nominal + "-" + decimal(t, "per inch", 80) + " UNS"}).Draw(t, "form")
		if rapid.Bool().Draw(t, "left") {
			text += " LH"
		}
		thread, err := measure.ParseThread(text)
		if err != nil {
			t.Skip(err) // no such thread
		}
		if again, err := measure.ParseThread(thread.String()); err != nil || again != thread {
			t.Fatalf("%q prints as %q, which reads as %+v, %v", text, thread, again, err)
		}
	})
}

func TestFramesRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		prefix := rapid.StringMatching(`[A-Z0-9]{0,4}[A-Z]?[- ]?`).Draw(t, "prefix")
		from, to := rapid.IntRange(0, 99999).Draw(t, "from"), rapid.IntRange(0, 99999).Draw(t, "to")
		width := rapid.IntRange(1, 6).Draw(t, "width")
		first, last := fmt.Sprintf("%s%0*d", prefix, width, from), fmt.Sprintf("%s%0*d", prefix, width, to)
		text := rapid.SampledFrom([]string{first + " to " + last, first + " on", "up to " + last}).Draw(t, "form")
		f, err := measure.ParseFrames(text)
		if err != nil {
			t.Skip(err)
		}
		if again, err := measure.ParseFrames(f.String()); err != nil || again != f {
			t.Fatalf("%q prints as %q, which reads as %+v, %v", text, f, again, err)
		}
		// An interval has its own ends and covers itself.
		if in, err := f.Has(first); strings.HasPrefix(text, first) && (!in || err != nil) {
			t.Fatalf("%s does not have its first frame %s: %v", f, first, err)
		}
		if !f.Covers(f) || !f.Overlaps(f) {
			t.Fatalf("%s does not cover itself", f)
		}
	})
}

// One interval covers another exactly when it has every frame of it, and they
// overlap exactly when they share one.
func TestFramesCoverMeansEveryFrame(t *testing.T) {
	draw := func(t *rapid.T, name string) measure.Frames {
		from, to := rapid.IntRange(0, 9).Draw(t, name+" from"), rapid.IntRange(0, 9).Draw(t, name+" to")
		if to != 0 && to < from {
			from, to = to, from
		}
		return measure.Frames{Prefix: "A-", From: from, To: to, Width: 3}
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := draw(t, "a"), draw(t, "b")
		covers, overlaps := true, false
		for n := 0; n <= 20; n++ { // 20 stands for all numbers beyond every end
			inA, errA := a.Has(fmt.Sprintf("A-%03d", n))
			inB, errB := b.Has(fmt.Sprintf("A-%03d", n))
			if errA != nil || errB != nil {
				t.Fatal(errA, errB)
			}
			covers = covers && (inA || !inB)
			overlaps = overlaps || inA && inB
		}
		if a.Covers(b) != covers || a.Overlaps(b) != overlaps {
			t.Fatalf("%s and %s: covers %v, want %v; overlaps %v, want %v",
				a, b, a.Covers(b), covers, a.Overlaps(b), overlaps)
		}
	})
}

// FuzzParse asks that no text makes a panic, that what is read prints to text
// that reads back as an equal value, and that no control character gets through.
func FuzzParse(f *testing.F) {
	for _, seed := range []string{"14 mm", "1 1/2 in", "22.2 mm +0/-0.1", "20-30 mm", "-5 to 5 mm", "24 lbf ft",
		"90/25", "M10x1.25 LH", "3/8-24 UNF", "No. 10-32 UNF", "G 1/8", "DOT 4, DOT 5.1", "yes",
		"A: 6.5 mm grommet at 120,35; B: M6 insert", "2x 27 mm + 2x 30.15 mm", "1 feed 12 V, 2 earth",
		"TK6A-000101 to TK6A-004120", "TK6A-000101", "19.50 EUR", "2001-2004", "1e9 mm", "NaN",
		"½ in", "\xff", "ﬀ, ſ, K, ß, ẞ"} {
		for typ := measure.Length; typ <= measure.Pins; typ += 5 {
			f.Add(seed, int(typ))
		}
	}
	f.Fuzz(func(t *testing.T, text string, typ int) {
		v, err := measure.Parse(text, measure.Type(typ))
		if err == nil {
			again, err := measure.Parse(v.String(), measure.Type(typ))
			if err != nil || !again.Equal(v) || again.String() != v.String() {
				t.Errorf("%q reads as %q, which reads as %q, %v", text, v, again, err)
			}
			if strings.ContainsAny(v.String(), "\x1b\x00\a\r") {
				t.Errorf("%q keeps a control character", v)
			}
		}
		if y, err := measure.ParseYears(text); err == nil {
			if again, err := measure.ParseYears(y.String()); err != nil || again != y {
				t.Errorf("%q reads as %s, which reads as %s, %v", text, y, again, err)
			}
		}
		if m, err := measure.ParseMoney(text); err == nil {
			if again, err := measure.ParseMoney(m.String()); err != nil || again != m {
				t.Errorf("%q reads as %s, which reads as %s, %v", text, m, again, err)
			}
		}
		if size, err := measure.ParseThread(text); err == nil {
			if again, err := measure.ParseThread(size.String()); err != nil || again.String() != size.String() {
				t.Errorf("%q reads as %s, which reads as %s, %v", text, size, again, err)
			}
		}
		if prefix, number, err := measure.ParseFrame(text); err == nil && number < 0 {
			t.Errorf("%q is number %d of %q", text, number, prefix)
		}
		if frames, err := measure.ParseFrames(text); err == nil {
			if again, err := measure.ParseFrames(frames.String()); err != nil || again != frames {
				t.Errorf("%q reads as %s, which reads as %s, %v", text, frames, again, err)
			}
			if in, err := frames.Has(text); in && err != nil {
				t.Errorf("%q is in %s and yet wrong: %v", text, frames, err)
			}
		}
	})
}
