// Package disk does with files what must not go wrong half-way, alike on every
// system: one file takes another's place in one step, what was written is on
// disk when a call returns, processes take turns, and a folder is removed that
// another program looked into a moment ago. It knows nothing of parts, and is
// the only place that knows how systems differ in this.
package disk
