package loader

import (
	"testing"

	"matewell/graph/diag"
)

// What nobody sees is refused where it makes two numbers differ that look alike, and
// stays where scripts and pictures need it.
func TestInvisibleCharacters(t *testing.T) {
	for text, refused := range map[string]bool{
		"207\u200b.4418": true, "207\u00ad.4418": true, "kit\u2060-8": true, "kit\u3164": true, "kit\ufe0f": true,
		"kit\u200dx": true, "\u200cx": true, "x\U000e0041": true,
		"plain": false, "gr\u00fcn": false, "\u2764\ufe0f good": false, "3\ufe0f\u20e3": false,
		"\u0645\u06cc\u200c\u062e":   false,
		"\U0001f468\u200d\U0001f527": false,
	} {
		var probs diag.List
		newText("x.yaml", []byte(text), &probs)
		if got := probs.Err() != nil; got != refused {
			t.Errorf("%q refused: %v, want %v", text, got, refused)
		}
	}
}

// A file whose lines end in a carriage return is read as any other; one that has other
// ends too is left, so that the return is refused.
func TestLineFeeds(t *testing.T) {
	for text, want := range map[string]string{
		"a\rb\r": "a\nb\n", "a\r\rb": "a\n\nb", "a\nb": "a\nb", "a\r\nb\r\n": "a\r\nb\r\n", "a\rb\n": "a\rb\n", "": "",
	} {
		if got := string(lineFeeds([]byte(text))); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}
