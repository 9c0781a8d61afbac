package desk

import "path/filepath"

const homeVariable = "HOME"

// systemFolders is where macOS keeps a user's files.
func (e Env) systemFolders() userFolders {
	home := e.Getenv(homeVariable)
	if !filepath.IsAbs(home) { // a relative one would have files lie wherever somebody stands
		return userFolders{}
	}
	mine := filepath.Join(home, "Library", "Application Support", "matewell")
	return userFolders{data: mine, cache: filepath.Join(home, "Library", "Caches", "matewell"), config: mine}
}
