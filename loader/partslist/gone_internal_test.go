package partslist

import "testing"

// TestNoneBy: a remark tells that a part is gone, or only how such parts are sold.
func TestNoneBy(t *testing.T) {
	for remark, want := range map[string]string{"sold": "sold",
		"Sold 2023": "Sold 2023", "worn; sold to Ann": "sold to Ann",
		"given to Sam": "given to Sam", "verkauft": "verkauft", "thrown away.": "thrown away.", "good\nstolen": "stolen",
		"sold by the pair": "", "sold as a set": "", "to be sold": "", "sold?": "", "not sold": "", "unsold": "",
		"given up on": "", "bolts missing": "", "": ""} {
		if got := noneBy(remark); got != want {
			t.Errorf("%q: %q, want %q", remark, got, want)
		}
	}
}

// TestQuantityOfNone: none, less than none and words for it are no piece; a pair is two
// pieces until the kind of part is known.
func TestQuantityOfNone(t *testing.T) {
	for text, want := range map[string]Row{"0": {Nothing: `"0" is written`}, "-1": {Nothing: `"-1" is written`},
		"missing": {Nothing: `"missing" is written`}, "none": {Nothing: `"none" is written`},
		"1": {Quantity: 1, Counted: true}, "1 Paar": {Quantity: 2, Counted: true, Paired: true},
		"2 pairs": {Quantity: 4, Counted: true, Paired: true}, "?": {}, "some": {}, "": {}} {
		var row Row
		quantity(&row, text)
		if row.Nothing != want.Nothing || row.Quantity != want.Quantity || row.Counted != want.Counted ||
			row.Paired != want.Paired {
			t.Errorf("%q: %d, counted %t, by the pair %t, none: %q", text, row.Quantity, row.Counted, row.Paired, row.Nothing)
		}
	}
}
