package article

import "testing"

func TestText(t *testing.T) {
	for _, c := range [][2]string{
		{"a axle", "an axle"}, {"a wheel on a axle", "a wheel on an axle"}, {"A idler", "An idler"},
		{"a 8 mm bolt", "an 8 mm bolt"}, {"a 11 mm bolt", "an 11 mm bolt"}, {"a 12 mm bolt", "a 12 mm bolt"},
		{"a 85.5 mm eye", "an 85.5 mm eye"}, {"a 850 mm hose", "a 850 mm hose"},
		{"30 A each", "30 A each"}, {"area of a", "area of a"}, {"via one", "via one"}, {"a hose", "a hose"},
	} {
		if got := Text(c[0]); got != c[1] {
			t.Errorf("Text(%q) = %q, want %q", c[0], got, c[1])
		}
	}
}

func TestSprintf(t *testing.T) {
	for _, c := range []struct {
		want, format string
		args         []any
	}{
		{`part "X" is an "axle" already, not a "wheel"`, "part %q is a %q already, not a %q", []any{"X", "axle", "wheel"}},
		{"50% of an axle", "%d%% of a %s", []any{50, "axle"}},
		{`"is a axle" is a "wheel"`, "%q is a %q", []any{"is a axle", "wheel"}}, // what a person wrote stays
		{"via axle", "via %s", []any{"axle"}},
		{"an 8.0 mm spanner", "a %s mm spanner", []any{"8.0"}},
		{"a hose", "a %s", []any{"hose"}},
	} {
		if got := Sprintf(c.format, c.args...); got != c.want {
			t.Errorf("Sprintf(%q, %q) = %s, want %s", c.format, c.args, got, c.want)
		}
	}
}
