// Package datademo holds the demonstration data set, embedded in the binary.
// Makers, models, part numbers, findings and machines in it are invented, for
// demonstration only: never order or fit a real part by it. What is real in it,
// such as bearing and thread sizes, is named with its source in SOURCES.md.
//
// It only hands out the files; package loader reads them.
package datademo

import (
	"embed"
	"io/fs"
)

//go:embed *.yaml *.csv models parts findings bikes jobs
var files embed.FS

// FS gives the demonstration data set as a read-only file system, its root the
// folder that holds sources.yaml.
func FS() fs.FS { return files }
