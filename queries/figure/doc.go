// Package figure gives the measures that a change of parts can be drawn from: a
// panel's points old over new, a line's path against its length at both locks, a row
// along an axle. They are the numbers that the rules judge by; it judges nothing.
// The door is ForSwap, which asks package examine.
package figure
