package intake_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"matewell/graph"
	"matewell/graph/diag"
	"matewell/graph/sampletest"
	"matewell/loader"
	"matewell/loader/intake"
	"matewell/loader/partslist"
)

// walk is a machine with all that the patterns have for one of its sort.
func walk(t *testing.T, answers map[string]string) (fstest.MapFS, graph.Facts) {
	t.Helper()
	for _, c := range loader.Choices() {
		if answers[c.Name] == "" {
			answers[c.Name] = c.Words()[0]
		}
	}
	like, err := loader.PatternsFor(answers)
	if err != nil {
		t.Fatal(err)
	}
	files := fstest.MapFS{"own.yaml": {Data: []byte(`
source: own
sources: {own: {kind: report, title: My own}}
brands: {Hjelmark: {}}
models:
  lomvi-175: {maker: Hjelmark, name: Lomvi 175, like: [` + strings.Join(like, ", ") +
		`], variants: [{year: 1998, market: eu}]}
`)}}
	var probs diag.List
	facts, err := loader.Load(t.Context(), []loader.Layer{loader.Standard(), {Name: "mine", FS: files}}, &probs)
	if err != nil || probs.Err() != nil {
		t.Fatal(err, probs.Err())
	}
	return files, facts
}

// placed puts rows of names into the folder, and gives where each went.
func placed(t *testing.T, files fstest.MapFS, names []string) map[string][]string {
	t.Helper()
	var list strings.Builder
	list.WriteString("Number;What\n")
	for i, name := range names {
		fmt.Fprintf(&list, "VB.%05d;\"%s\"\n", i, name)
	}
	var probs diag.List
	desk, err := intake.Open(t.Context(), loader.Layer{Name: "mine", FS: files}, "list", &probs)
	if err != nil || probs.Err() != nil {
		t.Fatal(err, probs.Err())
	}
	read, err := partslist.Read("list.csv", []byte(list.String()), partslist.Options{Brands: desk.Brands()})
	if err != nil {
		t.Fatal(err)
	}
	result, err := desk.Make(t.Context(), read, intake.Options{Name: "list", Title: "list.csv", Brand: "Hjelmark"})
	if err != nil {
		t.Fatal(err)
	}
	places := map[string][]string{}
	for _, line := range strings.Split(strings.TrimSpace(text(result, "fitments.csv")), "\n") {
		var i int
		cells := strings.Split(line, ",")
		if n, _ := fmt.Sscanf(cells[2], "Hjelmark VB.%d", &i); n == 1 {
			places[names[i]] = append(places[names[i]], cells[1])
		}
	}
	if len(read.Sheets) != 1 || result.Parts != len(names) {
		t.Fatalf("%d parts of %d names", result.Parts, len(names))
	}
	return places
}

// pieceOf are ways in which lists name a piece of something, with what the
// piece is in the words of places.
var pieceOf = [...]struct{ form, english string }{
	{"%s washer", "washer"}, {"%s bolts", "bolt"}, {"%s seal kit", "kit"}, {"%s piston", "piston"}, {"%s cap", "cap"},
	{"%s rubber", "rubber"}, {"%s tube", "tube"}, {"%s spring", "spring"}, {"%s bearing", "bearing"},
	{"%s gasket", "gasket|seal"}, {"%s bracket", "bracket"}, {"%s guard", "guard"}, {"%s lens", "lens"},
	{"%s cover", "cover"}, {"%s boot", "boot"}, {"%s O-ring", "o-ring|seal"}, {"%s switch", "switch"},
	{"washer for %s", "washer"}, {"seal of %s", "seal"}, {"bolt, %s", "bolt|screw"}, {"%s (bolts)", "bolt|screw"},
	{"SEAL KIT %s", "kit"}, {"%s nut", "nut"}, {"%s pin", "pin"}, {"%s sprocket", "sprocket"},
	{"Dichtung für %s", "gasket|seal"}, {"Schraube %s", "bolt|screw"}, {"%s Mutter", "nut"}, {"%s Feder", "spring"},
	{"vis de %s", "bolt|screw"}, {"joint d'%s", "gasket|seal"}, {"ressort de %s", "spring"}, {"vite per %s", "bolt|screw"},
	{"molla %s", "spring"}, {"tornillo para %s", "bolt|screw"}, {"junta de %s", "gasket|seal"},
}

