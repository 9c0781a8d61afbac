package store

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"

	"github.com/cayleygraph/quad"
	"github.com/cayleygraph/quad/nquads"
	"golang.org/x/text/encoding/unicode"

	"matewell/graph"
	"matewell/graph/diag"
)

// statement is a quad as a line of N-Quads.
func statement(q quad.Quad) string {
	line := q.Subject.String() + " " + q.Predicate.String() + " " + q.Object.String()
	if q.Label != nil {
		line += " " + q.Label.String()
	}
	return line + " .\n"
}

// What stands before and behind the statements of an export, as comments: by them a file
// that was cut off, or lost lines, is known.
const (
	countedHead = "# facts of matewell, whole with their last line, which counts the statements"
	countedEnd  = "# %d statements, and the end"
)

// counted follows the comments of exports through a file; the zero value has seen none.
type counted struct {
	head int // line of the head of the export that is read; 0 outside of one
	seen int // statements behind it
}

// line takes the next line in: what it says is missing, empty for nothing.
func (c *counted) line(number int, text string, isStatement bool) (missing string) {
	var told int
	switch {
	case isStatement:
		c.seen++
	case text == countedHead:
		missing = c.end()
		c.head, c.seen = number, 0
	case c.head > 0:
		if _, err := fmt.Sscanf(text, countedEnd, &told); err != nil || fmt.Sprintf(countedEnd, told) != text {
			return ""
		}
		if told != c.seen {
			missing = fmt.Sprintf("%d statements stand here, and this line counts %d", c.seen, told)
		}
		c.head = 0
	}
	return missing
}

// end says what is missing where nothing more comes.
func (c *counted) end() string {
	if c.head == 0 {
		return ""
	}
	return fmt.Sprintf("the end is missing: line %d says that a last line counts the statements, and none does", c.head)
}

// maxLine is the longest line that is read, in bytes.
const maxLine = 1 << 20

// ReadNQuads reads facts from N-Quads or N-Triples. A byte order mark in front
// is passed over, and one of UTF-16 obeyed: shells on Windows write such files.
// file is the name that faults carry. A line that breaks the grammar is an error in probs; one that
// doesn't belong to any record, or says otherwise than another, is a warning,
// for it won't be written back. The error is for other trouble only: when
// probs has an error the facts are not to be used.
func ReadNQuads(ctx context.Context, r io.Reader, file string, probs *diag.List) (graph.Facts, error) {
	lines, err := readStatements(ctx, utf8From(r), file, probs)
	if err != nil {
		return graph.Facts{}, err
	}
	checkStatements(lines, probs)
	f := understood(lines)
	warnOfLost(lines, f, probs)
	return f, nil
}

// utf8From is a text as UTF-8 without a byte order mark.
func utf8From(r io.Reader) io.Reader {
	b := bufio.NewReader(r)
	head, _ := b.Peek(3) // a shorter text has none, and reading tells of other trouble
	switch {
	case bytes.Equal(head, []byte("\ufeff")):
		_, _ = b.Discard(len(head))
	case bytes.HasPrefix(head, []byte{0xff, 0xfe}), bytes.HasPrefix(head, []byte{0xfe, 0xff}):
		return unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewDecoder().Reader(b)
	}
	return b
}

// warnOfLost tells which lines say nothing that the facts hold.
func warnOfLost(lines []quadLine, f graph.Facts, probs *diag.List) {
	kept := map[quad.Quad]bool{}
	for _, q := range statementsOf(f) {
		kept[q] = true
	}
	for _, l := range lines {
		if !kept[l.quad] {
			probs.Warnf(l.pos, "not-kept", "this statement about %s belongs to no record that is understood", l.quad.Subject).
				Hint = "it is left out"
		}
	}
}

// quadLine is a quad and the line it stands on.
type quadLine struct {
	quad quad.Quad
	pos  diag.Pos
}

func readStatements(ctx context.Context, r io.Reader, file string, probs *diag.List) ([]quadLine, error) {
	scanner := bufio.NewScanner(r)
	scanner.Buffer(nil, maxLine)
	scanner.Split(splitLines)
	g := newGrammar()
	var list []quadLine
	var whole counted
	pos := diag.Pos{File: file}
	cut := func(missing string) {
		if missing != "" {
			probs.Errorf(pos, "cut-off", "%s", missing).Hint = "fetch the file again; one that was edited by hand is " +
				"loaded as it is once its first line is taken away"
		}
	}
	for scanner.Scan() {
		pos.Line++
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		text := scanner.Text()
		terms, fault := g.terms(text)
		cut(whole.line(pos.Line, text, len(terms) > 0))
		if fault != nil {
			pos := diag.Pos{File: file, Line: pos.Line, Col: fault.at + 1}
			probs.Errorf(pos, "bad-nquads", "%s", fault.message)
			continue
		}
		if len(terms) == 0 {
			continue
		}
		q, err := nquads.Parse(joinTerms(terms))
		if err != nil {
			probs.Errorf(pos, "bad-nquads", "%v", err)
			continue
		}
		list = append(list, quadLine{plainQuad(q), pos})
	}
	if errors.Is(scanner.Err(), bufio.ErrTooLong) {
		probs.Errorf(diag.Pos{File: file, Line: pos.Line + 1}, "long-line",
			"this line is longer than %d MB, the most that is read as one; a statement of N-Quads is one short line",
			maxLine>>20).Hint = "is it the right file? matewell export writes such a one"
		return nil, nil
	}
	if err := scanner.Err(); err != nil {
		return nil, fmt.Errorf("store: read %s, line %d: %w", file, pos.Line+1, err)
	}
	cut(whole.end())
	return list, nil
}

// splitLines ends a line at LF, CR, or both together.
func splitLines(data []byte, atEOF bool) (advance int, token []byte, err error) {
	i := bytes.IndexAny(data, "\r\n")
	switch {
	case i < 0 && atEOF && len(data) > 0:
		return len(data), data, nil
	case i < 0:
		return 0, nil, nil
	case data[i] == '\r' && i+1 == len(data) && !atEOF:
		return 0, nil, nil // is there an LF behind it?
	case data[i] == '\r' && i+1 < len(data) && data[i+1] == '\n':
		return i + 2, data[:i], nil
	}
	return i + 1, data[:i], nil
}

// plainQuad undoes what the parser makes of typed literals: ours stay as they
// are written. It also resolves escapes in IRIs, which the parser leaves.
func plainQuad(q quad.Quad) quad.Quad {
	for _, d := range quad.Directions {
		q.Set(d, plainValue(q.Get(d)))
	}
	return q
}

func plainValue(v quad.Value) quad.Value {
	switch v := v.(type) {
	case quad.IRI:
		return quad.IRI(resolveEscapes(string(v)))
	case quad.Bool:
		text := "false"
		if v {
			text = "true"
		}
		return quad.TypedString{Value: quad.String(text), Type: xsdBoolean}
	case quad.TypedStringer:
		typed := v.TypedString()
		typed.Type = typed.Type.Full()
		return typed
	}
	return v
}
