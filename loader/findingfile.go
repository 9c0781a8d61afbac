package loader

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"matewell/graph/disk"
)

// FindingFile is a data file of the user's own that findings are added to. It
// is plain text and the only place they are kept: whatever reads them can be
// made again from it.
type FindingFile struct {
	Path string
	// Known is the file as it was read a moment ago, whose lines need not be told
	// apart again while it still reads so. It may be nil.
	Known *FindingLines
}

// newFileHead opens a findings file that did not exist yet.
const newFileHead = "# My own findings. Plain text: edit it, keep it under version control, pass it on.\n"

// Add puts the text of findings and of withdrawals, one or several to an item, each as
// FindingText and WithdrawalText write it, at the end of the file's lists. Whether they
// are right is for the caller to check first, with LoadOver.
//
// Other processes that add to the file wait their turn, so that nothing is lost;
// ctx ends the wait. The new text takes the place of the old in one step: a
// process killed half-way leaves the file as it was. What stands in the file
// stays as it stands, comments included; a file that is not a data file is left
// alone, with an error.
//
// Under the same lock it is looked for findings of the same identity: one that
// stands there already, word for word, is not added again, and one that claims
// something else is an error, ErrTaken. Neither is a withdrawal of what is taken back
// there already, for whatever reason. added are the identities of the findings that
// are new, and then of those that are newly taken back.
func (f FindingFile) Add(ctx context.Context, findings, withdrawals []string) (added []string, err error) {
	err = f.add(ctx, func(before []byte) (more additions, err error) {
		var gone []string
		more = additions{}
		if more[findingsKey], added, err = f.freshFindings(before, findings); err == nil {
			more[withdrawalsKey], gone, err = f.freshWithdrawals(before, withdrawals)
		}
		added = append(added, gone...)
		return more, err
	})
	return added, err
}

// freshFindings are those items that the file does not have, with their identities.
func (f FindingFile) freshFindings(before []byte, items []string) (fresh, ids []string, err error) {
	if ids = f.newIDs(before, items); ids != nil || len(items) == 0 {
		return items, ids, nil
	}
	rest, ids, err := unlikeThose(before, strings.Join(items, ""))
	if rest == "" {
		return nil, ids, err
	}
	return []string{rest}, ids, err
}

// freshWithdrawals are those items that take back what the file does not take back
// yet, with the identities of those findings.
func (f FindingFile) freshWithdrawals(before []byte, items []string) (fresh, ids []string, err error) {
	if len(items) == 0 {
		return nil, nil, nil
	}
	gone, err := f.takenBack(before)
	if err != nil {
		return nil, nil, err
	}
	apart, err := FindingItems(items, true)
	for _, item := range apart {
		if item.ID == "" || !gone[item.ID] {
			gone[item.ID] = true
			fresh, ids = append(fresh, item.Text), append(ids, item.ID)
		}
	}
	return fresh, ids, err
}

// takenBack are the findings that the withdrawals of a file speak of.
func (f FindingFile) takenBack(text []byte) (map[string]bool, error) {
	gone := map[string]bool{}
	if lines, plain := f.lines(text); plain {
		for _, item := range lines.items {
			if lines.lists[item.list].key == withdrawalsKey {
				gone[item.id] = true
			}
		}
		return gone, nil
	}
	root, err := topLevel(text)
	if err != nil {
		return nil, err
	}
	for _, node := range listOf(root, withdrawalsKey) {
		gone[idOf(node)] = true
	}
	return gone, nil
}

// additions are items to add, by the key of their list.
type additions map[string][]string

// ErrTaken says that a finding of that identity is there, and claims otherwise.
var ErrTaken = errors.New("another finding is called so already")

// fewItems is up to how many identities are looked for in the text of a file one by
// one.
const fewItems = 8

// newIDs are the identities of items when the text of a file shows that it has
// none of them; nil when they must be looked for item by item.
func (f FindingFile) newIDs(before []byte, items []string) []string {
	var ids []string
	seen := map[string]bool{}
	for _, item := range items {
		lines, plain := ScanFindings([]byte(findingsKey + ":\n" + item))
		if !plain {
			return nil
		}
		for _, one := range lines.items {
			if one.id == "" || seen[one.id] {
				return nil
			}
			seen[one.id] = true
			ids = append(ids, one.id)
		}
	}
	if len(ids) <= fewItems {
		if _, plain := f.lines(before); !plain {
			return nil
		}
		for _, id := range ids {
			if bytes.Contains(before, []byte(id)) {
				return nil
			}
		}
		return ids
	}
	was, plain := ScanFindings(before)
	if !plain || slices.ContainsFunc(was.items, func(x findingSpan) bool { return seen[x.id] || x.id == "" }) {
		return nil
	}
	return ids
}

