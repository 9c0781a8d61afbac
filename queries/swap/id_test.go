package swap_test

import (
	"errors"
	"reflect"
	"testing"

	"matewell/queries"
	"matewell/queries/swap"
)

func TestSwapID(t *testing.T) {
	tests := []struct {
		name, text string
		want       swap.SwapID
	}{
		{"a whole swap", "swap:skerry-620/2003/eu/late:front-brake/lever=Tarnholt-207.4007a",
			swap.SwapID{On: "skerry-620/2003/eu/late", Swaps: []swap.Replacement{{"front-brake/lever", "Tarnholt-207.4007a"}}}},
		{"one outcome of two swaps, with a scheme",
			"swap:skerry-620/2003/eu@ash:clutch/lever=none," +
				"clutch/line=Kellowick-KW-4103:joint/lever-on-perch",
			swap.SwapID{On: "skerry-620/2003/eu", Scheme: "ash", Outcome: "joint/lever-on-perch",
				Swaps: []swap.Replacement{{"clutch/lever", swap.NoPart}, {"clutch/line", "Kellowick-KW-4103"}}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := swap.ParseSwapID(tt.text)
			if err != nil || !reflect.DeepEqual(got, tt.want) {
				t.Errorf("%+v, %v, want %+v", got, err, tt.want)
			}
			if got.String() != tt.text {
				t.Errorf("written again it is %s", got)
			}
		})
	}
	blanks := swap.SwapID{On: "my bike", Swaps: []swap.Replacement{{"clutch/line", "Kellowick KW 41:03, 4"}}}.String()
	if blanks != "swap:my-bike:clutch/line=Kellowick-KW-41-03--4" {
		t.Errorf("%q would be cut by a shell, or at a colon or comma", blanks)
	}
	for _, bad := range []string{"", "swap", "swap:a", "swap:a:b", "fits:a:b=c", "swap:a:=c"} {
		var unreadable *queries.QuestionError
		if _, err := swap.ParseSwapID(bad); !errors.As(err, &unreadable) {
			t.Errorf("%q: %v, want a *QuestionError", bad, err)
		}
	}
}

// FuzzParseSwapID: what is read as the identity of a swap is written as it was read, and
// so is each swap as it is typed.
func FuzzParseSwapID(f *testing.F) {
	for _, seed := range []string{"swap:skerry-620/2003/eu@ash:clutch/lever=none," +
		"clutch/line=Kellowick-KW-4103:joint/lever-on-perch",
		"swap:my bike:a/b=c=d", "swap:@:a=b", "swap::a=b,", "clutch/lever=none", "=", ""} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if id, err := swap.ParseSwapID(text); err == nil {
			again, err := swap.ParseSwapID(id.String())
			if err != nil || again.String() != id.String() {
				t.Errorf("%q reads as %s, which reads as %s, %v", text, id, again, err)
			}
		}
		if r, err := swap.ParseSwap(text); err == nil {
			again, err := swap.ParseSwap(r.Position + "=" + r.Part)
			if err != nil || again != r {
				t.Errorf("%q reads as %+v, which reads as %+v, %v", text, r, again, err)
			}
		}
	})
}
