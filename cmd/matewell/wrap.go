package main

import (
	"strings"

	"github.com/olekukonko/tablewriter/pkg/twwidth"
)

// hardSpace stands in a cell for a space that must stay on its line. It is
// printed as an ordinary space, so that what is copied can be typed again.
const hardSpace = "\u00a0"

// softBreak stands in a cell where a line may be broken without a space. It is
// not printed.
const softBreak = "\u200b"

// breakAfter allows a line to be broken behind each of the marks in a text.
func breakAfter(text, mark string) string { return strings.ReplaceAll(text, mark, mark+softBreak) }

// hard keeps a text on one line: a part number is never cut.
func hard[T ~string](text T) string { return strings.ReplaceAll(string(text), " ", hardSpace) }

// soft is a cell's text as it is printed.
func soft(text string) string {
	return strings.ReplaceAll(strings.ReplaceAll(text, hardSpace, " "), softBreak, "")
}

func longestWord(text string) int {
	most := 0
	for _, word := range strings.FieldsFunc(text, breakable) {
		most = max(most, twwidth.Width(word))
	}
	return most
}

func longestLine(text string) int {
	most := 0
	for line := range strings.SplitSeq(text, "\n") {
		most = max(most, twwidth.Width(soft(line)))
	}
	return most
}

// isSpace leaves out the hard space, which unicode counts as one.
func isSpace(r rune) bool { return r == ' ' || r == '\t' || r == '\r' }

func breakable(r rune) bool { return isSpace(r) || r == '\n' || string(r) == softBreak }

// wrap breaks a text into lines of at most width columns; a longer word keeps a
// line of its own. A width of 0 is no limit: everything is one line, so that a
// row stays one for the program behind the pipe. Lines that go on with a sentence
// start with what is hanging. It always gives a line.
func wrap(text string, width int, hanging string) []string {
	if width == 0 {
		line := strings.Join(strings.FieldsFunc(strings.ReplaceAll(text, "\n", "; "), isSpace), " ")
		return []string{strings.ReplaceAll(line, softBreak, "")}
	}
	var lines []string
	for paragraph := range strings.SplitSeq(text, "\n") {
		line := ""
		for _, word := range strings.FieldsFunc(paragraph, isSpace) {
			join := " "
			for piece := range strings.SplitSeq(word, softBreak) {
				switch {
				case line == "":
					line = piece
				case twwidth.Width(line+join+piece) > width:
					lines = append(lines, line)
					line = hanging + piece
				default:
					line += join + piece
				}
				join = ""
			}
		}
		lines = append(lines, line)
	}
	return lines
}
