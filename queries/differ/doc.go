// Package differ answers what differs between two years or variants, and whether
// the parts of each go on the other. The door is Differ.
package differ
