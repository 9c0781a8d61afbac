// Package readertest is the plainest graph.Reader there is: loops over a
// graph.Facts. Tests of queries use it where no store is wanted, and tests of
// a store compare with it. It is slow on purpose: nothing in it is clever
// enough to be wrong.
package readertest
