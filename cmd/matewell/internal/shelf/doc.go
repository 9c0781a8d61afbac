// Package shelf fetches the graph that a question is put to. Open takes what was asked for
// (Where: folders, a store, what was loaded, else the built-in data) and gives an Opened, the
// user's own findings laid over it; Opened.Done ends it and says which store is damaged.
// What was read from files is kept as a store in the cache folder, and findings as a layer of
// their own, each under a hash of what it was read from. Load puts files into a store in the
// same way, and FindingsTo says where a finding that is recorded goes. The package knows no
// question, and no command but by the line that mends something.
package shelf