// lines are the lists of the file.
func (f FindingFile) lines(text []byte) (*FindingLines, bool) {
	if f.Known != nil && f.Known.whole(text) {
		return f.Known, true
	}
	return ScanFindings(text)
}

// unlikeThose are those of the items that stand in a file under no name of theirs.
func unlikeThose(before []byte, items string) (fresh string, added []string, err error) {
	was, err := topLevel(before)
	if err != nil {
		return "", nil, err
	}
	content := []byte(findingsKey + ":\n" + items)
	have := map[string]*yaml.Node{}
	for _, node := range listOf(was, findingsKey) {
		have[idOf(node)] = node
	}
	out := map[int]bool{}
	list := findingItems(content)
	now, err := topLevel(content)
	if err != nil {
		return "", nil, err
	}
	for i, node := range listOf(now, findingsKey) {
		id := idOf(node)
		old, known := have[id]
		switch {
		case !known || id == "":
			added = append(added, id)
			have[id] = node
		case !sameItem(old, node):
			return "", nil, fmt.Errorf("%s: %w", id, ErrTaken)
		default:
			out[i] = true
		}
	}
	if len(added) == 0 {
		return "", nil, nil
	}
	_, fresh, _ = strings.Cut(string(withoutItems(content, list, out)), "\n")
	return strings.TrimLeft(fresh, "\n"), added, nil
}

// sameItem says whether two findings claim the same, whether or not one was
// taken back since.
func sameItem(a, b *yaml.Node) bool {
	textA, errA := yaml.Marshal(withoutKey(a, "withdrawn"))
	textB, errB := yaml.Marshal(withoutKey(b, "withdrawn"))
	return errA == nil && errB == nil && string(plainNode(textA)) == string(plainNode(textB))
}

// plainNode is a value as it reads once quotes and comments are gone.
func plainNode(text []byte) []byte {
	var v any
	if err := yaml.Unmarshal(text, &v); err != nil {
		return text
	}
	plain, err := yaml.Marshal(v)
	if err != nil {
		return text
	}
	return plain
}

func withoutKey(item *yaml.Node, key string) *yaml.Node {
	rest := *item
	rest.Content = nil
	for i := 0; i+1 < len(item.Content); i += 2 {
		if item.Content[i].Value != key {
			rest.Content = append(rest.Content, item.Content[i], item.Content[i+1])
		}
	}
	return &rest
}

// add puts items behind the lists: those that fresh gives, under the lock, for what
// stands there; with none nothing is written.
func (f FindingFile) add(ctx context.Context, fresh func(before []byte) (additions, error)) (err error) {
	if err := os.MkdirAll(filepath.Dir(f.Path), 0o777); err != nil {
		return err
	}
	unlock, err := disk.Lock(ctx, f.lockPath())
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, unlock()) }()
	disk.SweepLeft(f.Path)
	before, err := disk.Read(f.Path)
	if errors.Is(err, fs.ErrNotExist) {
		before = []byte(newFileHead)
	} else if err != nil {
		return err
	}
	more, err := fresh(before)
	if err != nil {
		return fmt.Errorf("%s: %w", f.Path, err)
	}
	if len(more[findingsKey])+len(more[withdrawalsKey]) == 0 {
		return nil
	}
	write, err := f.writer(before, more)
	if err != nil {
		return fmt.Errorf("%s: %w", f.Path, err)
	}
	return disk.ReplaceWith(f.Path, 0o666, write)
}

// writer writes what stands in the file, and more.
func (f FindingFile) writer(before []byte, more additions) (func(w io.Writer) error, error) {
	if lines, plain := f.lines(before); plain {
		return func(w io.Writer) error { return lines.writeWith(w, more) }, nil
	}
	after := before
	for _, key := range []string{findingsKey, withdrawalsKey} {
		var err error
		if items := strings.Join(more[key], ""); items != "" {
			if after, err = withItems(after, key, items); err != nil {
				return nil, err
			}
		}
	}
	return func(w io.Writer) error {
		_, err := w.Write(after)
		return err
	}, nil
}

// writeItems writes items behind a text, whose last line may have no end.
func writeItems(w *bufio.Writer, behind []byte, items []string, margin int, eol string) {
	if n := len(behind); n > 0 && behind[n-1] != '\n' && len(items) > 0 {
		w.WriteString(eol)
	}
	for _, item := range items {
		w.WriteString(strings.ReplaceAll(indented(item, margin), "\n", eol))
	}
}