// TestAPieceIsNeverTheWhole: whatever a piece of a part is called, it does not
// go to the part's place. It may go to a place that is for such a piece.
func TestAPieceIsNeverTheWhole(t *testing.T) {
	taken := sampletest.Share(t, 40, 4)
	for _, answers := range []map[string]string{{}, {"wheels": "spoked", "rear-brake": "drum"}} {
		files, facts := walk(t, answers)
		called := map[string]string{}
		var names, english []string
		for _, x := range facts.Positions {
			called[x.ID.Local()] = strings.ToLower(x.ID.Local() + " " + x.Name + " " + string(x.Kind))
			for i, piece := range pieceOf {
				for k, name := range [...]string{x.Name, strings.ReplaceAll(string(x.Kind), "-", " ")} {
					if typed := fmt.Sprintf(piece.form, name); taken(typed+x.ID.Local()) && (k == 0 || i%4 == 0) {
						names, english = append(names, typed), append(english, piece.english)
					}
				}
			}
		}
		places := placed(t, files, names)
		for i, name := range names {
			for _, place := range places[name] {
				if !slices.ContainsFunc(strings.Split(english[i], "|"), func(word string) bool {
					return strings.Contains(called[place], word)
				}) {
					t.Errorf("%q went to %s (%s)", name, place, called[place])
				}
			}
		}
	}
}

// TestOwnNamesFindTheirPlace: what a place is called in the patterns leads to it.
func TestOwnNamesFindTheirPlace(t *testing.T) {
	files, facts := walk(t, map[string]string{})
	var names []string
	for _, x := range facts.Positions {
		names = append(names, strings.ReplaceAll(x.Name, ",", " "))
	}
	places := placed(t, files, names)
	found := 0
	for i, x := range facts.Positions {
		got := places[names[i]]
		if len(got) > 0 && !slices.Contains(got, x.ID.Local()) {
			t.Errorf("%q went to %s, not to %s", names[i], got, x.ID.Local())
		} else if len(got) > 0 {
			found++
		}
	}
	if found*100 < len(names)*95 {
		t.Errorf("%d of %d names found their place", found, len(names))
	}
}

func TestHeadsDecide(t *testing.T) {
	files, _ := walk(t, map[string]string{"wheels": "spoked", "rear-brake": "drum", "front-brake": "one-disc"})
	tests := []struct{ name, place string }{
		{"front brake hose", "front-brake/hose-left"}, {"front brake hose braided steel 840 mm", "front-brake/hose-left"},
		{"front brake hose banjo washer", ""}, {"front brake caliper piston", ""}, {"Caliper seal kit", ""},
		{"brake disc bolts", "front-brake/disc-bolt-left"}, {"Bremsscheibe vorn", "front-brake/disc-left"},
		{"Bremsscheibe Schraube", "front-brake/disc-bolt-left"}, {"bolt for front brake disc", "front-brake/disc-bolt-left"},
		{"Rear wheel sprocket", "final-drive/sprocket-rear"}, {"gearbox sprocket", "final-drive/sprocket-front"},
		{"sprocket", ""}, {"front tyre tube", "front-wheel/tube"}, {"front tyre", "front-wheel/tyre"},
		{"front wheel", "front-wheel/wheel"}, {"Vorderrad", "front-wheel/wheel"}, {"roue avant", "front-wheel/wheel"},
		{"ruota anteriore", "front-wheel/wheel"}, {"étrier de frein avant", "front-brake/caliper-left"},
		{"joint d'étrier de frein avant", ""}, {"pinza freno anteriore", "front-brake/caliper-left"},
		{"pinza de freno delantera", "front-brake/caliper-left"}, {"molla pinza freno", ""},
		{"Bremssattel vorn", "front-brake/caliper-left"}, {"Bremssattelkolben", ""}, {"Kolben für Bremssattel", ""},
		{"cam chain", ""}, {"oil pump chain", ""}, {"drive chain", "final-drive/chain"},
		{"Kestrand master cylinder", ""}, {"Hjelmark master cylinder, front, black, used", "front-brake/master-cylinder"},
		{"clutch master cylinder", ""}, {"headlight rim", ""}, {"headlight", "lamps/headlamp"}, {"mirror glass left", ""},
		{"left mirror", "mirrors/mirror-left"}, {"sidecar wheel", ""}, {"front wheel oil seal", "front-wheel/seal-right"},
		{"lever", ""}, {"Speedo cable inner", ""}, {"speedo cable", "instruments/speedo-cable"},
	}
	var names []string
	for _, tt := range tests {
		names = append(names, tt.name)
	}
	places := placed(t, files, names)
	for _, tt := range tests {
		if got := strings.Join(places[tt.name], " "); got != tt.place {
			t.Errorf("%q went to %q, want %q", tt.name, got, tt.place)
		}
	}
}
