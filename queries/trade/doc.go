// Package trade holds the formulas of the trade as pure functions: hydraulics,
// tyres, speedometers, gearing, chains, steering geometry and lock, shocks,
// stands, cables, pedals, hoses, wires, threads, torques and frame numbers.
//
// It knows no graph, no part and no machine: numbers go in, numbers come out,
// in the units a workshop uses (mm, N, N m, bar, cm3, km/h, degrees, percent),
// each named in the doc comment. Every function says its formula, its source,
// where it holds and what it refuses.
//
// What holds for all of them: an input that can't be (a bore of nothing, a
// length of NaN) gives an error that names it, and a zero result, never NaN and never
// infinity. A measure that must be above zero is taken from 0.000001 to
// 1,000,000 in its unit, which no motorcycle leaves and which keeps every
// formula inside what float64 can hold. Results are not rounded.
package trade
