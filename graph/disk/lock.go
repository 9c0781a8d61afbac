package disk

import (
	"context"
	"fmt"
	"time"

	"github.com/gofrs/flock"
)

// lockWait is how often another process that holds a lock is asked again.
const lockWait = 5 * time.Millisecond

// Lock waits until no other process holds the lock of a name, and takes it; ctx
// ends the wait. Within one process it parts goroutines as well. The lock is the
// operating system's: it ends with the process that holds it, whatever ends
// that. The file is made when it is not there, and stays: it must be one that
// nobody replaces or removes.
func Lock(ctx context.Context, name string) (unlock func() error, err error) {
	lock := flock.New(name, flock.SetPermissions(0o666))
	if _, err := lock.TryLockContext(ctx, lockWait); err != nil {
		return nil, fmt.Errorf("wait for %s: %w", name, err)
	}
	return lock.Unlock, nil
}
