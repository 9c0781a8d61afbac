// Programs makes a matewell for each system, in the folder bin, each with its
// version and date in it, and the sums to check a copy with.
//
//	go run ./.ci/programs [VERSION]
//
// Without a VERSION it is what git calls the last commit; the date is that
// commit's. Without git it is "unreleased", of today.
package main

import (
	"crypto/sha256"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// systems are what matewell is built for: GOOS/GOARCH. All have words of 64
// bits: what a plan costs is counted up to 2^40, past what 32 bits hold.
var systems = []string{
	"windows/amd64", "windows/arm64",
	"darwin/amd64", "darwin/arm64",
	"linux/amd64", "linux/arm64",
	"freebsd/amd64", "freebsd/arm64",
}

func main() {
	if err := makeAll("bin", os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "programs:", err)
		os.Exit(1)
	}
}

func makeAll(dir string, args []string) error {
	version, date := said("describe", "--tags", "--always", "--dirty"), said("log", "-1", "--format=%cs")
	if len(args) > 0 {
		version = args[0]
	}
	if version == "" {
		version = "unreleased"
	}
	if date == "" {
		date = time.Now().UTC().Format(time.DateOnly)
	}
	var sums strings.Builder
	for _, system := range systems {
		name, err := makeOne(dir, system, version, date)
		if err != nil {
			return fmt.Errorf("%s: %w", system, err)
		}
		content, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			return err
		}
		fmt.Fprintf(&sums, "%x  %s\n", sha256.Sum256(content), name)
		fmt.Printf("%s  %.1f MB\n", filepath.Join(dir, name), float64(len(content))/1e6)
	}
	return os.WriteFile(filepath.Join(dir, "SHA256SUMS"), []byte(sums.String()), 0o666)
}

// said is what git answers; empty when it can't be asked, or this is no
// repository.
func said(args ...string) string {
	out, err := exec.Command("git", args...).Output()
	if err != nil {
		return ""
	}
	return strings.TrimSpace(string(out))
}

func makeOne(dir, system, version, date string) (name string, err error) {
	goos, goarch, _ := strings.Cut(system, "/")
	name = "matewell-" + goos + "-" + goarch
	if goos == "windows" {
		name += ".exe"
	}
	build := exec.Command("go", "build", "-trimpath",
		"-ldflags", fmt.Sprintf("-s -w -X 'main.release=%s' -X main.released=%s", version, date),
		"-o", filepath.Join(dir, name), "./cmd/matewell")
	build.Env = append(os.Environ(), "CGO_ENABLED=0", "GOOS="+goos, "GOARCH="+goarch)
	build.Stdout, build.Stderr = os.Stdout, os.Stderr
	return name, build.Run()
}
