package intake_test

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"matewell/graph/diag"
	"matewell/loader"
	"matewell/loader/intake"
	"matewell/loader/partslist"
)

const folder = `
source: own
sources: {own: {kind: report, title: My own}}
brands: {Hjelmark: {number: {core: "AA.9999", revision: A}}}
models:
  lomvi-175:
    maker: Hjelmark
    name: Lomvi 175
    variants: [{year: 1998, market: eu}, {year: 1999, market: eu}, {year: 2001, market: eu, frames: L-000101 on}]
    assemblies:
      front-brake:
        name: Front brake
        positions:
          caliper-left: {kind: caliper, side: left}
          caliper-right: {kind: caliper, side: right}
          hose: {kind: brake-hose, name: front brake hose}
      rear-brake:
        name: Rear brake
        positions:
          caliper: {kind: caliper, name: rear brake caliper}
      controls:
        name: Controls
        positions:
          bar: {kind: handlebar}
bikes: {mine: {variant: lomvi-175/1999/eu}}
parts:
  - {number: Hjelmark VB.0140, kind: brake-hose, name: hose}
`

// take puts a list into the folder and gives what came of it.
func take(t *testing.T, list string, opts intake.Options, more fstest.MapFS) intake.Result {
	t.Helper()
	files := fstest.MapFS{"own.yaml": {Data: []byte(folder)}}
	for name, file := range more {
		files[name] = file
	}
	opts.Name, opts.Title = cmp.Or(opts.Name, "list"), "list.csv"
	var probs diag.List
	desk, err := intake.Open(t.Context(), loader.Layer{Name: "mine", FS: files}, opts.Name, &probs)
	if err != nil || probs.Err() != nil {
		t.Fatal(err, probs.Err())
	}
	read, err := partslist.Read("list.csv", []byte(list), partslist.Options{Brands: desk.Brands()})
	if err != nil {
		t.Fatal(err)
	}
	result, err := desk.Make(t.Context(), read, opts)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range result.Files { // what comes out is data like any other
		files[f.Name] = &fstest.MapFile{Data: []byte(f.Text)}
	}
	if _, err := loader.Load(t.Context(), []loader.Layer{loader.Standard(), {Name: "mine", FS: files}},
		&probs); err != nil || probs.Err() != nil {
		t.Fatalf("the files don't pass the check: %v %v", err, probs.Err())
	}
	return result
}

func text(r intake.Result, name string) string {
	for _, f := range r.Files {
		if strings.HasSuffix(f.Name, name) {
			return f.Text
		}
	}
	return ""
}

// left are the things left out of a row, "what: why".
func left(r intake.Result, row int) []string {
	var list []string
	for _, l := range r.Left {
		if l.Row == row {
			list = append(list, l.What+": "+l.Why+strings.Join(append([]string{""}, l.MayBe...), " | "))
		}
	}
	return list
}

