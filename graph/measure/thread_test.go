package measure_test

import (
	"math"
	"strings"
	"testing"

	"matewell/graph/measure"
)

func TestParseThread(t *testing.T) {
	tests := []struct {
		name           string
		text           string
		standard       string
		nominal, pitch float64 // mm
		left, assumed  bool
		printed        string
	}{
		{"metric fine", "M10x1.25", "metric", 10, 1.25, false, false, "M10x1.25"},
		{"times sign", "M10 × 1.25", "metric", 10, 1.25, false, false, "M10x1.25"},
		{"lower case", "m10X1.25", "metric", 10, 1.25, false, false, "M10x1.25"},
		{"trailing zero", "M10x1.0", "metric", 10, 1, false, false, "M10x1"},
		{"coarse", "M8", "metric", 8, 1.25, false, true, "M8"}, // ISO 261
		{"coarse written out", "M8x1.25", "metric", 8, 1.25, false, false, "M8x1.25"},
		{"left hand", "M10x1.25 LH", "metric", 10, 1.25, true, false, "M10x1.25 LH"},
		{"left hand with a dash", "M10x1.25-LH", "metric", 10, 1.25, true, false, "M10x1.25 LH"},
		{"left hand in words", "M8 left hand", "metric", 8, 1.25, true, true, "M8 LH"},
		{"right hand in words", "M8x1 RH", "metric", 8, 1, false, false, "M8x1"},
		{"odd diameter with pitch", "M13x1", "metric", 13, 1, false, false, "M13x1"},
		// 3/8 in = 9.525 mm; 25.4/24 = 1.0583 mm (ASME B1.1).
		{"unified fine", "3/8-24 UNF", "UNF", 9.525, 25.4 / 24, false, false, "3/8-24 UNF"},
		{"inch mark", `3/8"-24 UNF`, "UNF", 9.525, 25.4 / 24, false, false, "3/8-24 UNF"},
		{"unified left", "7/16-20 unf lh", "UNF", 11.1125, 25.4 / 20, true, false, "7/16-20 UNF LH"},
		{"mixed fraction", "1 1/8-12 UNF", "UNF", 28.575, 25.4 / 12, false, false, "1 1/8-12 UNF"},
		{"screw number", "No. 10-32 UNF", "UNF", 4.826, 25.4 / 32, false, false, "No. 10-32 UNF"},
		{"screw number in short", "#10-24 UNC", "UNC", 4.826, 25.4 / 24, false, false, "No. 10-24 UNC"},
		{"cycle thread", "5/16-26 BSCy", "BSC", 7.9375, 25.4 / 26, false, false, "5/16-26 BSC"},
		{"Whitworth", "1/4-20 BSW", "BSW", 6.35, 1.27, false, false, "1/4-20 BSW"},
		// ISO 228-1: G 1/8 is 9.728 mm over the crests, 28 threads per inch.
		{"pipe", "G 1/8", "BSP", 9.728, 25.4 / 28, false, false, "G 1/8"},
		{"pipe without space", "G1/8", "BSP", 9.728, 25.4 / 28, false, false, "G 1/8"},
		{"pipe by its old name", "1/8 BSP", "BSP", 9.728, 25.4 / 28, false, false, "G 1/8"},
		{"taper pipe", "R 1/8", "BSPT", 9.728, 25.4 / 28, false, false, "R 1/8"},
		{"taper pipe by its old name", "1/8-28 BSPT", "BSPT", 9.728, 25.4 / 28, false, false, "R 1/8"},
		{"pipe of ASME B1.20.1", "1/8 NPT", "NPT", 10.287, 25.4 / 27, false, false, "1/8-27 NPT"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := measure.ParseThread(tt.text)
			if err != nil {
				t.Fatal(err)
			}
			if got.Standard != tt.standard || math.Abs(got.Nominal-tt.nominal) > 1e-9 || math.Abs(got.Pitch-tt.pitch) > 1e-9 ||
				got.LeftHand != tt.left || got.CoarseAssumed != tt.assumed || got.String() != tt.printed {
				t.Errorf("got %+v, want %+v", got, tt)
			}
			if again, err := measure.ParseThread(got.String()); err != nil || again != got {
				t.Errorf("read back: %+v, %v", again, err)
			}
		})
	}
}

