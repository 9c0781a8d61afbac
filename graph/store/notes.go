package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"github.com/lib/pq"
)

// Note is a text that somebody adds to a store on a server, beside its records: a
// load leaves it as it is. Within a list each has an identity of its own.
type Note struct{ List, ID, Text string }

// ErrNoteTaken says that another note of that identity is there.
var ErrNoteTaken = errors.New("another note is called so already")

// The statements for notes. Whoever adds some holds the lock until its transaction
// ends; where a server has no such locks, the key of the table parts two who add one
// note.
const (
	standing = "SELECT to_regclass('quads')::oid::text || ' ' || coalesce((SELECT max(horizon) FROM quads), 0)::text, " +
		"to_regclass('matewell_notes')::oid::text"
	notesSum   = "SELECT md5(string_agg(md5(list || item), '' ORDER BY number)), '' FROM matewell_notes"
	notesAll   = "SELECT list, id, item FROM matewell_notes ORDER BY number"
	notesThere = "SELECT to_regclass('matewell_notes') IS NOT NULL"
	notesLock  = "SELECT pg_advisory_xact_lock(728465110)"
	notesTable = "CREATE TABLE IF NOT EXISTS matewell_notes (number BIGSERIAL, list TEXT, id TEXT, item TEXT NOT NULL, " +
		"PRIMARY KEY (list, id))"
	notesHeld = "SELECT id, item FROM matewell_notes WHERE list = $1 AND id = ANY($2)"
	notesAdd  = "INSERT INTO matewell_notes (list, id, item) VALUES ($1, $2, $3)"
)

// Standing tells whether a store on a server, or the notes beside it, were changed: each
// is another text after every change. Whatever writes quads raises the number that they
// are given, which is never given again, and notes are only added. Both are empty for a
// store that is on no server, and Notes where there are none.
type Standing struct{ Records, Notes string }

// AddNotes adds notes to a store on a server, all of them or, with an error, none.
// One that is there already, by same, is not added again; another under its identity
// is ErrNoteTaken. Several may add at once.
func AddNotes(ctx context.Context, address string, notes []Note,
	same func(held, fresh Note) bool) (added []Note, err error) {
	a, err := parseAddress(address)
	if err != nil {
		return nil, fmt.Errorf("store: add to the database: %w", err)
	}
	err = withoutService(func() error {
		db, err := a.reach(ctx)
		if err != nil {
			return err
		}
		defer db.Close()
		added, err = addNotes(ctx, db, notes, same)
		return err
	})
	if err != nil && !errors.Is(err, ErrNoteTaken) {
		err = fmt.Errorf("store: add to %s: %w", a.public(), a.hide(err))
	}
	return added, err
}

func addNotes(ctx context.Context, db *sql.DB, notes []Note, same func(held, fresh Note) bool) ([]Note, error) {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return nil, err
	}
	defer tx.Rollback() // does nothing once it is committed
	if _, err := tx.ExecContext(ctx, notesLock); err != nil {
		return nil, err
	}
	isThere := false // asked first: who may write into the table need not be one who may make it
	if err := tx.QueryRowContext(ctx, notesThere).Scan(&isThere); err != nil {
		return nil, err
	}
	if !isThere {
		if _, err := tx.ExecContext(ctx, notesTable); err != nil {
			return nil, err
		}
	}
	held, err := heldNotes(ctx, tx, notes)
	if err != nil {
		return nil, err
	}
	var added []Note
	for _, n := range notes {
		before, there := held[[2]string{n.List, n.ID}]
		switch {
		case there && !same(before, n):
			return nil, fmt.Errorf("%s: %w", n.ID, ErrNoteTaken)
		case there:
			continue
		}
		if _, err := tx.ExecContext(ctx, notesAdd, n.List, n.ID, n.Text); err != nil {
			return nil, err
		}
		held[[2]string{n.List, n.ID}] = n
		added = append(added, n)
	}
	return added, tx.Commit()
}

// heldNotes are those that are there under the identities of others.
func heldNotes(ctx context.Context, tx *sql.Tx, notes []Note) (map[[2]string]Note, error) {
	ids := map[string][]string{}
	for _, n := range notes {
		ids[n.List] = append(ids[n.List], n.ID)
	}
	held := map[[2]string]Note{}
	for list, ids := range ids {
		rows, err := tx.QueryContext(ctx, notesHeld, list, pq.Array(ids))
		if err != nil {
			return nil, err
		}
		for rows.Next() {
			n := Note{List: list}
			if err := rows.Scan(&n.ID, &n.Text); err != nil {
				return nil, errors.Join(err, rows.Close())
			}
			held[[2]string{list, n.ID}] = n
		}
		if err := errors.Join(rows.Err(), rows.Close()); err != nil {
			return nil, err
		}
	}
	return held, nil
}
