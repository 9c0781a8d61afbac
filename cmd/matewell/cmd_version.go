package main

import (
	"fmt"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"
)

func newVersionCmd(e env) *cobra.Command {
	return &cobra.Command{
		Use:     "version",
		Short:   "Print which matewell this is",
		Long:    "Version prints which matewell this is, and what it was built with.",
		Example: "  matewell version",
		Args:    wants(0, 0, "no argument"),
		RunE:    func(*cobra.Command, []string) error { return runVersion(e) },
	}
}

func runVersion(e env) error {
	_, err := fmt.Fprintf(e.Out, "matewell %s, built with %s for %s/%s\n",
		version(), runtime.Version(), runtime.GOOS, runtime.GOARCH)
	return err
}

// version is the module's version, or the revision it was built from, or
// "unreleased" when the build did not say.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unreleased"
	}
	if v := info.Main.Version; v != "" && v != "(devel)" {
		return v
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" {
			return "unreleased, revision " + s.Value
		}
	}
	return "unreleased"
}
