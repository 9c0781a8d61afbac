package main

import (
	"net/url"
	"strings"
)

// A store is a folder, or a database that others may use too.

// isShared reports whether a store is a database.
func isShared(where string) bool {
	return strings.HasPrefix(where, "postgres://") || strings.HasPrefix(where, "postgresql://")
}

// checkPlace refuses an address by which no store is reached: a folder of that
// name would hold the password in its name. What looks like an address has a
// scheme of two letters or more, so that C:\parts stays a folder.
func checkPlace(where string) error {
	scheme, _, found := strings.Cut(where, ":/")
	if !found || isShared(where) || len(scheme) < 2 || strings.ContainsAny(scheme, `/\.`) {
		return nil
	}
	return usagef("no store is reached by %q; write postgres://USER@HOST/DATABASE, or the name of a folder", scheme+":")
}

// withoutPassword is a store's place as it may be printed.
func withoutPassword(where string) string {
	if !isShared(where) {
		return where
	}
	u, err := url.Parse(where)
	if err != nil {
		return "the database"
	}
	q := u.Query()
	if q.Has("password") {
		q.Set("password", "xxxxx")
		u.RawQuery = q.Encode()
	}
	return u.Redacted()
}
