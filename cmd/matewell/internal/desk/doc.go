// Package desk is what a command has before it: the process's streams, clock and folders,
// handed in as an Env so that a test can hand in others; how much memory may be taken; files
// that are read and written for a person; and the errors by which a command says how it
// ended. It knows no question and no store.
package desk
