package desk

import "path/filepath"

const homeVariable = "HOME"

// systemFolders is where macOS keeps a user's files.
func (e Env) systemFolders() userFolders {
	home := e.Getenv(homeVariable)
	if home == "" {
		return userFolders{}
	}
	mine := filepath.Join(home, "Library", "Application Support", "matewell")
	return userFolders{data: mine, cache: filepath.Join(home, "Library", "Caches", "matewell"), config: mine}
}
