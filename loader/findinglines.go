package loader

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"
)

// FindingLines is a findings file taken apart by its lines, so that one item can
// be read, and one added, without reading all others. It holds for files that
// are written as ours are: the two lists, a dash to an item, each quoted text and
// each list in brackets on one line. ScanFindings says when a file is not.
type FindingLines struct {
	content []byte
	lists   []findingList // in the order of the file
	items   []findingSpan // those that were scanned, in the order of the file
	// marks are those from which on items were scanned, where content is of these alone;
	// still then says whether the file stands as it did.
	marks FindingMarks
	still func() bool
}

// findingList is one of the lists of a findings file, with what stands before it.
type findingList struct {
	key    string
	keyAt  int // where the line of its key begins, in bytes
	margin int // blanks before the dashes; -1 while it has no item
	end    int // where another item would be added
	lines  int // how many lines stand before that
}

// indent is how far the dash of another item is set in.
func (l findingList) indent() int {
	if l.margin < 0 {
		return 2
	}
	return l.margin
}

// findingSpan is where an item stands.
type findingSpan struct {
	from, to int // in bytes
	line     int // of its dash, from 1
	key      int // blanks before its keys
	list     int
	id       string // empty for one that tells none
}

// ScanFindings takes a findings file apart; ok is false for one that is written in
// another way, which must be read as a whole.
func ScanFindings(content []byte) (f *FindingLines, ok bool) {
	f = &FindingLines{content: content}
	return f, f.scan(0, len(content), 0, -1)
}

// scan reads the lines from one byte to another; line is how many stand before,
// and at is the list that goes on there, -1 for none.
func (f *FindingLines) scan(from, to, line, at int) bool {
	block := -1 // the column below which a text in several lines has ended
	for from < to {
		next := to
		if i := bytes.IndexByte(f.content[from:to], '\n'); i >= 0 {
			next = from + i + 1
		}
		text := bytes.TrimRight(f.content[from:next], "\r\n")
		indent := 0
		for indent < len(text) && text[indent] == ' ' {
			indent++
		}
		line++
		switch body := text[indent:]; {
		case len(body) == 0 || block >= 0 && indent > block || body[0] == '#' && indent > 0:
		case body[0] == '#':
			from = next
			continue // a comment at the margin belongs to what comes after it
		case indent == 0 && !dashed(body):
			if block = -1; !f.openList(body, from) {
				return false
			}
			at = len(f.lists) - 1
		default:
			var ok bool
			if block, ok = f.itemLine(body, indent, from, line, at); !ok {
				return false
			}
		}
		if at >= 0 && len(text) > indent {
			f.lists[at].end, f.lists[at].lines = next, line
			if n := len(f.items); n > 0 && f.items[n-1].list == at {
				f.items[n-1].to = next
			}
		}
		from = next
	}
	if n := len(f.lists); n > 0 && at == n-1 && to == len(f.content) {
		f.lists[at].end, f.lists[at].lines = to, line // what is added goes behind all that stands there
	}
	return true
}

func dashed(body []byte) bool { return body[0] == '-' && (len(body) == 1 || body[1] == ' ') }

// openList notes the key of a list.
func (f *FindingLines) openList(body []byte, at int) bool {
	key, rest, _ := bytes.Cut(body, []byte(":"))
	name := string(key)
	if name != findingsKey && name != withdrawalsKey || !blankOrComment(rest) ||
		slices.ContainsFunc(f.lists, func(l findingList) bool { return l.key == name }) {
		return false
	}
	f.lists = append(f.lists, findingList{key: name, keyAt: at, margin: -1})
	return true
}

