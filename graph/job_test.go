package graph

import (
	"reflect"
	"testing"
)

// A job for any machine stands where one of its kinds sits and no job written for the
// model rebuilds the place; one written for places stands where one of them is.
func TestJobsAt(t *testing.T) {
	caliper := func(name string) Position {
		return Position{ID: PositionID("holm-400:" + name), Kind: "caliper"}
	}
	front, rear, chain := caliper("front-brake/caliper"), caliper("rear-brake/caliper"),
		Position{ID: "holm-400:drive/chain", Kind: "chain"}
	anyCaliper := Job{ID: "any-caliper", Kinds: []KindID{"caliper", "caliper-half"}}
	own := Job{ID: "front", Places: []PositionID{front.ID, "other-500:front-brake/caliper"}}
	tests := []struct {
		name   string
		jobs   []Job
		places []Position
		want   map[JobID][]PositionID
	}{
		{"both places", []Job{anyCaliper}, []Position{front, chain, rear},
			map[JobID][]PositionID{"any-caliper": {front.ID, rear.ID}}},
		{"one has a job of its own", []Job{anyCaliper, own}, []Position{front, rear},
			map[JobID][]PositionID{"any-caliper": {rear.ID}, "front": own.Places}},
		{"all have", []Job{anyCaliper, own}, []Position{front, chain}, map[JobID][]PositionID{"front": own.Places}},
		{"no such kind", []Job{anyCaliper}, []Position{chain}, map[JobID][]PositionID{}},
		{"of another model", []Job{{ID: "front", Places: []PositionID{"other-500:front-brake/caliper"}}},
			[]Position{front}, map[JobID][]PositionID{}},
		{"no place at all", []Job{anyCaliper, own}, nil, map[JobID][]PositionID{}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := map[JobID][]PositionID{}
			for _, j := range JobsAt(tt.jobs, tt.places) {
				got[j.ID] = j.Places
			}
			if !reflect.DeepEqual(got, tt.want) {
				t.Errorf("got %v, want %v", got, tt.want)
			}
		})
	}
	if len(anyCaliper.Places) > 0 {
		t.Error("the job that was handed in has places now")
	}
}
