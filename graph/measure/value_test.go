package measure_test

import (
	"strings"
	"testing"

	"matewell/graph/measure"
)

func TestParseValue(t *testing.T) {
	tests := []struct {
		name    string
		text    string
		want    measure.Type
		printed string
	}{
		{"length", "5/8 in", measure.Length, "5/8 in"},
		{"thread", "M10 x 1.25", measure.Thread, "M10x1.25"},
		{"word", "  banjo   bolt ", measure.Word, "banjo bolt"},
		{"set", "DOT 5.1,DOT 4 , dot 4", measure.Words, "DOT 4, DOT 5.1"},
		{"yes", "Yes", measure.YesNo, "yes"},
		{"no", "no", measure.YesNo, "no"},
		{"true", "true", measure.YesNo, "yes"},
		{"false", "False", measure.YesNo, "no"},
		{"text", "two\r\nlines\t", measure.Text, "two\nlines"},
		{"points", "B: M6 insert at 0,0; A: 6.5 mm grommet at 120,-35.5", measure.Points, "A: 6.5 mm grommet at " +
			"120,-35.5; B: M6 insert at 0,0"},
		{"points without insert", "10: 6 mm; 2: M6x1 LH", measure.Points, "2: M6x1 LH; 10: 6 mm"},
		{"points with a toleranced hole", "A: 1/4 in +0.01/-0 rubber bush at 1 , 2 mm", measure.Points,
			"A: 1/4 in +0.01/-0 rubber bush at 1,2"},
		{"sizes", "2x 30.15 mm + 2x27mm", measure.Sizes, "2x 27 mm + 2x 30.15 mm"},
		{"one size", "48 mm", measure.Sizes, "48 mm"},
		{"sizes added up", "27 mm + 1 × 27 mm", measure.Sizes, "2x 27 mm"},
		{"sizes in inches", "2x 1 3/8 in", measure.Sizes, "2x 34.925 mm"}, // 1.375 x 25.4
		{"pins", "10 earth, 2 feed 12 V, A1 signal pulse", measure.Pins, "2 feed 12 V, 10 earth, A1 signal pulse"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := measure.Parse(tt.text, tt.want)
			if err != nil {
				t.Fatal(err)
			}
			if got.String() != tt.printed {
				t.Errorf("String() = %q, want %q", got, tt.printed)
			}
			again, err := measure.Parse(got.String(), tt.want)
			if err != nil || !again.Equal(got) || again.String() != got.String() {
				t.Errorf("read back: %+v, %v, want %+v", again, err, got)
			}
		})
	}
}

func TestParseValueFields(t *testing.T) {
	points, err := measure.Parse("A: 6.5 mm grommet at 120,35; B: M6 insert", measure.Points)
	if err != nil {
		t.Fatal(err)
	}
	a, b := points.Points[0], points.Points[1]
	if a.Place != "A" || a.Hole.Type != measure.Length || a.Hole.Quantity.Nominal != 6.5 || a.Insert != "grommet" ||
		a.X != 120 || a.Y != 35 || !a.Placed {
		t.Errorf("A = %+v", a)
	}
	if b.Hole.Type != measure.Thread || b.Hole.Thread.Pitch != 1 || b.Insert != "insert" || b.Placed {
		t.Errorf("B = %+v", b)
	}
	sizes, err := measure.Parse("2x 27 mm + 2x 30.15 mm", measure.Sizes)
	if err != nil || len(sizes.Sizes) != 2 || sizes.Sizes[1] != (measure.Size{Count: 2, Diameter: 30.15}) {
		t.Errorf("sizes = %+v, %v", sizes.Sizes, err)
	}
	pins, err := measure.Parse("1 feed 12 V, 2 earth", measure.Pins)
	if err != nil || len(pins.Pins) != 2 || pins.Pins[0] != (measure.Pin{Number: "1", Meaning: "feed 12 V"}) {
		t.Errorf("pins = %+v, %v", pins.Pins, err)
	}
	word, err := measure.Parse("banjo", measure.Word)
	if err != nil || word.Text != "banjo" || len(word.Words) != 1 || word.Words[0] != "banjo" {
		t.Errorf("word = %+v, %v", word, err)
	}
}

