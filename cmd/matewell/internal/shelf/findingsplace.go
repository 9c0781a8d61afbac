package shelf

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"matewell/cmd/matewell/internal/desk"
	"matewell/graph/disk"
	"matewell/graph/store"
	"matewell/loader"
)

// FindingsPlace is where findings are added: a file of the user's own, or one that
// goes with a store, which several people share.
type FindingsPlace struct {
	loader.FindingFile
	Server string // address of the server that has the store; then Path only names it
	shared bool   // it goes with a store
}

// Open gives the graph that a finding is checked against before it is added here. Others
// who ask a store don't have the user's own file, so it says nothing of what is there.
func (p FindingsPlace) Open(ctx context.Context, e desk.Env, w Where) (Opened, error) {
	if p.shared {
		return OpenBase(ctx, e, w)
	}
	return Open(ctx, e, w)
}

// StoreFindings is the file in the folder of a store that findings are recorded to by
// all who use it. A load leaves it as it is.
const StoreFindings = "findings.yaml"

// The lists of notes in which a server keeps findings.
const (
	findingNotes    = "findings"
	withdrawalNotes = "withdrawals"
)

// FindingsTo is where findings are added that go to a file or, by its name, to a
// store. What goes to a store is checked against that store.
func FindingsTo(e desk.Env, to string, w *Where) (FindingsPlace, error) {
	current := filepath.Join(to, "current")
	_, err := os.Stat(current)
	if isStore := err == nil; to == "" || !isStore && !IsShared(to) {
		w.findings = to
		file, err := findingsFile(e, to)
		return FindingsPlace{FindingFile: file}, err
	}
	if len(w.Data) > 0 || w.Store != "" && w.Store != to {
		return FindingsPlace{}, desk.Usagef("what goes to a store is checked against it; leave out --data and --store")
	}
	w.Store = to
	if IsShared(to) {
		return FindingsPlace{loader.FindingFile{Path: WithoutPassword(to)}, to, true}, nil
	}
	return FindingsPlace{FindingFile: loader.FindingFile{Path: filepath.Join(to, StoreFindings)}, shared: true}, nil
}

// Add adds findings and withdrawals as loader.FindingFile does.
func (p FindingsPlace) Add(ctx context.Context, findings, withdrawals []string) (added []string, err error) {
	if p.Server == "" {
		return p.FindingFile.Add(ctx, findings, withdrawals)
	}
	var notes []store.Note
	for i, items := range [][]string{findings, withdrawals} {
		apart, err := loader.FindingItems(items, i == 1)
		if err != nil {
			return nil, err
		}
		for _, item := range apart {
			notes = append(notes, store.Note{List: []string{findingNotes, withdrawalNotes}[i], ID: item.ID, Text: item.Text})
		}
	}
	fresh, err := store.AddNotes(ctx, p.Server, notes, func(held, n store.Note) bool {
		return n.List == withdrawalNotes || loader.SameItem(held.Text, n.Text)
	})
	if errors.Is(err, store.ErrNoteTaken) {
		return nil, fmt.Errorf("%w: %w", err, loader.ErrTaken)
	}
	for _, n := range fresh {
		added = append(added, n.ID)
	}
	return added, err
}

// withStoreFindings lays over a store what was recorded to it.
func withStoreFindings(ctx context.Context, e desk.Env, o Opened, root string) (Opened, error) {
	path := filepath.Join(root, StoreFindings)
	content, err := desk.ReadInput(e, path, findingsLimit)
	if errors.Is(err, fs.ErrNotExist) {
		return o, nil
	}
	if err != nil {
		return o, errors.Join(fmt.Errorf("read %s: %w", filepath.ToSlash(path), desk.Reason(err)), o.Close())
	}
	return layStoreFindings(ctx, e, o, path, content)
}

// withNotes is withStoreFindings for a store on a server.
func withNotes(ctx context.Context, e desk.Env, o Opened, address string) (Opened, error) {
	is, err := o.Standing(ctx)
	if err != nil {
		return o, errors.Join(err, o.Close())
	}
	o.Store = o.Known(WithoutPassword(address) + " " + is.Records)
	if is.Notes == "" {
		return o, nil
	}
	content, err := keptNotes(e, address, is.Notes, func() ([]byte, error) { return NoteText(ctx, o.Store) })
	if err != nil {
		return o, errors.Join(err, o.Close())
	}
	return layStoreFindings(ctx, e, o, StoreFindings, content)
}

// NotesFolder is where, in the cache folder, what servers keep of findings is kept.
const NotesFolder = "notes"

// keptNotes is the text of a server's findings: as it was read before, where that stands
// yet, else read now. What can't be kept is read for each question.
func keptNotes(e desk.Env, address, standing string, read func() ([]byte, error)) ([]byte, error) {
	path := ""
	if dir, err := e.CacheDir(); err == nil {
		sum := sha256.Sum256([]byte(WithoutPassword(address)))
		path = filepath.Join(dir, NotesFolder, hex.EncodeToString(sum[:12]))
		if text, err := os.ReadFile(path); err == nil {
			if is, content, ok := bytes.Cut(text, []byte("\n")); ok && string(is) == standing {
				return content, nil
			}
		}
	}
	content, err := read()
	if err == nil && path != "" && len(content) > FewFindings && os.MkdirAll(filepath.Dir(path), 0o755) == nil {
		_ = disk.Replace(path, append([]byte(standing+"\n"), content...), 0o600)
	}
	return content, err
}

func NoteText(ctx context.Context, s *store.Store) ([]byte, error) {
	notes, err := s.Notes(ctx)
	var findings, withdrawals []string
	for _, n := range notes {
		if n.List == findingNotes {
			findings = append(findings, n.Text)
		} else {
			withdrawals = append(withdrawals, n.Text)
		}
	}
	return loader.FindingsFileText(findings, withdrawals), err
}

func layStoreFindings(ctx context.Context, e desk.Env, o Opened, path string, content []byte) (Opened, error) {
	mine, err := ReadFindingsText(ctx, e, o.Store, path, content)
	if err != nil {
		return o, errors.Join(fmt.Errorf("read what was recorded to the store: %w", err), o.Close())
	}
	below := o.Identity()
	o = o.over(mine)
	o.Mine = nil // the lines of the user's own file are meant, and not those of the store's
	if below != "" {
		sum := sha256.Sum256(content)
		o.Store = o.Known(below + " " + hex.EncodeToString(sum[:16]))
	}
	return o, nil
}