// itemLine reads a line of a list. block is the column of the key that a text in
// several lines follows, else -1.
func (f *FindingLines) itemLine(body []byte, indent, from, line, at int) (block int, ok bool) {
	if at < 0 {
		return 0, false
	}
	list := &f.lists[at]
	if dashed(body) && list.margin < 0 {
		list.margin = indent
	}
	begins := dashed(body) && indent == list.margin
	if !begins && indent <= max(list.margin, 0) || list.margin < 0 {
		return 0, false
	}
	column := indent
	for len(body) > 0 && dashed(body) {
		rest := bytes.TrimLeft(body[1:], " ")
		column += len(body) - len(rest)
		body = rest
	}
	if begins {
		f.items = append(f.items, findingSpan{from: from, line: line, key: column, list: at})
	}
	key, value, block, ok := plainLine(body)
	if block >= 0 {
		block = column
	}
	item := &f.items[len(f.items)-1]
	if column == item.key && (list.key == findingsKey && key == "id" || list.key == withdrawalsKey && key == "finding") {
		item.id, ok = value, ok && !bytes.ContainsAny(body, `\`)
	}
	return block, ok
}

// plainLine takes one line of an item apart, without its dashes. block is 0 where a
// text in several lines follows, else -1. ok is false for a line that does not
// tell by itself where it ends.
func plainLine(body []byte) (key, value string, block int, ok bool) {
	if len(body) == 0 {
		return "", "", -1, true
	}
	rest := body
	switch at := keyEnd(body); {
	case body[0] == '\t':
		return "", "", -1, false
	case at > 0:
		key, rest = unquoted(body[:at]), bytes.TrimLeft(body[at+1:], " ")
	}
	block = -1
	if len(rest) == 0 {
		return key, "", block, true
	}
	switch rest[0] {
	case '#':
		return key, "", block, true
	case '|', '>':
		return key, "", 0, true
	case '&', '*', '!', '@', '%', '`', '?', '\t':
		return key, "", block, false
	case '"', '\'', '[', '{':
		end := closed(rest)
		return key, unquoted(rest[:max(end, 0)]), block, end > 0 && blankOrComment(rest[end:])
	}
	if i := bytes.Index(rest, []byte(" #")); i >= 0 {
		rest = rest[:i]
	}
	return key, string(bytes.TrimRight(rest, " \t")), block, true
}

// keyEnd is where the colon behind a key stands; 0 where the line has no key.
func keyEnd(body []byte) int {
	from := 0
	switch body[0] {
	case '"', '\'':
		if from = closed(body); from < 0 {
			return 0
		}
		if from < len(body) && body[from] == ':' && (from+1 == len(body) || body[from+1] == ' ') {
			return from
		}
		return 0
	case '[', '{', '#', '|', '>', '&', '*', '!', '@', '%', '`', '?':
		return 0
	}
	for i, b := range body {
		if b == '#' && i > 0 && body[i-1] == ' ' {
			return 0
		}
		if b == ':' && (i+1 == len(body) || body[i+1] == ' ') {
			return i
		}
	}
	return 0
}

// closed is the length of the quoted text, or of the list or mapping in brackets,
// that a line begins with; -1 where it does not end on that line.
func closed(line []byte) int {
	depth := 0
	var quote byte
	for i := 0; i < len(line); i++ {
		b := line[i]
		switch {
		case quote == '"' && b == '\\':
			i++
		case quote == '\'' && b == '\'' && i+1 < len(line) && line[i+1] == '\'':
			i++
		case quote != 0 && b == quote:
			quote = 0
		case quote != 0:
		case b == '"' || b == '\'':
			if i > 0 && !bytes.ContainsRune([]byte(" [{,:"), rune(line[i-1])) {
				continue // within a word
			}
			quote = b
		case b == '[' || b == '{':
			depth++
		case b == ']' || b == '}':
			depth--
		case i > 0 && bytes.ContainsRune([]byte("#&*!"), rune(b)) && bytes.ContainsRune([]byte(" [{,:"), rune(line[i-1])):
			return -1
		}
		if quote == 0 && depth <= 0 {
			return i + 1
		}
	}
	return -1
}

// unquoted is a text without the quotes around it.
func unquoted(text []byte) string {
	if n := len(text); n >= 2 && (text[0] == '"' || text[0] == '\'') && text[n-1] == text[0] {
		text = text[1 : n-1]
	}
	return string(text)
}

func blankOrComment(rest []byte) bool {
	trimmed := bytes.TrimLeft(rest, " ")
	return len(trimmed) == 0 || trimmed[0] == '#' && len(trimmed) < len(rest)
}

// FindingMarks say how far a findings file was read, and by what that is known
// again once items were added: those lists stand there word for word.
type FindingMarks []FindingMark

// FindingMark is for one list, from the end of the one before it.
type FindingMark struct {
	Key    string `json:"key"`
	KeyAt  int    `json:"key_at"` // in bytes, from where the mark begins
	Margin int    `json:"margin"`
	Bytes  int    `json:"bytes"`
	Lines  int    `json:"lines"`
	Sum    string `json:"sum"` // SHA-256
}

// Marks are those of all that was scanned.
func (f *FindingLines) Marks() FindingMarks {
	var marks FindingMarks
	var before findingList
	for _, l := range f.lists {
		marks = append(marks, FindingMark{Key: l.key, KeyAt: l.keyAt - before.end, Margin: l.margin,
			Bytes: l.end - before.end, Lines: l.lines - before.lines, Sum: sumOf(f.content[before.end:l.end])})
		before = l
	}
	return marks
}

func sumOf(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:16])
}