func TestParseValueRefuses(t *testing.T) {
	tests := []struct {
		name string
		text string
		want measure.Type
		says string
	}{
		{"empty word", " ", measure.Word, "nothing is written"},
		{"two words where one is wanted", "DOT 4, DOT 5", measure.Word, "one phrase"},
		{"empty phrase", "DOT 4,, DOT 5.1", measure.Words, "missing"},
		{"perhaps", "perhaps", measure.YesNo, `write "yes" or "no"`},
		{"escape in text", "a\x1b[2Jb", measure.Text, "control character"},
		{"empty text", "\n", measure.Text, "nothing is written"},
		{"text not UTF-8", "\xc3", measure.Text, "UTF-8"},
		{"long text", strings.Repeat("a", 20001), measure.Text, "longer than"},
		{"point without place", "6.5 mm", measure.Points, "is not a point"},
		{"point without hole", "A:", measure.Points, "has no hole"},
		{"point with words only", "A: grommet", measure.Points, "does not start with"},
		{"place twice", "A: 6 mm; a: 8 mm", measure.Points, "written twice"},
		{"half a place", "A: 6 mm at 120", measure.Points, "both in mm"},
		{"place in words", "A: 6 mm at left", measure.Points, "no number"},
		{"three coordinates", "A: 6 mm at 1,2,3", measure.Points, "left over"},
		{"hole of nothing", "A: 0 mm", measure.Points, "wider than zero"},
		{"last semicolon", "A: 6 mm;", measure.Points, "is not a point"},
		{"none of a size", "0x 27 mm", measure.Sizes, "count"},
		{"very many of a size", "1000x 27 mm", measure.Sizes, "count"},
		{"size of nothing", "2x 0 mm", measure.Sizes, "above zero"},
		{"size with tolerance", "2x 27 mm ±0.1", measure.Sizes, "no tolerance"},
		{"size without unit", "2x 27", measure.Sizes, "unit is missing"},
		{"size in torque", "2x 27 N m", measure.Sizes, "unit of torque"},
		{"pin without number", "earth", measure.Pins, "is not a pin"},
		{"pin without meaning", "1", measure.Pins, "is not a pin"},
		{"number forgotten", "feed 12 V", measure.Pins, "is not a pin"},
		{"pin twice", "1 feed, 1 earth", measure.Pins, "written twice"},
		{"no type", "x", 0, "no such type"},
		{"type beyond the last", "x", measure.Pins + 1, "no such type"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := measure.Parse(tt.text, tt.want)
			if err == nil || !strings.Contains(err.Error(), tt.says) {
				t.Errorf("got %q, %v, want an error that says %q", got, err, tt.says)
			}
		})
	}
}

func TestValuesAreEqual(t *testing.T) {
	tests := []struct {
		name, a, b string
		typ        measure.Type
		want       bool
	}{
		{"inch and millimetre", "5/8 in", "15.875 mm", measure.Length, true}, // 5/8 x 25.4, exact
		{"within a nanometre", "15.875 mm", "15.875001 mm", measure.Length, true},
		{"two nanometres", "15.875 mm", "15.875002 mm", measure.Length, false},
		{"a tenth", "15.875 mm", "15.9 mm", measure.Length, false},
		{"tolerance counts", "22.2 mm", "22.2 mm +0/-0.1", measure.Length, false},
		{"two ways to write limits", "22.2 mm ±0.1", "22.1-22.3 mm", measure.Length, true},
		{"torque", "100 kgf cm", "1 kgf m", measure.Torque, true},
		{"rounded torque", "24 lbf ft", "32.5 N m", measure.Torque, false},
		{"ratio", "90/25", "3.6", measure.Ratio, true},
		{"case of a word", "Banjo", "banjo", measure.Word, true},
		{"other word", "banjo", "flare", measure.Word, false},
		{"order of a set", "DOT 5.1, DOT 4", "dot 4, dot 5.1", measure.Words, true},
		{"part of a set", "DOT 4", "DOT 4, DOT 5.1", measure.Words, false},
		{"yes and no", "yes", "no", measure.YesNo, false},
		{"points in any order", "A: 6 mm; B: M6", "B: M6x1; a: 6 mm", measure.Points, true},
		{"point moved", "A: 6 mm at 0,0", "A: 6 mm at 0,0.1", measure.Points, false},
		{"place not known", "A: 6 mm at 0,0", "A: 6 mm", measure.Points, false},
		{"sizes in any order", "2x 27 mm + 30 mm", "30 mm + 27 mm + 27 mm", measure.Sizes, true},
		{"other count", "2x 27 mm", "4x 27 mm", measure.Sizes, false},
		{"pins in any order", "1 feed, 2 earth", "2 Earth, 1 feed", measure.Pins, true},
		{"pins swapped", "1 feed, 2 earth", "1 earth, 2 feed", measure.Pins, false},
		{"text", "a", "A", measure.Text, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a, errA := measure.Parse(tt.a, tt.typ)
			b, errB := measure.Parse(tt.b, tt.typ)
			if errA != nil || errB != nil {
				t.Fatal(errA, errB)
			}
			if a.Equal(b) != tt.want || b.Equal(a) != tt.want {
				t.Errorf("%s and %s: %v and %v, want %v", a, b, a.Equal(b), b.Equal(a), tt.want)
			}
			if !a.Equal(a) {
				t.Errorf("%s does not equal itself", a)
			}
		})
	}
	word, _ := measure.Parse("banjo", measure.Word)
	text, _ := measure.Parse("banjo", measure.Text)
	if word.Equal(text) {
		t.Error("values of two types are equal")
	}
}
