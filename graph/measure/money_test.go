package measure

import "testing"

func TestParseMoney(t *testing.T) {
	tests := []struct {
		text string
		want Money
		ok   bool
	}{
		{"35 EUR", Money{3500, "EUR"}, true},
		{" 19.50 EUR ", Money{1950, "EUR"}, true},
		{"0 EUR", Money{0, "EUR"}, true},
		{"0.05 EUR", Money{5, "EUR"}, true},
		{"35", Money{}, false}, // near miss: of what?
		{"35 EUR or so", Money{}, false},
		{"35 euros", Money{}, false},
		{"EUR 35", Money{}, false},
		{"-1 EUR", Money{}, false},
		{"21474837 EUR", Money{}, false},
		{"", Money{}, false},
	}
	for _, tt := range tests {
		got, err := ParseMoney(tt.text)
		if got != tt.want || (err == nil) != tt.ok {
			t.Errorf("ParseMoney(%q) = %v, %v; want %v, %v", tt.text, got, err, tt.want, tt.ok)
		}
		if again, err := ParseMoney(got.String()); tt.ok && (err != nil || again != got) {
			t.Errorf("%v reads back as %v, %v", got, again, err)
		}
	}
}
