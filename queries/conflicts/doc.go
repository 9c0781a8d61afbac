// Package conflicts lists where sources contradict one another, or the
// dimensions. The door is Conflicts.
package conflicts
