package mating

import (
	"testing"

	"matewell/graph"
)

// The room is geometry, of measured radii; 10 mm to grow: common practice, no source.
func TestTyreUnderMudguard(t *testing.T) {
	guard := func(width, radius string) Side { return made("guard-room", "width", width, "radius", radius) }
	tyre := func(section, radius string) Side {
		return made("tyre", "size", "3.25-19", "section", section, "radius", radius)
	}
	built := GuardRoomCase{Guard: guard("110 mm", "345 mm"), WasGuard: guard("110 mm", "345 mm"),
		Tyre: tyre("83 mm", "328 mm"), WasTyre: tyre("83 mm", "328 mm")}
	with := func(change func(*GuardRoomCase)) GuardRoomCase {
		in := built
		change(&in)
		return in
	}
	for _, tt := range []struct {
		name string
		in   GuardRoomCase
		want graph.Verdict
		says string
	}{
		{"as built", built, yes, "no less than as built"},
		{"a guard closer than the tyre", with(func(in *GuardRoomCase) { in.Guard = guard("110 mm", "325 mm") }), no,
			"3 mm too large for the room above it"},
		{"a tyre taller than the guard", with(func(in *GuardRoomCase) { in.Tyre = tyre("83 mm", "346 mm") }), no, "1 mm too"},
		{"a tyre wider than the guard", with(func(in *GuardRoomCase) { in.Tyre = tyre("112 mm", "328 mm") }), no,
			"on either side"},
		{"a closer guard with room to grow", with(func(in *GuardRoomCase) { in.Guard = guard("110 mm", "338 mm") }), yes,
			"10 mm of room above"},
		{"near miss: a closer guard", with(func(in *GuardRoomCase) { in.Guard = guard("110 mm", "337 mm") }), open,
			"only 9 mm of room above it, 17 mm as built"},
		{"the same under a sprung guard", with(func(in *GuardRoomCase) {
			in.Guard, in.Sprung = guard("110 mm", "338 mm"), true
		}), open, "only 10 mm"},
		{"a guard far above its tyre", with(func(in *GuardRoomCase) { in.Guard = guard("110 mm", "470 mm") }), open,
			"125 mm higher"},
		{"near miss: 10 mm higher", with(func(in *GuardRoomCase) { in.Guard = guard("110 mm", "355 mm") }), yes, "no less"},
		{"far above it, on the subframe", with(func(in *GuardRoomCase) {
			in.Guard, in.Sprung = guard("110 mm", "470 mm"), true
		}), yes, "no less"},
		{"as tight as it was built", with(func(in *GuardRoomCase) {
			in.WasGuard, in.Guard = guard("110 mm", "333 mm"), guard("110 mm", "332 mm")
		}), yes, "4 mm of room"},
		{"nobody measured the one built in", with(func(in *GuardRoomCase) { in.WasGuard = guard("", "") }), yes, "17 mm"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := the(t, JudgeGuardRoom(tt.in), "tyre under guard")
			if c.Verdict != tt.want || !contains(c.Why, tt.says) {
				t.Errorf("%s (%s), want %s saying %q", c.Verdict, c.Why, tt.want, tt.says)
			}
		})
	}
	for name, in := range map[string]GuardRoomCase{
		"no room known": with(func(in *GuardRoomCase) { in.Guard = guard("110 mm", "") }),
		"no size known": with(func(in *GuardRoomCase) { in.Tyre = made("tyre") }),
	} {
		if got := JudgeGuardRoom(in); len(got) != 0 {
			t.Errorf("%s: %v, want no check", name, got)
		}
	}
}
