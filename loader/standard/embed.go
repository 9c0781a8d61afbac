// Package standard holds the kinds of part that the trade knows: what each is,
// which features it has, which of them every part must have, and which of their
// dimensions decide nothing. Every data set may use them, and add to them by
// writing the name of a kind again.
//
// It only hands out the files; package loader reads them.
package standard

import (
	"embed"
	"io/fs"
)

//go:embed *.yaml
var files embed.FS

// FS gives the files of the set as a read-only file system.
func FS() fs.FS { return files }
