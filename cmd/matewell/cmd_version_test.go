package main

import (
	"runtime/debug"
	"testing"
)

func TestBuiltFrom(t *testing.T) {
	commit := []debug.BuildSetting{{Key: "vcs.revision", Value: "0123abc"}, {Key: "vcs.time",
		Value: "2026-11-28T23:30:00-02:00"}}
	tests := []struct {
		name          string
		info          *debug.BuildInfo
		version, date string
	}{
		{"says nothing", nil, "unreleased", ""},
		{"no repository", &debug.BuildInfo{Main: debug.Module{Version: "(devel)"}}, "unreleased", ""},
		{"a commit", &debug.BuildInfo{Settings: commit}, "unreleased, revision 0123abc", "2026-11-29"},
		{"a version", &debug.BuildInfo{Main: debug.Module{Version: "v1.2.0"}, Settings: commit}, "v1.2.0", "2026-11-29"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if version, date := builtFrom(tt.info); version != tt.version || date != tt.date {
				t.Errorf("%q of %q, want %q of %q", version, date, tt.version, tt.date)
			}
		})
	}
}
