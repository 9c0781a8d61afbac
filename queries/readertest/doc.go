// Package readertest is the plainest graph.Reader there is: lists and maps over a
// graph.Facts. Tests of queries use it where no store is wanted. It keeps the
// contract that stores keep, which is checked by loops over the same facts.
package readertest
