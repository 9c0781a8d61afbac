package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"net"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"github.com/jackc/pgservicefile"
	"github.com/lib/pq"
)

// errAddress says that an address can't be taken apart. What is wrong with it is
// not said, since a password with a slash or an at sign in it would be part of
// that.
var errAddress = errors.New("the address can't be read: write postgres://USER@HOST/DATABASE, and in a password " +
	"%25 for %, %2F for /, %3A for :, %3F for ?, %40 for @")

// sqlAddress is an address of a server, with what the environment adds to it.
type sqlAddress struct {
	url.URL
	// chosen says what "prefer" or "allow" came to, for people; empty where the address
	// says it, or the server is this very machine.
	chosen string
}

// parseAddress reads an address and adds what a service of that name has
// (service=NAME or PGSERVICE, in PGSERVICEFILE or ~/.pg_service.conf). PGPASSWORD
// and the password file are the driver's business.
func parseAddress(text string) (*sqlAddress, error) {
	u, err := url.Parse(text)
	if err != nil || u.Opaque != "" || strings.Contains(u.RawQuery, "@") { // a password with a question mark in it
		return nil, errAddress
	}
	a := &sqlAddress{URL: *u}
	q := a.Query()
	service := q.Get("service")
	if service == "" {
		service = os.Getenv("PGSERVICE")
	}
	q.Del("service")
	if service != "" {
		if err := a.addService(service, q); err != nil {
			return nil, err
		}
	}
	a.RawQuery = q.Encode()
	return a, nil
}

// addService adds the settings of a service that the address leaves open.
func (a *sqlAddress) addService(name string, q url.Values) error {
	file := os.Getenv("PGSERVICEFILE")
	if file == "" {
		home, err := os.UserHomeDir()
		if err != nil {
			return fmt.Errorf("service %q: %w", name, err)
		}
		file = filepath.Join(home, ".pg_service.conf")
	}
	services, err := pgservicefile.ReadServicefile(file)
	if err != nil {
		return fmt.Errorf("service %q: %w", name, err)
	}
	service, err := services.GetService(name)
	if err != nil {
		return fmt.Errorf("service %q is not in %s", name, file)
	}
	host, port := a.Hostname(), a.Port()
	for key, value := range service.Settings {
		switch key {
		case "host":
			host = firstOf(host, value)
		case "port":
			port = firstOf(port, value)
		case "dbname":
			if strings.Trim(a.Path, "/") == "" {
				a.Path = "/" + value
			}
		case "user":
			if a.User.Username() == "" {
				password, given := a.User.Password()
				a.User = url.User(value)
				if given {
					a.User = url.UserPassword(value, password)
				}
			}
		default:
			if !q.Has(key) {
				q.Set(key, value)
			}
		}
	}
	if strings.HasPrefix(host, "/") { // a socket
		q.Set("host", host)
		host = ""
	}
	a.Host = host
	if port != "" {
		a.Host += ":" + port
	}
	return nil
}

func firstOf(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

// public is the address without its password.
func (a *sqlAddress) public() string {
	u := a.URL
	q := u.Query()
	if q.Has("password") {
		q.Set("password", "xxxxx")
		u.RawQuery = q.Encode()
	}
	return u.Redacted()
}

// hide takes the password out of an error's text, wherever a driver puts it.
func (a *sqlAddress) hide(err error) error {
	if err == nil {
		return nil
	}
	password, _ := a.User.Password()
	text := err.Error()
	for _, secret := range []string{password, a.Query().Get("password")} {
		if secret != "" && strings.Contains(text, secret) {
			return errors.New(strings.ReplaceAll(text, secret, "xxxxx"))
		}
	}
	return err
}

// reach connects to the server. It decides what the driver doesn't know: "prefer", which
// is the usual mode, takes TLS where the server has it, "allow" where it wants it.
func (a *sqlAddress) reach(ctx context.Context) (*sql.DB, error) {
	q := a.Query()
	mode := firstOf(q.Get("sslmode"), firstOf(os.Getenv("PGSSLMODE"), "prefer"))
	if mode != "prefer" && mode != "allow" {
		return a.connect(ctx)
	}
	order := []string{"require", "disable"}
	if mode == "allow" {
		order = []string{"disable", "require"}
	}
	var db *sql.DB
	var err error
	for _, try := range order {
		q.Set("sslmode", try)
		a.RawQuery = q.Encode()
		if db, err = a.connect(ctx); err == nil || !errors.Is(err, pq.ErrSSLNotSupported) && mode == "prefer" {
			a.chosen = wordsOn(firstOf(q.Get("host"), firstOf(a.Hostname(), os.Getenv("PGHOST"))), try)
			return db, err
		}
	}
	return nil, err
}

// wordsOn says of a connection to a host whether others can read along.
func wordsOn(host, mode string) string {
	ip := net.ParseIP(host)
	switch {
	case host == "", host == "localhost", strings.HasPrefix(host, "/"), ip != nil && ip.IsLoopback():
		return ""
	case mode == "disable":
		return host + " is reached without TLS: whoever is on the way can read along"
	}
	return host + " is reached by TLS; whether it is the right server was not checked, which sslmode=verify-full does"
}

// connect makes a first connection, which stays for those who ask.
func (a *sqlAddress) connect(ctx context.Context) (*sql.DB, error) {
	u, q := a.URL, a.Query()
	if !q.Has("binary_parameters") {
		q.Set("binary_parameters", "yes") // a query goes to the server with its values, not in two turns
	}
	u.RawQuery = q.Encode()
	connector, err := pq.NewConnector(u.String()) // reads the environment now, and not for each connection
	if err != nil {
		return nil, a.hide(err)
	}
	db := sql.OpenDB(connector)
	conn, err := db.Conn(ctx)
	if err != nil {
		return nil, a.hide(errors.Join(err, db.Close()))
	}
	return db, conn.Close() // to where the next one takes it
}

// environment is held by whoever changes the process's for a while.
var environment sync.Mutex

// withoutService runs something while the environment names no service: the
// driver gives up when it does.
func withoutService(do func() error) error {
	environment.Lock()
	defer environment.Unlock()
	for _, name := range []string{"PGSERVICE", "PGSERVICEFILE"} {
		if value, set := os.LookupEnv(name); set {
			os.Unsetenv(name)
			defer os.Setenv(name, value)
		}
	}
	return do()
}
