package readertest

import (
	"cmp"
	"slices"

	"matewell/graph"
)

// keysOf are the keys by which a part is found.
func keysOf(p graph.Part) []string {
	own := []string{graph.NumberKey(string(p.ID)), graph.NumberKey(p.Number.Text), p.Number.CoreKey()}
	for _, a := range p.Aliases {
		own = append(own, graph.NumberKey(a.Text))
	}
	return own
}

// byKeys are the parts of the first n keys that are wanted; of all for n of 0.
func byKeys(r *Reader, wantedKey func(string) bool, n int) []graph.PartID {
	var found [][2]string // key, part
	for _, p := range r.parts.items {
		for _, key := range p.Keys() {
			if wantedKey(key) {
				found = append(found, [2]string{key, string(p.ID)})
			}
		}
	}
	slices.SortFunc(found, func(a, b [2]string) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	if n > 0 {
		found = found[:min(n, len(found))]
	}
	wanted := map[graph.PartID]bool{}
	for _, entry := range found {
		wanted[graph.PartID(entry[1])] = true
	}
	return partIDs(r, func(p graph.Part) bool { return wanted[p.ID] })
}

func hasEach(words, own []string) bool {
	return !slices.ContainsFunc(words, func(word string) bool {
		return !slices.ContainsFunc(own, func(h string) bool { return graph.WordMeans(word, h) })
	})
}

// partIDs are the identities of the parts that are wanted, sorted.
func partIDs(r *Reader, wanted func(graph.Part) bool) []graph.PartID {
	var ids []graph.PartID
	for _, p := range r.parts.items {
		if wanted(p) {
			ids = append(ids, p.ID)
		}
	}
	slices.Sort(ids)
	return slices.Compact(ids)
}
