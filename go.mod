module matewell

go 1.26

require (
	// This version sorts below v0.7.7 but is newer: keep it pinned. A dependency
	// that asks for v0.7.7 would silently swap the API under graph/store.
	github.com/cayleygraph/cayley v0.7.7-0.20240706181042-81dcd7d73e45
	github.com/cayleygraph/quad v1.3.0
)
