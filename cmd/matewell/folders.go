package main

import (
	"errors"
	"path/filepath"
)

// userFolders are matewell's own folders among a user's files; none of them
// need exist.
type userFolders struct {
	data   string // what the user loaded and recorded
	cache  string // what can be made again
	config string // who the user is
}

// dataDir is the folder for what the user loaded and wrote: XDG_DATA_HOME, or
// where the system keeps such files. It is not created here.
func (e env) dataDir() (string, error) {
	return e.userDir("XDG_DATA_HOME", e.systemFolders().data)
}

// cacheDir is the folder for what can be made again: XDG_CACHE_HOME, or where
// the system keeps such files. It is not created here.
func (e env) cacheDir() (string, error) {
	return e.userDir("XDG_CACHE_HOME", e.systemFolders().cache)
}

// configDir is the folder for who the user is: XDG_CONFIG_HOME, or where the
// system keeps such files. It is not created here.
func (e env) configDir() (string, error) {
	return e.userDir("XDG_CONFIG_HOME", e.systemFolders().config)
}

// userDir is matewell's own folder in the one a variable names, else the usual
// one. A relative path in the variable is ignored, as the XDG base directory
// specification asks.
func (e env) userDir(variable, usual string) (string, error) {
	if dir := e.Getenv(variable); filepath.IsAbs(dir) {
		return filepath.Join(dir, "matewell"), nil
	}
	if usual == "" {
		return "", errors.New("neither " + variable + " nor " + homeVariable + " says where your files are")
	}
	return usual, nil
}
