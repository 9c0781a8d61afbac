// Package lists holds the few functions on lists and maps that every question
// needs: it knows nothing of motorcycles.
package lists