// FindingsSince scans what was added to a findings file since marks were taken; ok is
// false when anything else was changed.
func FindingsSince(content []byte, marks FindingMarks) (f *FindingLines, ok bool) {
	return findingsSince(content, marks, false)
}

// findingsSince is FindingsSince; sure is true where it is known that the lists stand there.
func findingsSince(content []byte, marks FindingMarks, sure bool) (f *FindingLines, ok bool) {
	f = &FindingLines{content: content}
	at, lines := 0, 0
	for i, m := range marks {
		from := at
		if i > 0 {
			key := bytes.Index(content[at-1:], []byte("\n"+m.Key+":"))
			if from = at + key - m.KeyAt; key < 0 || from < at {
				return nil, false
			}
			if !f.scan(at, from, lines, i-1) || len(f.lists) != i {
				return nil, false
			}
			lines += bytes.Count(content[at:from], []byte("\n"))
		}
		if from+m.Bytes > len(content) || !sure && sumOf(content[from:from+m.Bytes]) != m.Sum {
			return nil, false
		}
		if at, lines = from+m.Bytes, lines+m.Lines; at == 0 || content[at-1] != '\n' {
			return nil, false
		}
		f.lists = append(f.lists, findingList{m.Key, from + m.KeyAt, m.Margin, at, lines})
	}
	return f, len(marks) > 0 && f.scan(at, len(content), lines, len(marks)-1)
}

// AddedFindings are the items that FindingsSince has scanned, to be kept apart from the
// file that they stand in.
type AddedFindings struct {
	Marks FindingMarks `json:"marks"`
	Lists []string     `json:"lists"` // their keys, in the order of the file
	Items []AddedItem  `json:"items"`
}

// AddedItem is one of them.
type AddedItem struct {
	ID   string `json:"id"`
	Text string `json:"text"`
	Line int    `json:"line"`
	List int    `json:"list"`
}

// Added are the items that were scanned since marks were taken.
func (f *FindingLines) Added(marks FindingMarks) AddedFindings {
	a := AddedFindings{Marks: marks}
	for _, l := range f.lists {
		a.Lists = append(a.Lists, l.key)
	}
	for _, item := range f.items {
		a.Items = append(a.Items, AddedItem{item.id, string(f.content[item.from:item.to]), item.line, item.list})
	}
	return a
}

// Lines are the items as FindingsSince gave them, without the rest of their file; still
// says whether that stands as it did.
func (a AddedFindings) Lines(still func() bool) *FindingLines {
	f := &FindingLines{marks: a.Marks, still: still}
	for _, key := range a.Lists {
		f.lists = append(f.lists, findingList{key: key})
	}
	for _, item := range a.Items {
		from := len(f.content)
		f.content = append(f.content, item.Text...)
		f.items = append(f.items, findingSpan{from: from, to: len(f.content), line: item.Line, list: item.List, id: item.ID})
	}
	return f
}

// whole is whether these are the lines of a file of that text. Those that were kept apart
// from it are told where they stand in it.
func (f *FindingLines) whole(text []byte) bool {
	if f.marks == nil {
		return bytes.Equal(f.content, text)
	}
	now, same := findingsSince(text, f.marks, f.still())
	if same {
		*f = *now
	}
	return same
}

// ItemText is one item of a findings file as text.
type ItemText struct{ ID, Text string }

