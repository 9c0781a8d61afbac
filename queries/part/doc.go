// Package part answers what is known of a part: its card (Part), the parts that a
// measurement points to (Find), which machine a number belongs to (Identify) and
// which machines use it (Where).
package part
