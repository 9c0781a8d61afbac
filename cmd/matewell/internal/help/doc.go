// Package help writes the pages of help that tell of no single command: how answers are
// read, how data files are written, and what each kind of part and of feature must measure.
// The last two are read from the standard set, so that they say what the program does.
package help