func TestPlaces(t *testing.T) {
	tests := []struct {
		name, row string
		fitments  []string // "position" or "position years"
		left      string   // begins what is left of the row; empty for nothing
	}{
		{"two alike, and two of them", "VB.0110,front brake caliper,2,", []string{"front-brake/caliper-left",
			"front-brake/caliper-right"}, ""},
		{"two alike, and how many is not told", "VB.0110,front brake caliper,,", nil, "quantity: empty"},
		{"a side is told", "VB.0110,Bremssattel vorn links,1,", []string{"front-brake/caliper-left"}, ""},
		{"front or rear is not told", "VB.0110,caliper,1,", nil, `place: "caliper" may be in more than one place`},
		{"rear is told", "VB.0110,étrier arrière,1,", []string{"rear-brake/caliper"}, ""},
		{"no such thing is there", "VB.0199,sidecar,1,", nil, `place: nothing on lomvi-175 is called "sidecar"`},
		{"it is on the other side than all that there is", "VB.0140,rear brake hose,1,", nil, "place: the side does not " +
			"agree"},
		{"years that were sold", "VB.0110,front left caliper,1,98-01", []string{"front-brake/caliper-left 1998-1999",
			"front-brake/caliper-left 2001"}, ""},
		{"years that were not", "VB.0110,front left caliper,1,04 on", nil, "years: lomvi-175 was not sold in these years"},
		{"years that the owner is not sure of", "VB.0110,front left caliper,1,98?", nil, "years: the owner is not sure"},
		{"a registration letter", "VB.0110,front left caliper,1,W-reg", nil, "years: a registration letter is no model year"},
		{"frame numbers that no variant begins with", "VB.0110,front left caliper,1,up to frame 000200", nil, "row: "},
		{"more than the place takes", "VB.0140,front brake hose,3,", []string{"front-brake/hose"}, "quantity: the list " +
			"says 3, front-brake/hose takes 1"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := take(t, "Number,What,Qty,Years\n"+tt.row+"\n", intake.Options{}, nil)
			var got []string
			for i, line := range strings.Split(strings.TrimSpace(text(r, "fitments.csv")), "\n") {
				if cells := strings.Split(line, ","); i > 0 {
					got = append(got, strings.TrimSpace(cells[1]+" "+cells[3]))
				}
			}
			if !slices.Equal(got, tt.fitments) {
				t.Errorf("placed %q, want %q", got, tt.fitments)
			}
			said := left(r, 2)
			if tt.left == "" && len(said) > 0 || tt.left != "" && (len(said) == 0 || !strings.HasPrefix(said[0], tt.left)) {
				t.Errorf("left %q, want %q", said, tt.left)
			}
		})
	}
}

func TestHeadingsSayWhere(t *testing.T) {
	r := take(t, "Number,What,Qty\nREAR BRAKE,,\nVB.0110,caliper,1\nFRONT "+
		"BRAKE,,\nVB.0140,hose,1\nVB.0150,handlebar,1\nELECTRICS,,\nVB.0160,caliper,1\n", intake.Options{}, nil)
	fitments := text(r, "fitments.csv")
	for _, want := range []string{"rear-brake/caliper,Hjelmark VB.0110", "front-brake/hose,Hjelmark VB.0140",
		"controls/bar,Hjelmark VB.0150"} {
		if !strings.Contains(fitments, want) {
			t.Errorf("%s is not in\n%s", want, fitments)
		}
	}
	if said := left(r, 8); len(said) != 1 || !strings.HasPrefix(said[0], "place: the heading \"ELECTRICS\" says "+
		"otherwise") {
		t.Errorf("a caliper under electrics: %q", said)
	}
}

// TestOwnFilesAreNotHeldAgainstTheList: a list that is imported again declares
// its numbers again.
func TestOwnFilesAreNotHeldAgainstTheList(t *testing.T) {
	list := "Number,What,Qty,Got\nVB.0110,Bremssattel vorn links,1,yes\nXX-99-1,odd thing,1,yes\n"
	first := take(t, list, intake.Options{Bike: "mine"}, nil)
	files := fstest.MapFS{}
	for _, f := range first.Files {
		files[f.Name] = &fstest.MapFile{Data: []byte(f.Text)}
	}
	second := take(t, list, intake.Options{Bike: "mine"}, files)
	if len(second.Files) != len(first.Files) || first.Parts != 2 || first.Boxed != 2 {
		t.Fatalf("%+v", first)
	}
	for i, f := range second.Files {
		if f != first.Files[i] {
			t.Errorf("%s is other the second time:\n%s\nwas\n%s", f.Name, f.Text, first.Files[i].Text)
		}
	}
}

// TestListAgainAfterAnother: a list that is imported again after another with the same
// numbers still says what kind of part each is, which the other left to it.
func TestListAgainAfterAnother(t *testing.T) {
	files := fstest.MapFS{}
	for _, round := range []struct{ name, list string }{
		{"first", "Number,What,Qty\nVB.0110,Bremssattel vorn links,1\nXX-99-1,odd thing,1\n"},
		{"second", "Number,What,Qty\nVB.0110,front caliper left,1\nXX-99-1,odd thing,1\n"},
		{"first", "Number,What,Qty\nVB.0110,Bremssattel vorne links,1\nXX-99-1,odd thing,1\n"},
	} {
		r := take(t, round.list, intake.Options{Name: round.name}, files)
		for _, f := range r.Files {
			files[f.Name] = &fstest.MapFile{Data: []byte(f.Text)}
		}
		if parts := text(r, "parts.yaml"); round.name == "first" && !strings.Contains(parts, "kind: caliper") {
			t.Errorf("nobody says what VB.0110 is:\n%s", parts)
		}
	}
}