func TestParseThreadRefuses(t *testing.T) {
	tests := []struct{ name, text, says string }{
		{"nothing", "", "nothing is written"},
		{"only a hand", "LH", "nothing is written"},
		{"only the letter", "M", "a number is missing"},
		{"length", "14 mm", "unknown thread standard"},
		{"no coarse pitch", "M13", "write its pitch"},
		{"missing pitch", "M10x", "a number is missing"},
		{"no pitch at all", "M10x0", "impossible"},
		{"pitch of a screw jack", "M10x5", "impossible"},
		{"below the standard", "M0.5", "outside of 1 to 300"},
		{"beyond the standard", "M500x6", "outside of 1 to 300"},
		{"dash for x", "M8-1.25", `"M10x1.25"`},
		{"length behind it", "M8x1.25x30", "left over"},
		{"tolerance class", "M8x1.25-6g", "left over"},
		{"exponent", "M1e1x1", "exponents"},
		{"decimal comma", "M10x1,25", `"M10x1.25"`},
		{"unknown standard", "3/8-24 XYZ", "unknown thread standard"},
		{"no threads per inch", "3/8 UNF", "3/8-24 UNF"},
		{"wrong series", "3/8-24 UNC", "has 16 threads per inch"}, // ASME B1.1: 3/8-16 UNC
		{"no such screw number", "#13-24 UNC", "not 0 to 12"},
		{"no such pipe", "G 1/7", "no pipe thread size"},
		{"wrong count on a pipe", "1/8-27 BSP", "28 threads per inch"}, // ISO 228-1: 28
		{"too coarse", "1/4-1 UN", "impossible"},
		{"not UTF-8", "M8\xff", "UTF-8"},
		{"full-width digit", "M８", "plain digit"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := measure.ParseThread(tt.text)
			if err == nil {
				t.Fatalf("got %+v, want an error", got)
			}
			if !strings.Contains(err.Error(), tt.says) {
				t.Errorf("error %q does not say %q", err, tt.says)
			}
		})
	}
}

func TestThreadsAreTheSame(t *testing.T) {
	tests := []struct {
		name, a, b string
		want       bool
	}{
		{"pitch assumed or written", "M8", "M8x1.25", true},
		{"one form, other series", "3/8-24 UNF", "3/8-24 UNS", true},
		{"two names for a pipe", "G 1/8", "1/8 BSP", true},
		{"other pitch", "M10x1.25", "M10x1", false},
		{"other hand", "M10x1.25", "M10x1.25 LH", false},
		// Starts, then strips: 9.525 x 1.0583 into 10 x 1 (check against SAE J1291 banjos).
		{"near miss of a brake line", "3/8-24 UNF", "M10x1", false},
		{"other flanks", "1/4-20 UNC", "1/4-20 BSW", false},
		{"taper and parallel", "G 1/8", "R 1/8", false},
		{"two sorts of pipe", "1/8 BSPT", "1/8 NPT", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			a, errA := measure.Parse(tt.a, measure.Thread)
			b, errB := measure.Parse(tt.b, measure.Thread)
			if errA != nil || errB != nil {
				t.Fatal(errA, errB)
			}
			if got := a.Equal(b); got != tt.want {
				t.Errorf("%s and %s: %v, want %v", a, b, got, tt.want)
			}
			if a.Equal(b) != b.Equal(a) {
				t.Error("not symmetric")
			}
		})
	}
}

func TestPreferredIsTheCallersOwn(t *testing.T) {
	measure.Preferred(8)[0] = 99
	if got := measure.Preferred(8)[0]; got != 1.25 {
		t.Errorf("the table was changed to %v", got)
	}
	if got := measure.Preferred(9); got != nil { // ISO 261 third choice, not in ISO 262
		t.Errorf("Preferred(9) = %v, want none", got)
	}
	if _, ok := measure.Coarse(13); ok {
		t.Error("M13 has a coarse pitch")
	}
}
