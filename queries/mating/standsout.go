package mating

// usualOut is how far a bolt usually stands out of its nut or hole, in pitches, and
// moreOut how much further than the one built in it may, in mm: a washer more or less.
// Common practice, no source.
const usualOut, moreOut = 3.0, 3.0
