// Package measure reads, compares and prints the values a parts drawing
// carries: lengths, torques, threads, year and frame-number ranges. It knows
// nothing of parts or files.
package measure
