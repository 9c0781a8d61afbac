// Package storetest checks that something behaves as graph.Reader says, over
// facts it is given. Every store runs the whole suite: the test of a new one
// calls Run with a function that builds it.
package storetest
