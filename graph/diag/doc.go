// Package diag holds places in files, and faults found there, as data. It
// knows only the standard library, so that every layer may use it.
package diag
