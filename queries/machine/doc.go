// Package machine says what sits where on one machine, as built, as found on a
// user's own bike, and after changes. The door is NewSetup: a Setup reads what it
// is asked for through one Library, so that nothing is read twice, and With gives
// the same machine with other parts on. What meets what is for package examine.
package machine
