// Package drawing draws answers as SVG: a swap as boxes in lanes, what changes at points,
// lines and rows to scale, the years of a model as bars, and the sizes of hardware at full
// size. The doors are Swap, Figures, Years and Gauge, each of which gives whole pages.
//
// It reads no graph, writes no file and judges nothing: what it draws is an answer.
package drawing

// Mark stands near the beginning of every page, so that a file is known as ours.
const Mark = "written by matewell"
