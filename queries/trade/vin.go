package trade

import (
	"fmt"
	"strings"
)

// VIN is a 17-character frame number taken apart.
type VIN struct {
	Text       string // upper case, without blanks
	CheckDigit string // what place 9 should be: "0" to "9" or "X"
	// CheckHolds is true when place 9 is CheckDigit. Only North American
	// machines must have one: false there is a misread number or worse, false
	// elsewhere means nothing.
	CheckHolds bool
	Sum        int    // of the weighted values
	YearLetter string // place 10
	// Years are both years of the 30-year cycle that YearLetter can mean,
	// earlier first; empty when it stands for none.
	Years []int
}

// VINLimits is what a frame number alone can't tell; print it with a year.
const VINLimits = "place 10 gives the model year only where the maker follows 49 CFR 565, two years fit each " +
	"letter, and on a motorcycle place 7 does not tell them apart"

// ParseVIN reads a 17-character vehicle identification number and works out its
// check digit and model years.
//
//	sum of value x weight over 17 places, check digit = sum mod 11 (10 is X)
//
// Source: 49 CFR 565 (values, weights, Table VII of year letters). Holds for
// 17-character numbers, from about 1980 on; the check digit is a duty in North
// America only; for motorcycles both years of the cycle stay possible
// (49 CFR 565.15). The digit can't see every mistake: letters and digits of
// equal value, such as J and 1, change places unseen. Refuses other lengths,
// I, O, Q, and anything but letters and digits, with an error that says which
// place. A check digit that does not hold is no error.
func ParseVIN(text string) (VIN, error) {
	v := VIN{Text: strings.ToUpper(strings.Join(strings.Fields(text), ""))}
	chars := []rune(v.Text)
	if len(chars) != 17 {
		return VIN{}, fmt.Errorf("frame number %q has %d characters, a VIN has 17; frames from before about 1980 have "+
			"none: use the maker's frame ranges", text, len(chars))
	}
	for i, c := range chars {
		value, err := vinValue(c)
		if err != nil {
			return VIN{}, fmt.Errorf("frame number %q, place %d: %w", text, i+1, err)
		}
		v.Sum += value * vinWeights()[i]
	}
	v.CheckDigit = "0123456789X"[v.Sum%11 : v.Sum%11+1]
	v.CheckHolds = string(chars[8]) == v.CheckDigit
	v.YearLetter = string(chars[9])
	v.Years = modelYears(chars[9])
	return v, nil
}

// vinWeights are the weights of places 1 to 17; the check digit's own is 0.
func vinWeights() [17]int { return [17]int{8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2} }

// vinValue turns a character into its number by the table of 49 CFR 565.
func vinValue(c rune) (int, error) {
	const letters = "ABCDEFGHJKLMNPRSTUVWXYZ"
	const values = "12345678123457923456789"
	if c >= '0' && c <= '9' {
		return int(c - '0'), nil
	}
	if i := strings.IndexRune(letters, c); i >= 0 {
		return int(values[i] - '0'), nil
	}
	if strings.ContainsRune("IOQ", c) {
		return 0, fmt.Errorf("letter %c: a VIN has no I, O or Q, they look like 1 and 0", c)
	}
	return 0, fmt.Errorf("%q is neither a letter A to Z nor a digit", c)
}

// modelYears are both years a model-year letter can mean, earlier first: the
// code repeats every 30 years. Empty when the character stands for no year.
//
// Source: 49 CFR 565.15, Table VII (1980 A to 2009 9, then again; I, O, Q, U, Z
// and 0 are not used). Some makers' numbers for other markets do not follow it.
func modelYears(letter rune) []int {
	const codes = "ABCDEFGHJKLMNPRSTVWXY123456789"
	i := strings.IndexRune(codes, letter)
	if i < 0 {
		return nil
	}
	return []int{1980 + i, 2010 + i}
}
