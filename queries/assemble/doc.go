// Package assemble tells in which order a machine goes together, and what has to
// come off before something else can.
//
// Arrange is pure: places, joints and what must be on before what. Read makes
// its case from a machine. What is bought, made or judged it doesn't know.
package assemble
