package store

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

// The terminals of RDF 1.1 N-Quads (W3C Recommendation, 25 February 2014,
// section 4). The parser of Cayley is laxer in some places (relative IRIs,
// literals as subjects) and stricter in one (it wants blanks between terms),
// so that each line is taken apart here first.
const (
	numericEscape = `\\u[0-9A-Fa-f]{4}|\\U[0-9A-Fa-f]{8}`
	iriTerm       = "<[A-Za-z][A-Za-z0-9+.-]*:(?:[^\\x00-\\x20<>\"{}|^`\\\\]|" + numericEscape + ")*>"
	nameStart     = `A-Za-z\x{C0}-\x{D6}\x{D8}-\x{F6}\x{F8}-\x{2FF}\x{370}-\x{37D}\x{37F}-\x{1FFF}\x{200C}-\x{200D}` +
		`\x{2070}-\x{218F}\x{2C00}-\x{2FEF}\x{3001}-\x{D7FF}\x{F900}-\x{FDCF}\x{FDF0}-\x{FFFD}\x{10000}-\x{EFFFF}_`
	nameRest    = nameStart + `\-0-9\x{B7}\x{300}-\x{36F}\x{203F}-\x{2040}`
	blankTerm   = `_:[` + nameStart + `0-9](?:[` + nameRest + `.]*[` + nameRest + `])?`
	stringTerm  = `"(?:[^"\\\n\r]|\\[tbnrf"'\\]|` + numericEscape + `)*"`
	literalTerm = stringTerm + `(?:\^\^` + iriTerm + `|@[A-Za-z]+(?:-[A-Za-z0-9]+)*)?`
)

// place is one of the places of a statement and what may stand there.
type place struct {
	is     string
	allows *regexp.Regexp
}

func statementPlaces() [4]place {
	node := regexp.MustCompile(`^(?:` + iriTerm + `|` + blankTerm + `)`)
	return [4]place{
		{"a subject, as <IRI> or _:name", node},
		{"a predicate, as <IRI>", regexp.MustCompile(`^(?:` + iriTerm + `)`)},
		{`an object, as <IRI>, _:name or "literal"`, regexp.MustCompile(`^(?:` + iriTerm + `|` + blankTerm + `|` + literalTerm + `)`)},
		{"a source, as <IRI> or _:name", node},
	}
}

// grammarFault is where a line breaks the grammar.
type grammarFault struct {
	at      int // in bytes from the start of the line
	message string
}

// grammar takes lines apart.
type grammar struct {
	places [4]place
}

func newGrammar() grammar { return grammar{places: statementPlaces()} }

// terms gives the three or four terms of a line; none for a blank line or a
// comment.
func (g grammar) terms(line string) ([]string, *grammarFault) {
	if at := invalidUTF8(line); at >= 0 {
		return nil, &grammarFault{at, "this is not UTF-8"}
	}
	at := skipBlanks(line, 0)
	if at == len(line) || line[at] == '#' {
		return nil, nil
	}
	var terms []string
	for i, p := range g.places {
		if i == 3 && at < len(line) && line[at] == '.' {
			break
		}
		term := p.allows.FindString(line[at:])
		if term == "" {
			return nil, &grammarFault{at, expected(p.is, i, line[at:])}
		}
		if bad := invalidEscape(term); bad >= 0 {
			return nil, &grammarFault{at + bad, "this escape stands for no character"}
		}
		terms = append(terms, term)
		at = skipBlanks(line, at+len(term))
	}
	if at == len(line) || line[at] != '.' {
		return nil, &grammarFault{at, `expected the "." that ends a statement`}
	}
	if at = skipBlanks(line, at+1); at < len(line) && line[at] != '#' {
		return nil, &grammarFault{at, `only a comment may follow the "."`}
	}
	return terms, nil
}

func expected(what string, place int, rest string) string {
	if place == 3 {
		what = `"." or ` + what
	}
	if rest == "" {
		return "the line ends before " + what
	}
	found, _, _ := strings.Cut(rest, " ")
	return fmt.Sprintf("expected %s, found %.40q", what, found)
}

func skipBlanks(line string, at int) int {
	for at < len(line) && (line[at] == ' ' || line[at] == '\t') {
		at++
	}
	return at
}

func invalidUTF8(line string) int {
	for at, r := range line {
		if r == utf8.RuneError && !strings.HasPrefix(line[at:], "\uFFFD") {
			return at
		}
	}
	return -1
}

// invalidEscape is the place of a numeric escape that is no character: a
// surrogate, or beyond the last one; -1 when there is none.
func invalidEscape(term string) int {
	for at := 0; at+1 < len(term); at++ {
		if term[at] != '\\' {
			continue
		}
		if width := escapeWidth(term[at+1]); width > 0 {
			if r, _ := strconv.ParseUint(term[at+2:at+2+width], 16, 32); !utf8.ValidRune(rune(r)) {
				return at
			}
		}
		at++
	}
	return -1
}

// escapeWidth is how many hexadecimal digits follow the letter of an escape.
func escapeWidth(letter byte) int {
	switch letter {
	case 'u':
		return 4
	case 'U':
		return 8
	}
	return 0
}

// resolveEscapes puts characters in place of the numeric escapes of an IRI.
func resolveEscapes(text string) string {
	if !strings.Contains(text, `\`) {
		return text
	}
	var b strings.Builder
	for at := 0; at < len(text); at++ {
		if text[at] != '\\' {
			b.WriteByte(text[at])
			continue
		}
		width := escapeWidth(text[at+1])
		r, _ := strconv.ParseUint(text[at+2:at+2+width], 16, 32)
		b.WriteRune(rune(r))
		at += 1 + width
	}
	return b.String()
}

// joinTerms writes terms as the parser wants them.
func joinTerms(terms []string) string { return strings.Join(terms, " ") + " ." }
