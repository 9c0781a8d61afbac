package swap_test

import (
	"strings"
	"testing"

	"matewell/queries/demotest"
	"matewell/queries/donor"
	"matewell/queries/once"
	"matewell/queries/readertest"
	"matewell/queries/swap"
)

// Where all that was asked for will not go, whatever is got, nothing is on the list: no
// bolt, pad, fluid or made part that would be for its sake. What goes is listed with what
// belongs to it, and beside something that does not go nothing is for that alone.
func TestNothingIsGotForWhatWillNotGo(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	for _, tt := range []struct {
		on      string
		swaps   []string
		refused int
		lists   bool
		never   string // no line of the list may be for it
	}{
		{"skerry-620s/2002/uk", []string{"front-brake/disc-left=Varnhegg 35-296.1"}, 1, false, ""},
		{"skerry-620s/2006/uk", []string{"front-brake/caliper-left=Tarnholt 207.7430",
			"front-brake/caliper-right=Tarnholt 207.7431"}, 2, false, ""},
		{"fjeld-750/2004/uk", []string{"final-drive/sprocket-rear=Tarnholt 209.4018"}, 1, false, ""},
		{"skerry-620/2005/uk", []string{"front-brake/caliper-left=Tarnholt 207.4452"}, 0, true, ""},
		{"skerry-620/2005/uk", []string{"front-brake/caliper-left=Tarnholt 207.4452",
			"final-drive/sprocket-rear=Tarnholt 209.7016"}, 1, true, "final-drive/chain"},
	} {
		q := swap.SwapQuestion{On: tt.on}
		for _, text := range tt.swaps {
			place, number, _ := strings.Cut(text, "=")
			q.Swaps = append(q.Swaps, swap.Replacement{Position: place, Part: number})
		}
		list, err := donor.ShopSwap(t.Context(), r, q)
		if err != nil {
			t.Fatal(err)
		}
		lists := len(list.Rows)+len(list.Made)+len(list.Consumables) > 0
		if len(list.Refused) != tt.refused || lists != tt.lists {
			t.Errorf("%s %q: %d refused, %d bought, %d made, %d used up", tt.on, tt.swaps, len(list.Refused),
				len(list.Rows), len(list.Made), len(list.Consumables))
		}
		for _, line := range list.Rows {
			for _, at := range line.At {
				if at.Local() == tt.never {
					t.Errorf("%s %q: %s is bought for %s", tt.on, tt.swaps, line.Part, at)
				}
			}
		}
	}
}

// A panel with a bolted point more than the one built in wants a bolt more, and says what
// it goes into; one of another colour wants none.
func TestPanelWithMorePoints(t *testing.T) {
	r := once.New(readertest.New(demotest.Facts(t)))
	const at = "bodywork/side-panel-left"
	for number, bolts := range map[string]int{"Tarnholt 302.4026/ti": 2, "Tarnholt 302.4021/ru": 0} {
		a := swapped(t, r, "skerry-620s/2002/uk", []string{at + "=" + number})
		got, said := 0, false
		for _, g := range a.Get {
			if g.Position.Local() == "bodywork/side-panel-bolt-left" {
				got += g.Quantity
			}
			said = said || strings.Contains(g.Text, "clip nut")
		}
		if got != bolts || said != (bolts > 0) {
			t.Errorf("%s: %d bolts in all, clip nut said %v; want %d", number, got, said, bolts)
		}
	}
}
