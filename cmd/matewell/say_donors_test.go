package main

import (
	"cmp"
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"matewell/cmd/matewell/internal/page"
	"matewell/graph/sampletest"
	"matewell/queries/donor"
	"matewell/queries/plan"
)

// What --suggest prints can be put together again to the command it stands for, within
// the columns; only a name that is too long by itself goes beyond.
func TestTakeLinesArePasted(t *testing.T) {
	const most = 79
	rapid.Check(t, func(t *rapid.T) {
		names := rapid.SliceOfN(rapid.StringMatching(`[a-z]{1,30}(-[a-z]{1,20})?`), 1, 12).Draw(t, "names")
		again := donorOptions{DonorQuestion: donor.DonorQuestion{On: "skerry-620/2003/eu/late",
			From: "fjeld-750/2003/eu"}}.againFor()
		lines := slices.Concat(continued(again, most), takeLines(names, most))
		var taken []string
		for _, line := range lines {
			if n := utf8.RuneCountInString(page.Soft(line)); n > most {
				t.Errorf("%d columns: %s", n, line)
			}
		}
		pasted := page.Soft(strings.ReplaceAll(strings.Join(lines, "\n"), "\\\n", ""))
		if strings.ContainsAny(pasted, "\\\n") {
			t.Fatalf("the shell would not read on: %q", pasted)
		}
		words := strings.Fields(pasted)
		for i, word := range words {
			if word == "--take" {
				taken = append(taken, strings.Split(words[i+1], ",")...)
			}
		}
		if !slices.Equal(taken, names) || !strings.HasPrefix(pasted, strings.Join(again, " ")) {
			t.Errorf("%q takes %v, want %v", pasted, taken, names)
		}
	})
}

// As many names as fit stand on a line; with one letter more the last goes on the next.
func TestTakeLinesBreak(t *testing.T) {
	for _, tt := range []struct {
		names []string
		want  []string
	}{
		{[]string{"fork"}, []string{"--take fork"}},
		{[]string{"fork", "lamps", "yokes"}, []string{"--take fork,lamps,yokes"}},
		{[]string{"fork", "lamps", "yokes-x"}, []string{`--take fork,lamps \`, "--take yokes-x"}},
		{[]string{"a-name-that-is-longer-than-all"}, []string{"--take a-name-that-is-longer-than-all"}},
	} {
		got := takeLines(tt.names, 24)
		for i := range got {
			got[i] = page.Soft(got[i])
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%v: %q, want %q", tt.names, got, tt.want)
		}
	}
}

// Each command that --suggest prints, typed again as it stands, gives the numbers that
// stand beside the group, of the same data: an outcome that was proved is the same to the
// last digit, any other costs no more.
func TestSuggestionsArePasted(t *testing.T) {
	folders := map[string]string{"XDG_CACHE_HOME": demoCache(t), "XDG_CONFIG_HOME": t.TempDir()}
	said := func(words ...string) string {
		t.Helper()
		e, out, errs := testEnv(t)
		own := e.Getenv
		e.Getenv = func(name string) string { return cmp.Or(folders[name], own(name)) }
		if code := run(e, words); code != exitAnswered && code != exitUnsafe {
			t.Fatalf("exit %d of %v:\n%s", code, words, errs)
		}
		return out.String()
	}
	takes := []string{"lamps", "intake"}
	if sampletest.All() {
		takes = append(takes, "tank", "footrests", "clutch", "fork")
	}
	pasted := 0
	for _, take := range takes {
		asked := []string{"donor", "--data", "demo", "--on", "skerry-620/2003/eu/late", "--from", "fjeld-750/2003/eu",
			"--suggest", "--take", take, "--time", "80s"}
		var units struct{ Units donorUnits }
		if err := json.Unmarshal([]byte(said(append(asked, "--format", "json")...)), &units); err != nil {
			t.Fatal(err)
		}
		_, lines, _ := strings.Cut(said(asked...), "is made to fit\n")
		commands := strings.Split(strings.TrimSpace(strings.ReplaceAll(lines, "\\\n", "")), "\n")
		if len(commands) != len(units.Units.Units) {
			t.Fatalf("%s: %d commands for %d groups: %q", take, len(commands), len(units.Units.Units), commands)
		}
		for i, u := range units.Units.Units {
			words := shellWords(commands[i])
			if !slices.Contains(words, "--data") || !slices.Contains(words, "20s") {
				t.Errorf("%q does not ask as --suggest was asked", commands[i])
			}
			var one struct{ Plan donorPlans }
			if err := json.Unmarshal([]byte(said(append(words[1:], "--format", "json")...)), &one); err != nil {
				t.Fatal(err)
			}
			u.isKept(t, one.Plan)
			pasted++
		}
	}
	if pasted < len(takes) {
		t.Errorf("only %d commands: this tells little", pasted)
	}
}

type donorUnits struct{ Units []donorUnit }

type donorUnit struct {
	Assemblies []string
	Outcome    string
	Cost       *donor.DonorCost
}

type donorPlans struct {
	Outcome string
	Plans   []struct {
		Cost  donor.DonorCost
		After struct{ Gets []struct{ Part string } } `json:"donor_after"`
	}
}

// isKept checks what a plan of its own says of a group.
func (u donorUnit) isKept(t *testing.T, p donorPlans) {
	t.Helper()
	proved := u.Outcome == plan.ProvedSmallest || u.Outcome == plan.NoPlan
	switch {
	case proved && u.Outcome != p.Outcome, (u.Cost == nil) != (len(p.Plans) == 0) && (proved || u.Cost != nil):
		t.Errorf("%v: %s in the list, %s by itself", u.Assemblies, u.Outcome, p.Outcome)
	case u.Cost == nil:
	case proved && !reflect.DeepEqual(*u.Cost, p.Plans[0].Cost), p.Plans[0].Cost.SafetyUnknowns > u.Cost.SafetyUnknowns:
		t.Errorf("%v: %+v in the list, %+v by itself", u.Assemblies, *u.Cost, p.Plans[0].Cost)
	}
}
