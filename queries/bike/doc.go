// Package bike answers for a user's own machine: what it lacks, what is over, what
// was found otherwise than in the book, and where the bolts of its bags go. The
// doors are Bike, BikeMissing, BikeLeftover, BikeFound and BikeBags.
package bike
