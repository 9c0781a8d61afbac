//go:build race

package plan

// raceDetector is true in a test binary built with -race.
const raceDetector = true