// lockPath is a file of its own: the findings file is replaced as a whole, and
// a lock on what is replaced would guard nothing.
func (f FindingFile) lockPath() string {
	dir, name := filepath.Split(disk.Target(f.Path))
	return filepath.Join(dir, "."+name+".lock")
}

// withItems is a data file's text with items more at the end of one of its
// lists. Nothing else is changed; the new text is read to see that it is so.
func withItems(text []byte, key, items string) ([]byte, error) {
	before, err := topLevel(text)
	if err != nil {
		return nil, err
	}
	items = strings.ReplaceAll(items, "\n", lineEnd(text))
	after, err := insert(text, before, key, items)
	if err != nil {
		return nil, err
	}
	grown, err := topLevel(after)
	if err != nil {
		return nil, err
	}
	added, err := topLevel([]byte(key + ":\n" + items))
	if err != nil {
		return nil, err
	}
	was, is := listOf(before, key), listOf(grown, key)
	more := listOf(added, key)
	if len(is) != len(was)+len(more) || len(grown.Content) < len(before.Content) {
		return nil, fmt.Errorf("nothing can be added to the list %q as it is written", key)
	}
	return after, nil
}

// topLevel parses the mapping at the top of a data file; of an empty file, an
// empty one.
func topLevel(text []byte) (*yaml.Node, error) {
	var document yaml.Node
	if err := yaml.Unmarshal(text, &document); err != nil {
		return nil, fmt.Errorf("not YAML, so nothing can be added to it: %w", err)
	}
	if len(document.Content) == 0 {
		return &yaml.Node{Kind: yaml.MappingNode}, nil
	}
	root := document.Content[0]
	if root.Kind != yaml.MappingNode || root.Style&yaml.FlowStyle != 0 {
		return nil, errors.New("not a data file, so nothing can be added to it")
	}
	return root, nil
}

// listOf gives the items under a key; none when there is no such list.
func listOf(root *yaml.Node, key string) []*yaml.Node {
	for i := 0; i+1 < len(root.Content); i += 2 {
		if root.Content[i].Value == key && root.Content[i+1].Kind == yaml.SequenceNode {
			return root.Content[i+1].Content
		}
	}
	return nil
}

func insert(text []byte, root *yaml.Node, key, items string) ([]byte, error) {
	for i := 0; i+1 < len(root.Content); i += 2 {
		if root.Content[i].Value != key {
			continue
		}
		next := 0 // the line of the key behind the list; 0 when it is the last
		if i+2 < len(root.Content) {
			next = root.Content[i+2].Line
		}
		return intoList(text, root.Content[i+1], next, key, items)
	}
	return append(endLine(text), key+":"+lineEnd(text)+indented(items, 2)...), nil
}

// intoList adds items at the end of a list; next is the line of the key that
// follows it, 0 when none does.
func intoList(text []byte, list *yaml.Node, next int, key, items string) ([]byte, error) {
	margin := 2
	switch {
	case list.Kind == yaml.SequenceNode && list.Style&yaml.FlowStyle == 0 && len(list.Content) > 0:
		margin = list.Column - 1
	case !isNull(list):
		return nil, fmt.Errorf("%q is not written as lines that start with a dash, so nothing can be added to it", key)
	}
	if next == 0 {
		return append(endLine(text), indented(items, margin)...), nil
	}
	lines := bytes.SplitAfter(text, []byte("\n"))
	at := next - 1
	for at > 0 && aside(lines[at-1]) { // comments stay with what they stand above
		at--
	}
	var out bytes.Buffer
	for _, line := range lines[:at] {
		out.Write(line)
	}
	out.WriteString(indented(items, margin))
	for _, line := range lines[at:] {
		out.Write(line)
	}
	return out.Bytes(), nil
}

// aside reports whether a line is empty or a comment at the margin. A line that
// is set in may be part of a text that runs over several lines.
func aside(line []byte) bool {
	return len(bytes.TrimSpace(line)) == 0 || line[0] == '#'
}

// endLine is the text with its last line ended.
func endLine(text []byte) []byte {
	text = bytes.Clone(text)
	if len(text) > 0 && text[len(text)-1] != '\n' {
		text = append(text, lineEnd(text)...)
	}
	return text
}

// lineEnd is what ends the lines of a file: editors on Windows write two bytes.
func lineEnd(text []byte) string {
	if bytes.Contains(text, []byte("\r\n")) {
		return "\r\n"
	}
	return "\n"
}
