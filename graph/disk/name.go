package disk

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// mostBytes is how long a name of FileName is at most: file systems take 255
// bytes, encrypted ones 143, and an ending is still to come.
const mostBytes = 120

// FileName makes a file's name, or a folder's, out of words that somebody
// wrote: one that no system refuses or takes for something else, and that data
// files may have. Letters and digits of every script stay; what is no name
// becomes a hyphen. Different words can give the same name. An ending such as
// ".yaml" is for the caller to add; it is never empty.
//
// Source: Microsoft, "Naming Files, Paths, and Namespaces" (characters, names of
// devices, dots and blanks at the end); POSIX.1-2017 3.170 (slash and null).
func FileName(words string) string {
	name := strings.Map(func(r rune) rune {
		if strings.ContainsRune(notInNames, r) || !unicode.IsPrint(r) || r == utf8.RuneError {
			return '-'
		}
		return r
	}, words)
	for len(name) > mostBytes {
		_, size := utf8.DecodeLastRuneInString(name)
		name = name[:len(name)-size]
	}
	name = strings.TrimRight(strings.TrimLeft(name, " ."), " .") // one that starts with a dot is hidden
	if name == "" {
		return "unnamed"
	}
	if isDevice(name) {
		stem, rest, dotted := strings.Cut(name, ".")
		name = strings.TrimRight(stem, " ") + "-"
		if dotted {
			name += "." + rest
		}
	}
	return name
}

// notInNames are the characters that Windows has in no name, besides control
// characters.
const notInNames = `<>:"/\|?*`

// isDevice reports whether Windows takes a name for a device, whatever stands
// behind its first dot.
func isDevice(name string) bool {
	stem, _, _ := strings.Cut(name, ".")
	stem = strings.ToUpper(strings.TrimRight(stem, " "))
	if slices.Contains([]string{"CON", "PRN", "AUX", "NUL", "CONIN$", "CONOUT$"}, stem) {
		return true
	}
	for _, port := range []string{"COM", "LPT"} {
		if number, ok := strings.CutPrefix(stem, port); ok && utf8.RuneCountInString(number) == 1 &&
			strings.Contains("0123456789\u00b9\u00b2\u00b3", number) {
			return true
		}
	}
	return false
}
