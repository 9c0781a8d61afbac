package loader

import (
	"testing"
	"unsafe"
)

// TestLittleIsKeptOfEach: of a set of 1,000,000 facts some 254,000 places and 86,000 parts
// are held at once while it is checked, which should take no more than 400 MB in all.
func TestLittleIsKeptOfEach(t *testing.T) {
	if n := unsafe.Sizeof(registered[placeDraft]{}); n > 128 {
		t.Errorf("a place takes %d bytes, not 128", n)
	}
	if n := unsafe.Sizeof(registered[partDraft]{}); n > 208 {
		t.Errorf("a part takes %d bytes, not 208", n)
	}
	if n := unsafe.Sizeof(toldFitment{}); n > 16 {
		t.Errorf("what was told of a part at a place takes %d bytes, not 16", n)
	}
}
