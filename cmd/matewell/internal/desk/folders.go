package desk

// userFolders are matewell's own folders among a user's files; none of them
// need exist.
type userFolders struct {
	data   string // what the user loaded and recorded
	cache  string // what can be made again
	config string // who the user is
}
