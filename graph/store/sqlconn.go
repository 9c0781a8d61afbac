package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"io"
	"sync"

	"github.com/lib/pq"
)

// oneConn is the name of a driver that is the server's own, but for the connection with
// which the server was reached: whoever opens one to the same address next gets that. To
// make a connection takes longer than most questions do once it is there.
const oneConn = "matewell-postgres"

// registerOneConn makes it known to the standard library, whose list is the process's.
var registerOneConn = sync.OnceFunc(func() { sql.Register(oneConn, &reached) })

// reached are the connections that wait to be taken over.
var reached reachedConns

type reachedConns struct {
	lock    sync.Mutex
	waiting map[string]driver.Conn // by address
}

// Open takes over the connection to an address that waits, or makes one.
func (r *reachedConns) Open(address string) (driver.Conn, error) {
	if c := r.take(address); c != nil {
		return c, nil
	}
	return pq.Open(address)
}

func (r *reachedConns) take(address string) driver.Conn {
	r.lock.Lock()
	defer r.lock.Unlock()
	c := r.waiting[address]
	delete(r.waiting, address)
	return c
}

// leave has a connection wait for whoever opens one to its address; what nobody takes
// drop closes.
func (r *reachedConns) leave(address string, c driver.Conn) {
	r.lock.Lock()
	defer r.lock.Unlock()
	if r.waiting == nil {
		r.waiting = map[string]driver.Conn{}
	}
	if old := r.waiting[address]; old != nil {
		_ = old.Close()
	}
	r.waiting[address] = c
}

func (r *reachedConns) drop(address string) {
	if c := r.take(address); c != nil {
		_ = c.Close()
	}
}

// connected makes a connection.
func connected(ctx context.Context, address string) (driver.Conn, error) {
	c, err := pq.NewConnector(address)
	if err != nil {
		return nil, err
	}
	return c.Connect(ctx)
}

// undefinedTable is PostgreSQL's code of that error (its manual, appendix A).
const undefinedTable = "42P01"

// holdsQuads asks over a connection whether there are the tables, and anything in them.
func holdsQuads(ctx context.Context, c driver.Conn) (tables, some bool, err error) {
	asks, ok := c.(driver.QueryerContext)
	if !ok {
		return false, false, errors.New("the driver of the server takes no queries")
	}
	rows, err := asks.QueryContext(ctx, "SELECT EXISTS (SELECT 1 FROM quads)", nil)
	var fault *pq.Error
	if errors.As(err, &fault) && fault.Code == undefinedTable {
		return false, false, nil
	}
	if err != nil {
		return false, false, err
	}
	defer rows.Close()
	row := make([]driver.Value, 1)
	if err := rows.Next(row); err != nil && !errors.Is(err, io.EOF) {
		return false, false, err
	}
	some, _ = row[0].(bool)
	return true, some, nil
}
