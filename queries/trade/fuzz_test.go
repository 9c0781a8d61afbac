package trade

import (
	"math"
	"testing"
)

// FuzzParse reads any text as each sort of marking: none may panic, and what is read is
// something that there is.
func FuzzParse(f *testing.F) {
	for _, seed := range []string{"120/70-17", "120/70 ZR 17 M/C (58W)", "MT90-16", "3.50-18",
		"99999999999999999999/70-17",
		"8.8", "class 10,9", "A2-70", "7T", "1HGCM82633A004352", "\xff/\x00", ""} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if tyre, err := ParseTyre(text); err == nil {
			if d, err := tyre.Diameter(); err == nil && (math.IsNaN(d) || d <= 0) {
				t.Errorf("a tyre %q is %g mm high", text, d)
			}
		}
		if g, err := ParseGrade(text); err == nil {
			if again, err := ParseGrade(g.Name); err != nil || again != g || g.Tensile <= 0 {
				t.Errorf("%q reads as %+v, which reads as %+v, %v", text, g, again, err)
			}
		}
		if v, err := ParseVIN(text); err == nil {
			if again, err := ParseVIN(v.Text); err != nil || again.CheckDigit != v.CheckDigit {
				t.Errorf("%q reads as %+v, which reads as %+v, %v", text, v, again, err)
			}
		}
		if layout, err := ParseLayout(text); err == nil && len(text) > 100 {
			t.Errorf("%.20q... is a layout: %v", text, layout)
		}
	})
}
