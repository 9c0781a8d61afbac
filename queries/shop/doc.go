// Package shop makes one list of what is to be got: current numbers, kits and
// packs at the least cost, what is made by its sizes, what work uses up, and
// where to look for what is sold no more. The door is Make, SoldAs for the number that a
// part is sold under now.
//
// What is needed, and whether it goes there, others have found out; it doesn't
// know machines from plans.
package shop
