//go:build !windows && !darwin

package desk

import "path/filepath"

const homeVariable = "HOME"

// systemFolders is where the XDG base directory specification has a user's
// files when no variable names another place.
func (e Env) systemFolders() userFolders {
	home := e.Getenv(homeVariable)
	if !filepath.IsAbs(home) { // a relative one would have files lie wherever somebody stands
		return userFolders{}
	}
	return userFolders{
		data:   filepath.Join(home, ".local", "share", "matewell"),
		cache:  filepath.Join(home, ".cache", "matewell"),
		config: filepath.Join(home, ".config", "matewell"),
	}
}
