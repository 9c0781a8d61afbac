package main

import (
	"bytes"
	"encoding"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"

	generate "github.com/invopop/jsonschema"
	"github.com/rogpeppe/go-internal/testscript"
	validate "github.com/santhosh-tekuri/jsonschema/v6"

	"matewell/cmd/matewell/internal/desk"
	"matewell/cmd/matewell/internal/shelf"
	"matewell/graph"
	"matewell/graph/sampletest"
	"matewell/queries/bike"
	"matewell/queries/conflicts"
	"matewell/queries/contents"
	"matewell/queries/demotest"
	"matewell/queries/differ"
	"matewell/queries/donor"
	"matewell/queries/evidence"
	"matewell/queries/fits"
	"matewell/queries/gaps"
	"matewell/queries/job"
	"matewell/queries/part"
	"matewell/queries/swap"
	"matewell/queries/why"
)

// answers are what the commands print as JSON.
var answers = map[string]any{
	"bike": bike.BikeAnswer{}, "bike-missing": bike.BikeMissingAnswer{}, "bike-leftover": bike.BikeLeftoverAnswer{},
	"bike-found": bike.BikeFoundAnswer{}, "bike-bags": bike.BikeBagsAnswer{},
	"bike-build": bike.BikeBuildAnswer{}, "bike-shop": bike.BikeShopAnswer{},
	"check":     checkAnswer{},
	"conflicts": conflicts.ConflictsAnswer{},
	"differ":    differ.DifferAnswer{},
	"donor":     donor.DonorReport{},
	"find":      part.FindAnswer{},
	"fits":      fits.FitsAnswer{},
	"gaps":      gaps.Answer{},
	"identify":  part.IdentifyAnswer{},
	"import":    importAnswer{},
	"job":       job.JobAnswer{},
	"list":      contents.Answer{},
	"load":      loadAnswer{},
	"merge":     mergeAnswer{},
	"record":    recordAnswer{}, "record-sheet": recordSheetAnswer{},
	"part":  part.PartAnswer{},
	"start": startAnswer{},
	"swap":  swap.SwapReport{}, "shop": swap.ShopAnswer{},
	"where": part.WhereAnswer{},
	"why":   why.WhyAnswer{},
}

