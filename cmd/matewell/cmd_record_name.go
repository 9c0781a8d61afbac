package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/page"
	"matewell/cmd/matewell/internal/wording"
	"matewell/graph/disk"
)

func newRecordNameCmd(e desk.Env) *cobra.Command {
	return &cobra.Command{
		Use:   "name [NAME]",
		Short: "Say once who you are, or show it",
		Long: `Name keeps the name that your findings carry. It may be a nickname: it is written
into the file of findings, which you may pass on.`,
		Example: "  matewell record name gull",
		Args:    wants(0, 1, "one name; put quotes around several words"),
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 {
				return setUserName(e, args[0])
			}
			name, err := userName(e)
			if err == nil && name == "" {
				name = "no name is set; set one with: matewell record name NAME"
			}
			if err == nil {
				_, err = fmt.Fprintln(e.Out, name)
			}
			return err
		},
		ValidArgsFunction: nothing,
	}
}

// namePath is where the user's name is kept.
func namePath(e desk.Env) (string, error) {
	dir, err := e.ConfigDir()
	return filepath.Join(dir, "name"), err
}

// userName is the name the user set; empty when none was.
func userName(e desk.Env) (string, error) {
	path, err := namePath(e)
	if err != nil {
		return "", nil // no home, so no name was set there
	}
	text, err := disk.Read(path)
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR) {
		return "", nil
	}
	return strings.TrimSpace(string(text)), err
}

// longestName is how many letters the name may have that findings are signed with.
const longestName = 80

func setUserName(e desk.Env, name string) error {
	name = strings.TrimSpace(name)
	if name == "" || strings.ContainsAny(name, "\n\t") || name != page.Visible(name) ||
		utf8.RuneCountInString(name) > longestName {
		return desk.Usagef("%q is no name: one line of at most %d letters",
			page.Visible(wording.Shortened(name, longestName)), longestName)
	}
	path, err := namePath(e)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return err
	}
	if err := disk.Replace(path, []byte(name+"\n"), 0o666); err != nil {
		return err
	}
	_, err = fmt.Fprintf(e.Out, "Your findings are signed %s from now on.\n", name)
	return err
}
