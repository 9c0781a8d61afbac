// Package partslist reads parts lists and inventories as people keep them: CSV
// files of any separator, encoding and line end, and spreadsheets. It finds the
// heading, tells by heading and content which column holds what, and takes each
// row apart: number, name, quantity, price, years, state, size of hardware. What
// can't be told is left out and said so, row by row; nothing is guessed at.
//
// It does not know data folders, models or places: the package intake puts what
// was read where it belongs.
package partslist
