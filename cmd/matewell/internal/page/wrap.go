package page

import (
	"strings"

	"github.com/olekukonko/tablewriter/pkg/twwidth"
)

// HardSpace stands in a cell for a space that must stay on its line. It is
// printed as an ordinary space, so that what is copied can be typed again.
const HardSpace = "\u00a0"

// SoftBreak stands in a cell where a line may be broken without a space. It is
// not printed.
const SoftBreak = "\u200b"

// BreakAfter allows a line to be broken behind each of the marks in a text.
func BreakAfter(text, mark string) string { return strings.ReplaceAll(text, mark, mark+SoftBreak) }

// Hard keeps a text on one line: a part number is never cut.
func Hard[T ~string](text T) string { return strings.ReplaceAll(string(text), " ", HardSpace) }

// Soft is a cell's text as it is printed.
func Soft(text string) string {
	return strings.ReplaceAll(strings.ReplaceAll(text, HardSpace, " "), SoftBreak, "")
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
		most = max(most, twwidth.Width(Soft(line)))
	}
	return most
}

// isSpace leaves out the hard space, which unicode counts as one.
func isSpace(r rune) bool { return r == ' ' || r == '\t' || r == '\r' }

func breakable(r rune) bool { return isSpace(r) || r == '\n' || string(r) == SoftBreak }

// Wrap breaks a text into lines of at most width columns; a longer word keeps a
// line of its own. A width of 0 is no limit: everything is one line, so that a
// row stays one for the program behind the pipe. Lines that go on with a sentence
// start with what is hanging. It always gives a line.
func Wrap(text string, width int, hanging string) []string {
	if width == 0 {
		line := strings.Join(strings.FieldsFunc(strings.ReplaceAll(text, "\n", "; "), isSpace), " ")
		return []string{strings.ReplaceAll(line, SoftBreak, "")}
	}
	var lines []string
	for paragraph := range strings.SplitSeq(text, "\n") {
		line := ""
		for _, word := range strings.FieldsFunc(paragraph, isSpace) {
			join := " "
			for piece := range strings.SplitSeq(word, SoftBreak) {
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
