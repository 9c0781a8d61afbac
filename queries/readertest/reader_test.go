package readertest_test

import (
	"testing"

	"matewell/graph"
	"matewell/graph/store/storetest"
	"matewell/queries/readertest"
)

// TestContract holds the plain reader to the contract that every store keeps.
func TestContract(t *testing.T) {
	storetest.Run(t, func(_ *testing.T, facts graph.Facts) graph.Reader { return readertest.New(facts) })
}
