// Package cell keeps the text in a cell of a table of sheets what it is: text.
package cell

import (
	"regexp"
	"strings"
	"sync"
)

// amount is a number with a sign and perhaps a unit, or several with words
// between: no sheet programme runs it.
var amount = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^[+-]?$|^[+-]\d+([.,]\d+)?( [\pL\d.,/°%²³+-]+)*$`)
})

// Harmless keeps a cell from being run as a formula by a sheet programme: an
// apostrophe goes in front of what one would begin with.
func Harmless(text string) string {
	if text == "" || !strings.ContainsRune("=+-@\t\r", rune(text[0])) || amount().MatchString(text) {
		return text
	}
	return "'" + text
}