// FindingItems takes items apart that FindingText or WithdrawalText has written, one
// behind the other.
func FindingItems(items []string, withdrawals bool) ([]ItemText, error) {
	key := findingsKey
	if withdrawals {
		key = withdrawalsKey
	}
	var apart []ItemText
	for _, item := range items {
		lines, plain := ScanFindings([]byte(key + ":\n" + item))
		if !plain {
			return nil, errors.New("loader: an item that does not tell by its lines where it ends")
		}
		for _, one := range lines.items {
			apart = append(apart, ItemText{one.id, string(lines.content[one.from:one.to])})
		}
	}
	return apart, nil
}

// SameItem says whether two items as text say the same, whether or not a finding was
// taken back since.
func SameItem(a, b string) bool {
	var items [2]yaml.Node
	for i, text := range []string{a, b} {
		if yaml.Unmarshal([]byte(text), &items[i]) != nil || len(items[i].Content) != 1 ||
			len(items[i].Content[0].Content) != 1 {
			return false
		}
	}
	return sameItem(items[0].Content[0].Content[0], items[1].Content[0].Content[0])
}

// FindingsFileText is a findings file of items.
func FindingsFileText(findings, withdrawals []string) []byte {
	var b bytes.Buffer
	for i, items := range [][]string{findings, withdrawals} {
		if len(items) > 0 {
			b.WriteString([]string{findingsKey, withdrawalsKey}[i] + ":\n" + strings.Join(items, ""))
		}
	}
	return b.Bytes()
}

// Items counts the items that were scanned.
func (f *FindingLines) Items() int { return len(f.items) }

// Bytes is how long the scanned items are together.
func (f *FindingLines) Bytes() int {
	n := 0
	for _, item := range f.items {
		n += item.to - item.from
	}
	return n
}

// findingPiece is a few items as a file of their own.
type findingPiece struct {
	content []byte
	lines   []int // the line in the whole file of each of its lines
}

// pieceBytes is about how long the text of a piece is.
const pieceBytes = 256 << 10

// pieces gathers the items, by number, to files of bounded size. What speaks of one
// finding, said twice or taken back, stands in one of them.
func (f *FindingLines) pieces() (groups [][]int) {
	size := pieceBytes
	group := map[string]int{}
	place := func(i int) {
		item := f.items[i]
		at, known := group[item.id]
		if !known || item.id == "" {
			if size >= pieceBytes {
				groups, size = append(groups, nil), 0
			}
			at = len(groups) - 1
			size += item.to - item.from
			group[item.id] = at
		}
		groups[at] = append(groups[at], i)
	}
	for _, key := range []string{findingsKey, withdrawalsKey} {
		for i, item := range f.items {
			if f.lists[item.list].key == key {
				place(i)
			}
		}
	}
	return groups
}

// piece writes items as a file; those of one list follow one another.
func (f *FindingLines) piece(items []int) findingPiece {
	var p findingPiece
	list := -1
	for _, i := range items {
		item := f.items[i]
		if item.list != list {
			list = item.list
			p.content = append(p.content, f.lists[list].key+":\n"...)
			p.lines = append(p.lines, item.line)
		}
		text := f.content[item.from:item.to]
		p.content = append(p.content, text...)
		for n := range bytes.Count(text, []byte("\n")) {
			p.lines = append(p.lines, item.line+n)
		}
		if text[len(text)-1] != '\n' {
			p.content = append(p.content, '\n')
			p.lines = append(p.lines, item.line+bytes.Count(text, []byte("\n")))
		}
	}
	return p
}

// writeWith writes the file with items more at the ends of its lists.
func (f *FindingLines) writeWith(to io.Writer, more additions) error {
	w := bufio.NewWriterSize(to, 64<<10) // keeps its first error until Flush
	at, eol := 0, lineEnd(f.content)
	for _, list := range f.lists {
		w.Write(f.content[at:list.end])
		at = list.end
		writeItems(w, f.content[:at], more[list.key], list.indent(), eol)
	}
	w.Write(f.content[at:])
	ended := f.content
	for _, key := range []string{findingsKey, withdrawalsKey} {
		if len(more[key]) == 0 || slices.ContainsFunc(f.lists, func(l findingList) bool { return l.key == key }) {
			continue
		}
		writeItems(w, ended, []string{key + ":\n"}, 0, eol)
		ended = nil
		writeItems(w, nil, more[key], 2, eol)
	}
	return w.Flush()
}
