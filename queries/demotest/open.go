package demotest

import (
	"encoding/json"
	"fmt"
	"testing"

	"matewell/graph"
)

// OpenClasses are what an answer, as printed in JSON, calls unknown or no fit of a
// safety class: an answer with one of them ends with the exit status of an unsafe one.
func OpenClasses(t *testing.T, answer any) []string {
	t.Helper()
	text, err := json.Marshal(answer)
	if err != nil {
		t.Fatal(err)
	}
	var value any
	if err := json.Unmarshal(text, &value); err != nil {
		t.Fatal(err)
	}
	return openClasses(value)
}

func openClasses(value any) []string {
	var open []string
	switch v := value.(type) {
	case []any:
		for _, item := range v {
			open = append(open, openClasses(item)...)
		}
	case map[string]any:
		for _, key := range []string{"verdict", "after"} {
			said, _ := v[key].(string)
			bad := said == graph.Unknown.String() || said == graph.DoesNotFit.String()
			if classes := classesOf(v["safety"]); bad && classes != "" {
				open = append(open, fmt.Sprintf("%v%v%v %s (%s)", v["what"], v["position"], v["id"], said, classes))
			}
		}
		for _, item := range v {
			open = append(open, openClasses(item)...)
		}
	}
	return open
}

// classesOf is one class or several, as printed; empty for none.
func classesOf(value any) string {
	switch v := value.(type) {
	case string:
		return v
	case []any:
		if len(v) > 0 {
			return fmt.Sprint(v...)
		}
	}
	return ""
}
