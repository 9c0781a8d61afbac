package measure_test

import (
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"matewell/graph/measure"
)

// What is kept is what is parsed, of every type, whatever was asked before: also of a text
// that is none of the type, and of one that is another value as another type.
func TestKeptIsParsed(t *testing.T) {
	texts := []string{"", "1", "8 mm", "8.0 mm", "M8x1.25", "yes", "DOT 4, DOT 5.1", "5:1", "20-30 mm", "A: 6.5 mm at 0,0",
		"2x 27 mm", "1 feed 12 V, 2 earth", "round", "-3 deg"}
	rapid.Check(t, func(t *rapid.T) {
		text, as := rapid.SampledFrom(texts).Draw(t, "text"), measure.Type(rapid.IntRange(-1, 30).Draw(t, "type"))
		want, wantErr := measure.Parse(text, as)
		got, err := measure.Kept(text, as)
		if !reflect.DeepEqual(*got, want) || (err == nil) != (wantErr == nil) ||
			err != nil && err.Error() != wantErr.Error() {
			t.Errorf("%q as %s: %v, %v, want %v, %v", text, as, *got, err, want, wantErr)
		}
	})
}
