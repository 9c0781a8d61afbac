// Package intake puts what a parts list says into a data folder's own files:
// numbers with their kind and price, where each belongs on a model, what lies in
// the boxes and bags of a bike. What can't be placed goes into a file of its own,
// with a reason a line. Before anything is written the folder is checked with
// the new files in it, and a row that would be a fault is left out with the
// fault as its reason.
//
// It does not know how a list is read; the package partslist does that.
package intake
