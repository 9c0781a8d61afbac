package storetest

import (
	"context"
	"database/sql"
	"fmt"
	"net/url"
	"os"
	"sync/atomic"
	"testing"
	"time"
)

// PostgresURL is the address of a server to test with. Without one the test is
// skipped by name, or fails where nothing may be skipped.
func PostgresURL(t testing.TB) string {
	t.Helper()
	address := os.Getenv("MATEWELL_TEST_POSTGRES")
	if address == "" {
		missing(t, "MATEWELL_TEST_POSTGRES is not set")
	}
	db, err := sql.Open("postgres", address)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	ctx, cancel := context.WithTimeout(context.Background(), 5*time.Second)
	defer cancel()
	if err := db.PingContext(ctx); err != nil {
		missing(t, err.Error())
	}
	return address
}

func missing(t testing.TB, why string) {
	t.Helper()
	if os.Getenv("MATEWELL_NO_SKIP") == "1" {
		t.Fatalf("PostgreSQL is needed: %s", why)
	}
	t.Skipf("PostgreSQL is not there: %s", why)
}

var schemas atomic.Int64

// EmptySchema gives the address of a schema of its own, dropped afterwards.
func EmptySchema(t testing.TB) string {
	t.Helper()
	address := PostgresURL(t)
	name := fmt.Sprintf("matewell_test_%d_%d", os.Getpid(), schemas.Add(1))
	run := func(statement string) {
		db, err := sql.Open("postgres", address)
		if err != nil {
			t.Fatal(err)
		}
		defer db.Close()
		if _, err := db.Exec(statement); err != nil {
			t.Fatal(err)
		}
	}
	run("CREATE SCHEMA " + name)
	t.Cleanup(func() { run("DROP SCHEMA " + name + " CASCADE") })
	u, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	q := u.Query()
	q.Set("search_path", name)
	u.RawQuery = q.Encode()
	return u.String()
}
