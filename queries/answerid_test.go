package queries_test

import (
	"strings"
	"testing"

	"matewell/graph"
	"matewell/queries"
)

func TestAnswerID(t *testing.T) {
	tests := []queries.AnswerID{
		{Question: "fits", Part: "Tarnholt-207.4418b/kr", Variant: "skerry-620/2003/eu/late",
			Position: "skerry-620:front-brake/caliper-left"},
		{Question: "differ", Variant: "skerry-620/2003/eu", Other: "fjeld-750/2004/eu", Position: "skerry-620:fork/leg-left"},
	}
	for _, want := range tests {
		t.Run(want.String(), func(t *testing.T) {
			got, err := queries.ParseAnswerID(want.String())
			if err != nil || got != want {
				t.Errorf("%+v, %v, want %+v", got, err, want)
			}
			if strings.ContainsAny(want.String(), " \t\"'$&;|<>()") {
				t.Errorf("%s can't be pasted into a shell", want)
			}
		})
	}
	colon := queries.AnswerID{Question: "fits", Part: "Tarnholt 12:34 (b)", Variant: "mill-500/2006/eu",
		Position: "mill-500:front/lever"}
	got, err := queries.ParseAnswerID(colon.String())
	colon.Part = "Tarnholt-12-34--b-"
	if err != nil || got != colon || graph.NumberKey(string(got.Part)) != graph.NumberKey("Tarnholt 12:34 (b)") {
		t.Errorf("a number with a colon comes back as %+v, %v", got, err)
	}
	for _, bad := range []string{"", "fits", "fits:a:b", "swap:a:b:c", "fits:a:b:c:d"} {
		if _, err := queries.ParseAnswerID(bad); err == nil {
			t.Errorf("%q is read as an identity", bad)
		}
	}
}

// FuzzParseAnswerID: what is read as the identity of an answer is written as it was read.
func FuzzParseAnswerID(f *testing.F) {
	for _, seed := range []string{"fits:Tarnholt-207.4418b:skerry-620/2003/eu:front-brake/caliper-left",
		"differ:skerry-620/2003/eu:skerry-620/2004/eu:front-brake/caliper-left",
		"fits:::", " fits:a b:c:d ", "swap:a:b=c", ""} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		id, err := queries.ParseAnswerID(text)
		if err != nil {
			return
		}
		again, err := queries.ParseAnswerID(id.String())
		if err != nil || again.String() != id.String() {
			t.Errorf("%q reads as %s, which reads as %s, %v", text, id, again, err)
		}
	})
}
