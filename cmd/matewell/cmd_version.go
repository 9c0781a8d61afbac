package main

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"time"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
)

// release and released are the version and the date that .ci/programs puts
// into a program; empty in any other build.
var release, released string

func newVersionCmd(e desk.Env) *cobra.Command {
	return &cobra.Command{
		Use:     "version",
		Short:   "Print which matewell this is",
		Long:    "Version prints which matewell this is, of which day, and what it was built with.",
		Example: "  matewell version",
		Args:    wants(0, 0, "no argument"),
		RunE:    func(*cobra.Command, []string) error { return runVersion(e) },
	}
}

func runVersion(e desk.Env) error {
	version, date := release, released
	if version == "" {
		info, _ := debug.ReadBuildInfo()
		version, date = builtFrom(info)
	}
	if date != "" {
		date = " of " + date
	}
	_, err := fmt.Fprintf(e.Out, "matewell %s%s, built with %s for %s/%s\n",
		version, date, runtime.Version(), runtime.GOOS, runtime.GOARCH)
	return err
}

// builtFrom is the module's version, or the revision it was built from, or
// "unreleased" when the build did not say; with the day of that revision.
func builtFrom(info *debug.BuildInfo) (version, date string) {
	if info == nil {
		return "unreleased", ""
	}
	version = "unreleased"
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			version = "unreleased, revision " + s.Value
		case "vcs.time":
			if when, err := time.Parse(time.RFC3339, s.Value); err == nil {
				date = when.UTC().Format(time.DateOnly)
			}
		}
	}
	if v := info.Main.Version; v != "" && v != "(devel)" {
		version = v
	}
	return version, date
}
