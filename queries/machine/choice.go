package machine

import (
	"cmp"
	"context"
	"slices"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
)

// choice is the part that a machine is taken to have at a position as built.
type choice struct {
	part   graph.PartID // empty when no source says
	why    string
	source evidence.Source
	others []graph.PartID
}

// rival is one of several parts that sources name at one position of one
// variant.
type rival struct {
	part   graph.PartID
	scheme bool // listed for the scheme of the machine, or for every scheme
	rank   evidence.Rank
	voice  evidence.Source
	cites  []graph.Cite
}

// choices says what sits at each position as built. Of several parts the one
// listed for the machine's colour scheme counts, then the one with the best
// source, then the newest of those that take each other's place, then the one
// with the newest source. The others are named.
func (s *Setup) choices(ctx context.Context, ids []graph.PositionID) (map[graph.PositionID]choice, error) {
	all := map[graph.PositionID][]rival{}
	var cites []graph.Cite
	for _, id := range ids {
		all[id] = s.rivalsAt(id)
		for _, r := range all[id] {
			cites = append(cites, r.cites...)
		}
	}
	if err := s.library.Evidence().Load(ctx, s.library.Reader(), cites); err != nil {
		return nil, err
	}
	var contested []graph.PartID
	for _, id := range ids {
		for i, r := range all[id] {
			voices := s.library.Evidence().Voices(r.cites, &s.Variant)
			if len(voices) > 0 {
				all[id][i].rank, all[id][i].voice = evidence.Together(voices), voices[0]
			}
		}
		if len(all[id]) > 1 {
			contested = append(contested, lists.Mapped(all[id], func(r rival) graph.PartID { return r.part })...)
		}
	}
	newer, err := s.successions(ctx, contested)
	if err != nil {
		return nil, err
	}
	chosen := map[graph.PositionID]choice{}
	for _, id := range ids {
		chosen[id] = chooseRival(all[id], newer)
	}
	return chosen, nil
}

// rivalsAt groups what is listed at a position of the variant by part.
func (s *Setup) rivalsAt(id graph.PositionID) []rival {
	byPart := map[graph.PartID]*rival{}
	for _, f := range s.library.ListedAt(id) {
		if !slices.Contains(f.On, s.Variant.ID) {
			continue
		}
		r := byPart[f.Part]
		if r == nil {
			r = &rival{part: f.Part}
			byPart[f.Part] = r
		}
		r.cites = append(r.cites, f.Said...)
		r.scheme = r.scheme || f.Scheme == "" || f.Scheme == s.Scheme
	}
	var rivals []rival
	for _, part := range lists.KeysOf(byPart) {
		rivals = append(rivals, *byPart[part])
	}
	if slices.ContainsFunc(rivals, func(r rival) bool { return r.scheme }) {
		rivals = lists.Kept(rivals, func(r rival) bool { return r.scheme })
	}
	return rivals
}

// succession says that one part took another's place and each may go where the
// other was.
type succession struct{ old, new graph.PartID }

// successions reads the two-way supersessions among parts.
func (s *Setup) successions(ctx context.Context, parts []graph.PartID) (map[succession]bool, error) {
	newer := map[succession]bool{}
	if len(parts) == 0 {
		return newer, nil
	}
	edges, err := s.library.Reader().SupersessionsOf(ctx, lists.Unique(parts)...)
	for _, e := range edges {
		if e.NewOnOld == graph.Yes && e.OldOnNew == graph.Yes && e.Scope.Covers(s.Variant) {
			newer[succession{e.Old, e.New}] = true
		}
	}
	return newer, err
}

func chooseRival(rivals []rival, newer map[succession]bool) choice {
	if len(rivals) == 0 {
		return choice{why: "no source says what sits here"}
	}
	superseded := func(r rival) int {
		if slices.ContainsFunc(rivals, func(o rival) bool { return newer[succession{r.part, o.part}] }) {
			return 1
		}
		return 0
	}
	slices.SortStableFunc(rivals, func(a, b rival) int {
		return cmp.Or(cmp.Compare(b.rank, a.rank), cmp.Compare(superseded(a), superseded(b)),
			evidence.CompareSources(a.voice, b.voice), cmp.Compare(a.part, b.part))
	})
	best := rivals[0]
	c := choice{part: best.part, why: "listed here", source: best.voice}
	for _, r := range rivals[1:] {
		c.others = append(c.others, r.part)
	}
	slices.Sort(c.others)
	return c
}