// TestSchemas keeps the published schemas equal to the answer structs. Set
// MATEWELL_UPDATE to have them written.
func TestSchemas(t *testing.T) {
	alone(t)
	for name, answer := range answers {
		t.Run(name, func(t *testing.T) {
			want := makeSchema(t, name, answer)
			file := filepath.Join("schema", name+".json")
			if os.Getenv("MATEWELL_UPDATE") != "" {
				if err := os.WriteFile(file, want, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			got, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(got, want) {
				t.Errorf("%s is not what the answer struct says; set MATEWELL_UPDATE=1, run again, and read the diff", file)
			}
		})
	}
	for _, name := range schemaNames(answerSchemas()) {
		if _, ok := answers[name]; !ok {
			t.Errorf("schema/%s.json belongs to no answer", name)
		}
	}
}

// TestEveryAnswerHasASchema: a command with --format has an answer, so it must
// have a schema. What export writes is no answer.
func TestEveryAnswerHasASchema(t *testing.T) {
	for _, c := range newRootCmd(desk.Env{}).Commands() {
		flag := c.Flags().Lookup("format")
		if _, ok := answers[c.Name()]; !ok && flag != nil && flag.Value.Type() != "GRAPH" {
			t.Errorf("%s answers, but has no line in answers", c.Name())
		}
	}
}

// makeSchema makes the schema of an answer, with the structs' own comments as
// descriptions.
func makeSchema(t *testing.T, name string, answer any) []byte {
	t.Helper()
	comments, err := goComments()
	if err != nil {
		t.Fatal(err)
	}
	r := generate.Reflector{Anonymous: true, Mapper: asWords, CommentMap: comments}
	schema := r.Reflect(answer)
	addLeftOut(schema)
	schema.Title = "matewell " + name + " --format json"
	out, err := json.MarshalIndent(schema, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	return append(out, '\n')
}

// goComments are the comments of all structs that answers are made of, read once
// for all schemas.
var goComments = sync.OnceValues(func() (map[string]string, error) {
	var r generate.Reflector
	err := errors.Join(r.AddGoComments("matewell/queries", "../../queries"), r.AddGoComments("main", "."))
	return r.CommentMap, err
})

// addLeftOut gives the answer itself what every answer may have: what it leaves
// out of the user's own findings.
func addLeftOut(schema *generate.Schema) {
	left := generate.Reflector{Anonymous: true, DoNotReference: true}
	item := left.Reflect([]shelf.LeftFinding{})
	item.Version, item.Description = "", "what this answer leaves out of the user's own findings; absent when nothing is"
	answer := schema.Definitions[strings.TrimPrefix(schema.Ref, "#/$defs/")]
	answer.Properties.Set("left_out", item)
}

// asWords describes the types that are printed as a word.
func asWords(t reflect.Type) *generate.Schema {
	word := &generate.Schema{Type: "string"}
	switch t {
	case reflect.TypeFor[graph.Verdict]():
		for _, v := range []graph.Verdict{graph.Fits, graph.FitsWithChanges, graph.Unknown, graph.DoesNotFit} {
			word.Enum = append(word.Enum, v.String())
		}
		return word
	case reflect.TypeFor[evidence.Rank]():
		return word
	}
	if t.Implements(reflect.TypeFor[encoding.TextMarshaler]()) {
		return word
	}
	return nil
}

// keepsSchema compares an answer with the schema of its command.
func keepsSchema(name string, answer []byte) error {
	file, err := answerFiles.ReadFile("schema/" + name + ".json")
	if err != nil {
		return err
	}
	doc, err := validate.UnmarshalJSON(bytes.NewReader(file))
	if err != nil {
		return err
	}
	compiler := validate.NewCompiler()
	if err := compiler.AddResource(name, doc); err != nil {
		return err
	}
	schema, err := compiler.Compile(name)
	if err != nil {
		return err
	}
	value, err := validate.UnmarshalJSON(bytes.NewReader(answer))
	if err != nil {
		return err
	}
	return schema.Validate(value)
}

// answerOf is the script command "answerof NAME FILE": the file, or stdout, must
// be what the schema of the command says.
func answerOf(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: answerof NAME FILE")
	}
	ts.Check(keepsSchema(args[0], []byte(ts.ReadFile(args[1]))))
}

// inScripts reports whether a script checks the answer of a command.
func inScripts(t *testing.T, name string) bool {
	for _, file := range scriptFiles(t) {
		content, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(content), "\nanswerof "+name+" ") {
			return true
		}
	}
	return false
}

// TestAnswersKeepTheirSchema puts real questions to the built-in data. What reads or
// compares all of it is asked of less, unless all is to be tried.
func TestAnswersKeepTheirSchema(t *testing.T) {
	alone(t)
	type question struct {
		name string
		args []string
	}
	const single = "../../testdata/single"
	tests := []question{
		{"check", []string{"check", single}},
		{"differ", []string{"differ", "skerry-620/2003/eu/late", "skerry-620/2004/eu", "--assembly", "front-brake"}},
		{"fits", []string{"fits", "Tarnholt 207.4418b"}},
		{"fits", []string{"fits", "--on", "skerry-620/2003"}},
		{"bike-found", []string{"bike", "found", "winter-project"}},
		{"bike-missing", []string{"bike", "missing", "winter-project"}},
		{"bike-bags", []string{"bike", "bags", "winter-project"}},
		{"job", []string{"job", "front-calipers", "--on", "skerry-620/2003/eu/late"}},
		{"fits", []string{"fits", "Tarnholt 207.4418b", "--on", "skerry-620/2006"}},
		{"fits", []string{"fits", "Tarnholt 924.1014", "--twins"}},
		{"find", []string{"find", "bolt", "thread=M8x1.25"}},
		{"find", []string{"find", "bolt", "thread=M8x1.25", "length=1m"}},
		{"identify", []string{"identify", "TK6A-011377"}},
		{"identify", []string{"identify", "--on", "skerry-620/2003"}},
		{"where", []string{"where", "Tarnholt 207.4418b"}},
		{"part", []string{"part", "Tarnholt 207.4418b"}},
		{"swap", []string{"swap", "--on", "skerry-620/2003/eu/late", "front-brake/master-cylinder=Tarnholt 207.7003"}},
		{"swap", []string{"swap", "--on", "skerry-620/2002/eu", "controls/handlebar=Kellowick KW 2210-bk"}},
		{"swap", []string{"swap", "--on", "fjeld-750/2004/eu", "final-drive/chain=Thrumley 520-901C",
			"final-drive/sprocket-front=Thrumley 520-901C"}},
		{"why", []string{"why", "differ", "skerry-620/2003", "skerry-620/2004", "--position", "front-brake/caliper-left"}},
		{"conflicts", []string{"conflicts", "--on", "skerry-620/2002/eu", "--position", "front-brake/master-cylinder"}},
		{"gaps", []string{"gaps", "--on", "skerry-620/2003/eu/late", "--assembly", "front-brake"}},
		{"gaps", []string{"gaps", "--on", "skerry-620/2003/eu/late", "--swap", "front-brake/master-cylinder=207.7003"}},
		{"list", []string{"list"}},
		{"list", []string{"list", "positions", "lever", "--on", "skerry-620/2005/eu"}},
		{"find", []string{"find", "lever"}},
		{"load", []string{"load", single}}, // what is asked from here on is asked of it
	}
	if sampletest.All() {
		tests = append(tests, []question{{"load", []string{"load", "demo"}}, {"check", []string{"check", "demo"}},
			{"differ", []string{"differ", "skerry-620/2003", "skerry-620/2004"}},
			{"conflicts", []string{"conflicts", "--safety"}}, {"conflicts", []string{"conflicts"}}}...)
	}
	tried := map[string]bool{}
	data, cache := t.TempDir(), demoCache(t)
	for _, tt := range tests {
		t.Run(strings.Join(tt.args, " "), func(t *testing.T) {
			e, out, errs := testEnv(t)
			e.DirFS = os.DirFS
			e.Getenv = func(name string) string {
				return map[string]string{"XDG_CACHE_HOME": cache, "XDG_DATA_HOME": data}[name]
			}
			code := run(e, append(slices.Clone(tt.args), "--format", "json"))
			if code == exitUsage || code == exitFailed {
				t.Fatalf("exit %d: %s", code, errs)
			}
			// of all that could go to the places of a machine, one that does is enough
			isMachine := tt.name == "fits" && tt.args[1] == "--on"
			if open := demotest.OpenClasses(t, json.RawMessage(out.Bytes())); len(open) > 0 && code != exitUnsafe && !isMachine {
				t.Errorf("exit %d, and yet: %s", code, strings.Join(open, "; "))
			}
			if err := keepsSchema(tt.name, out.Bytes()); err != nil {
				t.Error(err)
			}
		})
		tried[tt.name] = true
	}
	for name := range answers {
		if !tried[name] && !inScripts(t, name) {
			t.Errorf("no question here, and no script with \"answerof %s\", shows its answer", name)
		}
	}
}