// TestKindByWord: a name of a list tells its kind, and one that only holds such a word does not.
func TestKindByWord(t *testing.T) {
	for name, want := range map[string]string{"Hinterradnabe": "wheel-hub", "Felge vorn": "wheel-rim",
		"rear hub": "wheel-hub", "clutch hub": "clutch-hub", "rim tape": "rim-tape", "Kettenrad hinten": "rear-sprocket"} {
		r := take(t, "Number,What,Qty\nVB.0399,"+name+",1\n", intake.Options{}, nil)
		if parts := text(r, "parts.yaml"); !strings.Contains(parts, "kind: "+want+"\n") {
			t.Errorf("%s is no %s:\n%s", name, want, parts)
		}
	}
}

func TestFormulasDoNoHarm(t *testing.T) {
	r := take(t, "Number,What,Qty\nVB.0110,=cmd|' /C calc'!A0,?\n,\"+1 thing, @home\",1\n", intake.Options{}, nil)
	for line := range strings.Lines(text(r, "not-placed.csv")) {
		for _, cell := range strings.Split(line, ",") {
			if cell = strings.Trim(cell, "\"\n"); cell != "" && strings.ContainsAny(cell[:1], "=+-@") {
				t.Errorf("%q begins a formula in %s", cell, line)
			}
		}
	}
}

// What the list says is not there lies in no box, a pair of what comes by the pair is one,
// and a formula in the place of a number declares no part.
func TestOnlyWhatIsThereIsBoxed(t *testing.T) {
	list := "Number,What,Qty,Box,Remark\nVB.0301,brake pads,1 Paar,1,\nVB.0302,brake shoes,2 pairs,1,\n" +
		"VB.0303,mirror,1 pair,1,\nVB.0304,horn,0,1,\nVB.0305,seat,-1,1,\nVB.0306,fuel tank,missing,1,\n" +
		"VB.0307,headlamp,none,1,\nVB.0308,front mudguard,1,1,sold\nVB.0309,rear mudguard,1,1,given to Sam\n" +
		"VB.0310,stand,1,1,sold by the pair\n=A1+B2,rim,1,1,\n"
	r := take(t, list, intake.Options{Bike: "mine", Stock: true, Brand: "Hjelmark"}, nil)
	bike, parts := text(r, "bike.yaml"), text(r, "parts.yaml")
	for number, want := range map[string]string{"0301": "", "0302": "quantity: 2", "0303": "quantity: 2", "0310": ""} {
		_, item, found := strings.Cut(bike, "VB."+number+"\n")
		item, _, _ = strings.Cut(item, "- part:")
		if !found || want == "" && strings.Contains(item, "quantity") || !strings.Contains(item, want) {
			t.Errorf("VB.%s: %t, %q, want %q", number, found, item, want)
		}
	}
	for i := 4; i <= 9; i++ {
		number := fmt.Sprintf("VB.%04d", 300+i)
		if strings.Contains(bike, number) || !strings.Contains(parts, number) {
			t.Errorf("%s: none is there, boxed %t, declared %t", number, strings.Contains(bike, number),
				strings.Contains(parts, number))
		}
		if !slices.ContainsFunc(left(r, i+1), func(l string) bool { return strings.HasPrefix(l, "box: none is there") }) {
			t.Errorf("%s: not said: %q", number, left(r, i+1))
		}
	}
	if said := left(r, 12); strings.Contains(parts, "A1") || len(said) == 0 || !strings.Contains(said[0], "a formula") {
		t.Errorf("a formula: %q\n%s", said, parts)
	}
}

