// Package article puts "a" or "an" before what it stands before: a kind, a part
// or a size that is only known when the sentence is made. Text is for a whole
// sentence of our own, Sprintf for one that quotes what a person wrote, which
// stays as it was written.
package article

import (
	"fmt"
	"regexp"
	"strings"
	"sync"
)

// Text puts "an" before the words and numbers of a sentence that want it: "an 8 mm
// bolt". "an M10x1 bolt" is written so by hand.
func Text(text string) string {
	if !strings.Contains(text, "a ") && !strings.HasPrefix(text, "A ") {
		return text
	}
	var out strings.Builder
	for i := 0; i < len(text); i++ {
		out.WriteByte(text[i])
		alone := text[i] == 'a' && (i == 0 || text[i-1] == ' ') || text[i] == 'A' && i == 0 // within, it is the ampere
		if alone && i+2 < len(text) && text[i+1] == ' ' && wantsAn(text[i+2:]) {
			out.WriteByte('n')
		}
	}
	return out.String()
}

// beforeVerb finds "a %s" and "a %q", and every other verb of a format.
var beforeVerb = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?:\ba )?%(?:%|[-+# 0]*[0-9]*(?:\.[0-9]+)?([a-zA-Z]))`)
})

// Sprintf is fmt.Sprintf, but that "a %s" and "a %q" become "an" where the value
// wants it. Nothing within a value is changed. The format has no argument indexes
// and no width given as an argument.
func Sprintf(format string, args ...any) string {
	if !strings.Contains(format, "a %") {
		return fmt.Sprintf(format, args...)
	}
	next := -1
	format = beforeVerb().ReplaceAllStringFunc(format, func(found string) string {
		if strings.HasSuffix(found, "%%") {
			return found
		}
		next++
		if verb, ok := strings.CutPrefix(found, "a "); ok && next < len(args) && wantsAn(fmt.Sprint(args[next])) {
			return "an " + verb
		}
		return found
	})
	return fmt.Sprintf(format, args...)
}

// wantsAn reports whether what follows starts with the sound of a vowel: a
// word, or one of the numbers 8, 11, 18 and 80 to 89.
func wantsAn(rest string) bool {
	word, _, _ := strings.Cut(rest, " ")
	whole, _, _ := strings.Cut(word, ".")
	switch {
	case word == "":
		return false
	case strings.ContainsRune("aeio", rune(word[0])):
		return true
	case word[0] == '8':
		return len(whole) <= 2
	}
	return whole == "11" || whole == "18"
}
