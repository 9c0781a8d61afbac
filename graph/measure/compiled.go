package measure

import (
	"regexp"
	"sync"
)

// compiled is a form that is made when it is first read by, and once: every start
// of the program would pay for it otherwise, or every reading.
func compiled(form string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(form) })
}
