package store

import (
	"database/sql/driver"
	"testing"
)

// countedConn is a connection that counts how often it was closed.
type countedConn struct {
	driver.Conn
	closed int
}

func (c *countedConn) Close() error { c.closed++; return nil }

// TestConnectionIsTakenOver: the connection with which a server was reached goes to the
// first who opens one to the same address, and to nobody else; what nobody takes is closed.
func TestConnectionIsTakenOver(t *testing.T) {
	var r reachedConns
	one, two := &countedConn{}, &countedConn{}
	r.leave("postgres://h/a", one)
	if c := r.take("postgres://h/b"); c != nil {
		t.Error("a connection to another address was given")
	}
	if c, err := r.Open("postgres://h/a"); c != one || err != nil {
		t.Errorf("got %v, %v, not the one that waited", c, err)
	}
	if c := r.take("postgres://h/a"); c != nil {
		t.Error("a connection was given twice")
	}
	r.leave("postgres://h/a", one)
	r.leave("postgres://h/a", two)
	r.drop("postgres://h/a")
	r.drop("postgres://h/a")
	if one.closed != 1 || two.closed != 1 {
		t.Errorf("closed %d and %d times, not once each", one.closed, two.closed)
	}
}
