package measure

import "sync"

// parsed is what came of parsing a text.
type parsed struct {
	value *Value
	err   error
}

// keptTexts are texts that were parsed as one type.
type keptTexts struct {
	sync.RWMutex
	by map[string]parsed
}

// mostKept is how many texts of a type are kept at a time: the sizes of a machine are some
// thousands.
const mostKept = 1 << 14

var kept [len(typeNames)]keptTexts

// Kept is Parse for what is read again and again, as by one judgement after another: a text
// is parsed once. The value is shared and must not be changed.
func Kept(text string, want Type) (*Value, error) {
	if want < 0 || int(want) >= len(kept) {
		v, err := Parse(text, want)
		return &v, err
	}
	k := &kept[want]
	k.RLock()
	one, ok := k.by[text]
	k.RUnlock()
	if ok {
		return one.value, one.err
	}
	v, err := Parse(text, want)
	one = parsed{&v, err}
	k.Lock()
	defer k.Unlock()
	if k.by == nil || len(k.by) >= mostKept {
		k.by = map[string]parsed{}
	}
	k.by[text] = one
	return one.value, one.err
}
