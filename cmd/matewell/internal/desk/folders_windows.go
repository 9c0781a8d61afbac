package desk

import "path/filepath"

const homeVariable = "USERPROFILE"

// systemFolders is where Windows keeps a user's files. The store and the cache
// stay on this machine; who the user is may roam with them.
func (e Env) systemFolders() userFolders {
	local, roaming := e.appData("LOCALAPPDATA", "Local"), e.appData("APPDATA", "Roaming")
	if local == "" || roaming == "" {
		return userFolders{}
	}
	mine := filepath.Join(local, "matewell")
	return userFolders{data: mine, cache: filepath.Join(mine, "cache"), config: filepath.Join(roaming, "matewell")}
}

func (e Env) appData(variable, usual string) string {
	if dir := e.Getenv(variable); filepath.IsAbs(dir) {
		return dir
	}
	home := e.Getenv(homeVariable)
	if !filepath.IsAbs(home) { // a relative one would have files lie wherever somebody stands
		return ""
	}
	return filepath.Join(home, "AppData", usual)
}