func TestHardwareGoesToBags(t *testing.T) {
	r := take(t, "Bolts,how many,where,Nm\nFRONT END,,,\nM8 x 1.25 x 35 flange 10.9,4,caliper,24\nwasher 8.4 x 16 x "+
		"1.6,x3,,\n\"grub screw, small\",2,,\nM6x20,?,,\n6301 2RS,1,,\n", intake.Options{Bike: "mine"}, nil)
	bike := text(r, "bike.yaml")
	for _, want := range []string{"list: FRONT END", "M8x1.25", "35 mm", "hexagon flange", "inside: 8.4 mm"} {
		if !strings.Contains(bike, want) {
			t.Errorf("%q is not in\n%s", want, bike)
		}
	}
	if r.Bagged != 2 || strings.Contains(bike, "24") {
		t.Errorf("%d in bags, want 2, and no torque:\n%s", r.Bagged, bike)
	}
	for row, want := range map[int]string{5: "row: no size given", 6: "quantity: not known", 7: "row: a bearing among " +
		"bolts", 0: "torque: not taken"} {
		if said := left(r, row); len(said) == 0 || !strings.HasPrefix(said[0], want) {
			t.Errorf("row %d: %q, want %q", row, said, want)
		}
	}
}

// What the note of a row says of the state of a part stands at its place in a box, so that
// what is cracked counts for nothing; and a bearing that is called by its standard number
// has the sizes that go with it. Source of those: ISO 15.
func TestStateAndSizesThatAListTells(t *testing.T) {
	list := "Number;What;Qty;Box;Condition\n" +
		"VB.0201;front brake lever;1;1;cracked at the pivot\nVB.0202;clutch lever;1;1;not bent, used\n" +
		"VB.0203;rear brake lever (verbogen);1;1;\nVB.0204;brake lever;1;1;\n" +
		"VB.0207;Rear brake lever cracked;1;1;\nVB.0208;Clutch lever - BENT;1;1;\nVB.0209;bent brake lever;1;1;\n" +
		"VB.0210;clutch lever (cracked!);1;1;\nVB.0211;front disc;1;1;warped\nVB.0212;clutch lever - not bent;1;1;\n" +
		"VB.0216;rear axle;1;1;with split pin\nVB.0217;clutch lever;1;1;2 Stuck\n" +
		"VB.0218;rear axle;1;1;stuck in the hub\nVB.0219;clutch cable;1;1;outer split\n" +
		"VB.0213;hardened washer;1;1;\nVB.0214;split pin;1;1;\nVB.0215;new style brake lever;1;1;\n" +
		"VB.0205;wheel bearing 6301-2RS, front;2;1;new\nVB.0206;wheel bearing 6399-2RS;2;1;\n"
	r := take(t, list, intake.Options{Bike: "mine", Stock: true, Brand: "Hjelmark"}, nil)
	bike, parts := text(r, "bike.yaml"), text(r, "parts.yaml")
	for number, state := range map[string]string{"VB.0207": "cracked", "VB.0208": "bent", "VB.0209": "bent",
		"VB.0210": "cracked", "VB.0211": "bent", "VB.0218": "seized", "VB.0219": "torn"} {
		if !strings.Contains(bike, number+"\n          condition: "+state) {
			t.Errorf("%s is not %s in\n%s", number, state, bike)
		}
	}
	for _, want := range []string{"VB.0201\n          condition: cracked", "VB.0202\n          condition: used",
		"VB.0203\n          condition: bent", "VB.0205\n          quantity: 2\n          condition: new"} {
		if !strings.Contains(bike, want) {
			t.Errorf("%q is not in\n%s", want, bike)
		}
	}
	for _, number := range []string{"VB.0204", "VB.0212", "VB.0213", "VB.0214", "VB.0215", "VB.0216", "VB.0217"} {
		if strings.Contains(bike, number+"\n          condition") {
			t.Errorf("%s: a state that nobody told:\n%s", number, bike)
		}
	}
	for _, want := range []string{"inside: 12 mm", "outside: 37 mm", "width: 12 mm"} {
		if strings.Count(parts, want) != 1 {
			t.Errorf("%q must stand once in\n%s", want, parts)
		}
	}
}

