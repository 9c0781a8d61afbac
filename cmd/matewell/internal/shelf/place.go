package shelf

import (
	"net/url"
	"regexp"
	"strings"
	"sync"

	"matewell/cmd/matewell/internal/desk"
)

// A store is a folder, or a database that others may use too.

// IsShared reports whether a store is a database.
func IsShared(where string) bool {
	return strings.HasPrefix(where, "postgres://") || strings.HasPrefix(where, "postgresql://")
}

// CheckPlace refuses what looks like an address, or like the settings of a
// connection, by which no store is reached as it is written: a folder of that
// name would hold the password in its name. Nothing of it is repeated but the word
// that begins it. A path that begins with a dot or one slash is always a folder.
func CheckPlace(where string) error {
	if IsShared(where) || isPath().MatchString(where) {
		return nil
	}
	scheme, _, found := strings.Cut(where, ":/")
	if found && len(scheme) > 1 && plainWord().MatchString(scheme) {
		return desk.Usagef("no store is reached by %q; write postgres://USER@HOST/DATABASE, or the name of a folder",
			scheme+":")
	}
	if addressLike().MatchString(where) {
		return desk.Usagef("that reads like the address of a database, or the settings for one, and no store is reached " +
			"that way; write postgres://USER@HOST/DATABASE, or the name of a folder, with ./ before one that reads so")
	}
	return nil
}

// CheckFolder refuses the address of a store, and what reads like one, where a folder to
// write into belongs: what names it, as "--to".
func CheckFolder(what, where string) error {
	if IsShared(where) {
		return desk.Usagef("%s is a folder, and that is the address of a store", what)
	}
	return CheckPlace(where)
}

// Lazily is a form that is made when it is first read by, and once: every start of the
// program would pay for it otherwise.
func Lazily(form string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(form) })
}

var (
	// isPath is what begins as a path does: ./x, ../x, /x, C:\x, \\server\x.
	isPath    = Lazily(`^(\.{1,2}([/\\]|$)|/([^/]|$)|[A-Za-z]:[/\\]|\\\\)`)
	plainWord = Lazily(`^[A-Za-z][A-Za-z0-9+_-]*$`)
	// addressLike is a host with a user or a port, what begins as the name of a
	// scheme for databases and slashes or a colon behind it, and settings.
	addressLike = Lazily(`(?i)//[^/]*@|:[^/\\]*@|^[^/\\]+@[^/\\]+([:/]|$)|^[^/\\]+:\d+(/|$)|` +
		`^(post|pg|psql|sql|cockroach|crdb)[a-z]*(:|//)|^//|` +
		`(^|[\s;&?])(host|hostaddr|port|user|username|uid|password|passwd|pwd|dbname|database|db|service|server|sslmode|` +
		`passfile|dsn)\s*=`)
)

var (
	// inAddress is what stands between a user's name and the host of an address, also
	// of one with a slash too few. A password may hold spaces and an at sign behind the
	// name of a scheme; without one, only what has no slash is taken for a user and a
	// password: the names of answers have colons and at signs too.
	inAddress = Lazily(`(?is)((?://|\b(?:post|pg|psql|sql|mysql|cockroach|crdb)[a-z]*[:;]/?)[^/@\s:]*:).+@|` +
		`(/[^/@\s:]*:)\S+@|((?:^|[\s"'=(])[^/@\s:"'=(]+:)[^/\s]+@`)
	// inSetting is a password given by its name, in quotes as libpq reads them too; without
	// them it is all up to the next space, or to the mark behind the word that is the error's.
	inSetting = Lazily(`(?i)\b((?:ssl)?(?:password|passwd|pwd)\s*=\s*)` +
		`(?:'(?:[^'\\]|\\.)*'?|\\?"[^"]*"?|(?:\\.|[^\s\\])*(?:\\.|[^\s\\:"'.)]))`)
)

// WithoutSecrets is the text of an error without the passwords of addresses in it,
// wherever one was typed: also where a folder or a name belongs.
func WithoutSecrets(text string) string {
	return inAddress().ReplaceAllString(inSetting().ReplaceAllString(text, "${1}xxxxx"), "${1}${2}${3}xxxxx@")
}

// WithoutPassword is a store's place as it may be printed.
func WithoutPassword(where string) string {
	if !IsShared(where) {
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
