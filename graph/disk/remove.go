package disk

import (
	"github.com/rogpeppe/go-internal/robustio"

	"matewell/graph/disk/internal/moment"
)

// Remove removes a file, or a folder with all that is in it; that there is none
// is no error. It waits up to two seconds for another program that has
// something in it open, where that is in the way.
func Remove(name string) error {
	return moment.Around("remove", name, func() error {
		if err := robustio.RemoveAll(name); err != nil {
			return removeByName(name, err)
		}
		return nil
	})
}