// A part that its name put into its place is said by a source of its own kind, so that
// nothing takes it for a listing; one whose place the list or its owner names is not.
func TestPlacedByItsName(t *testing.T) {
	r := take(t, "Number,What,Qty,Place\nVB.0110,front left caliper,1,\nVB.0140,hose,1,front-brake/hose\n"+
		"VB.0150,the long thing,1,\n", intake.Options{Places: map[string]string{"the long thing": "controls/bar"}}, nil)
	for _, want := range []string{"front-brake/caliper-left,Hjelmark VB.0110,,,list-by-name\n",
		"front-brake/hose,Hjelmark VB.0140,,,list\n", "controls/bar,Hjelmark VB.0150,,,list\n"} {
		if fitments := text(r, "fitments.csv"); !strings.Contains(fitments, want) {
			t.Errorf("%q is not in\n%s", want, fitments)
		}
	}
	if parts := text(r, "parts.yaml"); !strings.Contains(parts, "kind: placed by name") {
		t.Errorf("no source of that kind in\n%s", parts)
	}
}

// What a list says is missing, or on order, is missing on the machine: at the place of its part, in the
// years of the machine, and where the machine's own file says nothing.
func TestLacking(t *testing.T) {
	const list = "Number,What,Qty,State,Years,Where\n" +
		"VB.0150,front brake hose,1,MISSING,,front-brake/hose\n" +
		"VB.0151,rear brake caliper,1,ordered,,rear-brake/caliper\n" +
		"VB.0152,handlebar,1,missing,2001,controls/bar\n" +
		"VB.0153,left front brake caliper,1,have,,front-brake/caliper-left\n"
	got := take(t, list, intake.Options{Bike: "mine", Brand: "Hjelmark"}, nil)
	bike := text(got, "bike.yaml")
	for _, want := range []string{"front-brake/hose:\n        part: missing\n        note: Hjelmark VB.0150 is missing",
		"rear-brake/caliper:\n        part: missing\n        note: Hjelmark VB.0151 is ordered", "part: Hjelmark VB.0153"} {
		if !strings.Contains(bike, want) {
			t.Errorf("lacks %q:\n%s", want, bike)
		}
	}
	if strings.Contains(bike, "controls/bar") || strings.Contains(bike, "front-brake/caliper-left") || got.Lacked != 2 {
		t.Errorf("%d lacked:\n%s", got.Lacked, bike)
	}
	own := fstest.MapFS{"note.yaml": {Data: []byte("bikes: {mine: {found: {front-brake/hose: Hjelmark VB.0140}}}\n")}}
	if bike := text(take(t, list, intake.Options{Bike: "mine", Brand: "Hjelmark"}, own),
		"bike.yaml"); strings.Contains(bike, "front-brake/hose") {
		t.Errorf("what was noted by hand is noted again:\n%s", bike)
	}
}

// Words of a state in a column of states, or in a note, go with the part into its box; scrap leaves its place on
// the machine empty. What is not understood is kept and asked about, and a box that is named is not passed over.
func TestStatesOfAColumnOfStates(t *testing.T) {
	const list = "Number,What,Qty,Box,State,Notes\n" +
		"VB.0150,front brake hose,1,B1,cracked,\n" +
		"VB.0151,rear brake caliper,1,B1,,unsafe do not use\n" +
		"VB.0152,handlebar,1,B2,zorched,\n" +
		"VB.0153,left front brake caliper,1,B2,,with its pads\n" +
		"VB.0154,right front brake caliper,1,,order,\n" +
		"VB.0155,clutch lever,1,B3,missing,\n"
	r := take(t, list, intake.Options{Bike: "mine", Brand: "Hjelmark"}, nil)
	bike := text(r, "bike.yaml")
	for _, want := range []string{"VB.0150\n          condition: cracked\n      ",
		"VB.0151\n          condition: scrap\n          note: unsafe do not use", "VB.0152\n          note: zorched",
		"VB.0153\n          note: with its pads"} {
		if !strings.Contains(bike, want) {
			t.Errorf("lacks %q:\n%s", want, bike)
		}
	}
	if strings.Contains(bike, "VB.0155\n") || r.Boxed != 4 {
		t.Errorf("%d boxed, want 4, and not what is missing:\n%s", r.Boxed, bike)
	}
	for row, want := range map[int]string{4: "status: \"zorched\" is not understood", 5: "state: the note goes",
		7: "box: the list says missing"} {
		if said := strings.Join(left(r, row), "\n"); !strings.Contains(said, want) {
			t.Errorf("row %d: %q, want %q", row, said, want)
		}
	}
}
