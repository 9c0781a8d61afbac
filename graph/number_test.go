package graph_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"matewell/graph"
)

func TestNumberKey(t *testing.T) {
	tests := []struct{ name, in, want string }{
		{"canonical", "207.4418b/kr", "2074418BKR"},
		{"spaces and dashes", " 207-4418 B KR ", "2074418BKR"},
		{"folded", "2074418BKR", "2074418BKR"},
		{"letters of other tongues", "Ä-1", "Ä1"},
		{"signs only", "-./ ", ""},
		{"nothing", "", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := graph.NumberKey(tt.in); got != tt.want {
				t.Errorf("NumberKey(%q) = %q, want %q", tt.in, got, tt.want)
			}
		})
	}
}

func TestNumberKeyIsStable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		key := graph.NumberKey(rapid.String().Draw(t, "text"))
		if again := graph.NumberKey(key); again != key {
			t.Fatalf("key %q has the key %q", key, again)
		}
	})
}

// The form of the invented maker in data-demo.
var demoForm = graph.NumberForm{Core: "999.9999", Revision: "a", Colour: "/aa"}

func TestNumberFormParse(t *testing.T) {
	full := graph.Number{Text: "207.4418b/kr", Core: "207.4418", Revision: "b", Colour: "kr"}
	bare := graph.Number{Text: "207.4418", Core: "207.4418"}
	revised := graph.Number{Text: "207.4418b", Core: "207.4418", Revision: "b"}
	coloured := graph.Number{Text: "207.4418/kr", Core: "207.4418", Colour: "kr"}
	letters := graph.NumberForm{Core: "TN-AA999", Colour: "-A9"}
	same := graph.NumberForm{Core: "999", Revision: "-A", Colour: "/A"}
	tests := []struct {
		name string
		form graph.NumberForm
		in   string
		want graph.Number
	}{
		{"canonical", demoForm, "207.4418b/kr", full},
		{"one word in capitals", demoForm, "2074418BKR", full},
		{"other separators", demoForm, "207-4418 B KR", full},
		{"spaces anywhere", demoForm, " 20 74.4 18 b - k/r ", full},
		{"long dash and hard space", demoForm, "207–4418\u00a0b/kr", full},
		{"core", demoForm, "207.4418", bare},
		{"core in one word", demoForm, "2074418", bare},
		{"one letter is the revision", demoForm, "2074418B", revised},
		{"two letters are the colour", demoForm, "2074418kr", coloured},
		{"two letters and a slash", demoForm, "207.4418/KR", coloured},
		{"one letter behind a slash", demoForm, "207.4418/b", revised},
		{"letters of the brand", letters, "TN-ab123", graph.Number{Text: "TN-AB123", Core: "TN-AB123"}},
		{"without them", letters, "ab123", graph.Number{Text: "TN-AB123", Core: "TN-AB123"}},
		{"a core that starts like them", letters, "tn123", graph.Number{Text: "TN-TN123", Core: "TN-TN123"}},
		{"half of them", letters, "N AB 123", graph.Number{Text: "TN-AB123", Core: "TN-AB123"}},
		{"colour with a digit", letters, "ab123c4", graph.Number{Text: "TN-AB123-C4", Core: "TN-AB123", Colour: "C4"}},
		{"same shape, nothing said", same, "123B", graph.Number{Text: "123-B", Core: "123", Revision: "B"}},
		{"same shape, revision's sign", same, "123-B", graph.Number{Text: "123-B", Core: "123", Revision: "B"}},
		{"same shape, colour's sign", same, "123/B", graph.Number{Text: "123/B", Core: "123", Colour: "B"}},
		{"same shape, both", same, "123bk", graph.Number{Text: "123-B/K", Core: "123", Revision: "B", Colour: "K"}},
		{"zero form", graph.NumberForm{}, " as/it Stands ", graph.Number{Text: "as/it Stands", Core: "as/it Stands"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := tt.form.Parse(tt.in)
			if err != nil {
				t.Fatal(err)
			}
			if got != tt.want {
				t.Errorf("got %+v, want %+v", got, tt.want)
			}
			if again, err := tt.form.Parse(got.Text); err != nil || again != got {
				t.Errorf("read back: %+v, %v", again, err)
			}
		})
	}
}

func TestNumberFormRefuses(t *testing.T) {
	tests := []struct {
		name string
		form graph.NumberForm
		in   string
		says string
	}{
		{"nothing", demoForm, "  ", "nothing is written"},
		{"too short", demoForm, "207.441", "999.9999"},
		{"too long", demoForm, "207.44189", "999.9999"},
		{"four letters", demoForm, "207.4418bkrx", `colour "/aa"`},
		{"letters in front", demoForm, "b207.4418", `revision "a"`},
		{"letter for a digit", demoForm, "2O7.4418", "9 is a digit"},
		{"digit for a letter", demoForm, "207.44181", "a is a letter"},
		{"only separators", demoForm, "../-", "999.9999"},
		{"other sign", demoForm, "207.4418#b", `'#' can't be part`},
		{"foreign letter", demoForm, "207.4418ä", "can't be part"},
		{"full-width digit", demoForm, "２07.4418", "can't be part"},
		{"control character", demoForm, "207.4418\x1b", "control character"},
		{"not UTF-8", demoForm, "207.4418\xff", "UTF-8"},
		{"very long", demoForm, strings.Repeat("2", 65), "longer than"},
		{"form without core", graph.NumberForm{Colour: "/aa"}, "kr", "no core"},
		{"endless form", graph.NumberForm{Core: strings.Repeat("T", 65)}, "T", "form is longer"},
		{"empty zero form", graph.NumberForm{}, "\t", "nothing is written"},
		{"control character in the zero form", graph.NumberForm{}, "a\nb", "control character"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := tt.form.Parse(tt.in)
			if err == nil {
				t.Fatalf("got %+v, want an error", got)
			}
			if !strings.Contains(err.Error(), tt.says) {
				t.Errorf("error %q does not say %q", err, tt.says)
			}
			if got != (graph.Number{}) {
				t.Errorf("got %+v with an error", got)
			}
		})
	}
}

func TestCoreKey(t *testing.T) {
	n, err := demoForm.Parse("207-4418 B KR")
	if err != nil || n.CoreKey() != "2074418" {
		t.Errorf("got %q, %v", n.CoreKey(), err)
	}
}

// Every spelling of a number, with separators and case drawn at random, is read
// as that number.
func TestAnySpellingIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[0-9]{3}\.[0-9]{4}[a-z]?(/[a-z]{2})?`).Draw(t, "number")
		var b strings.Builder
		for _, r := range graph.NumberKey(text) {
			b.WriteString(rapid.SampledFrom([]string{"", "", " ", "-", ".", "/", " - "}).Draw(t, "between"))
			if rapid.Bool().Draw(t, "small") {
				r = []rune(strings.ToLower(string(r)))[0]
			}
			b.WriteRune(r)
		}
		got, err := demoForm.Parse(b.String())
		if err != nil || got.Text != text {
			t.Fatalf("%q reads as %+v, %v, want %s", b.String(), got, err, text)
		}
	})
}

func FuzzNumberForm(f *testing.F) {
	f.Add("999.9999", "a", "/aa", "207.4418b/kr")
	f.Add("TN-AA999", "", "-A9", "n ab 123")
	f.Add("TTTTTTTTTTTTTTTTTTTT", "T", "T", "TTTTTTTTTTTT")
	f.Fuzz(func(t *testing.T, core, revision, colour, text string) {
		form := graph.NumberForm{Core: core, Revision: revision, Colour: colour}
		n, err := form.Parse(text)
		if err == nil && n.Text == "" {
			t.Errorf("%+v reads %q as an empty number", form, text)
		}
	})
}
