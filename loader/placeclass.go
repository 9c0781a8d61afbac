package loader

import (
	"cmp"
	"slices"
	"strings"

	"matewell/graph"
)

// classedByPlace are the kinds of part that are everywhere: each has the class of what it
// holds, seals, draws back or carries. Common practice, no source.
var classedByPlace = []graph.KindID{"bearing", "circlip", "dust-seal", "gasket", "hose-clamp", "insert", "lock-plate",
	"o-ring", "rubber-hose", "split-pin", "spring"}

// joinedByName are the kinds of which a joint says what they hold. One that no joint names has the
// class of what it is named after, as the bolt of a gear arm, else of its assembly.
var joinedByName = []graph.KindID{"bolt", "collar", "grommet", "nut", "stud", "washer"}

func isClassedByPlace(kind graph.KindID) bool {
	return slices.Contains(classedByPlace, kind) || slices.Contains(joinedByName, kind)
}

// besidePlace are the classes of what a place stands beside, as its own file tells them.
type besidePlace struct {
	met      []graph.Safety // of what it meets, or holds together; none of the frame and the engine
	assembly []graph.Safety // of what else is in its assembly, but for what is everywhere
}

// class is that of a place of which neither the data nor its kind of part says any: the
// weightiest of what it meets; where nothing meets it, the one that most of its assembly
// have, the weightier of two, and none where less than half of it have any.
func (b besidePlace) class() graph.Safety {
	if len(b.met) > 0 {
		return slices.MinFunc(b.met, bySafety)
	}
	count := map[graph.Safety]int{}
	classed := 0
	for _, s := range b.assembly {
		if s != graph.SafetyNone {
			count[s]++
			classed++
		}
	}
	if 2*classed < len(b.assembly) || classed == 0 {
		return graph.SafetyNone
	}
	return slices.MinFunc(graph.SafetyClasses(), func(x, y graph.Safety) int {
		return cmp.Or(cmp.Compare(count[y], count[x]), bySafety(x, y))
	})
}

func bySafety(x, y graph.Safety) int { return cmp.Compare(x.Place(), y.Place()) }

// neighbours is what one file writes of a model, by place.
type neighbours struct {
	raw     *rawModel
	joints  map[string][]*rawJoint
	classes map[string]writtenClass
}

// writtenClass is the class that a file writes of a place, or its kind of part has.
type writtenClass struct {
	class graph.Safety
	kind  graph.KindID
}

func neighboursOf(w *world, raw *rawModel) neighbours {
	l := neighbours{raw: raw, joints: map[string][]*rawJoint{}, classes: map[string]writtenClass{}}
	for i := range raw.joints {
		j := &raw.joints[i].item
		for _, local := range append(texts(j.bolts), placeOf(j.a.text), placeOf(j.b.text)) {
			l.joints[local] = append(l.joints[local], j)
		}
	}
	for _, a := range raw.assemblies {
		for _, p := range a.item.positions {
			l.classes[a.name.text+"/"+p.name.text] = classOf(w, p.item)
		}
	}
	return l
}

func classOf(w *world, p rawPosition) writtenClass {
	c := writtenClass{class: graph.Safety(p.safety.text), kind: graph.KindID(p.kind.text)}
	if k, known := w.kinds.get(c.kind); known {
		c.class = cmp.Or(c.class, k.Safety)
	}
	if c.class == noSafety {
		c.class = graph.SafetyNone
	}
	return c
}

// class is that of a place by what its own file has beside it.
func (l neighbours) class(assembly, position string) graph.Safety {
	local := assembly + "/" + position
	if slices.Contains(joinedByName, l.classes[local].kind) {
		if len(l.joints[local]) > 0 {
			return graph.SafetyNone
		}
		if c, ok := l.namesake(assembly, position); ok {
			return c
		}
	}
	b := besidePlace{}
	for _, j := range l.joints[local] {
		for _, end := range []string{placeOf(j.a.text), placeOf(j.b.text)} {
			if c, ok := l.classes[end]; ok && end != local && !slices.Contains(holdsAll, c.kind) {
				b.met = append(b.met, c.class)
			}
		}
	}
	for _, a := range l.raw.assemblies {
		for _, p := range a.item.positions {
			c := l.classes[a.name.text+"/"+p.name.text]
			if a.name.text == assembly && !slices.Contains(classedByPlace, c.kind) && !slices.Contains(holdsAll, c.kind) {
				b.assembly = append(b.assembly, c.class)
			}
		}
	}
	return b.class()
}

// namesake is the class of the place in an assembly that another is named after, as the bolt
// of a gear arm is.
func (l neighbours) namesake(assembly, position string) (graph.Safety, bool) {
	for name := position; ; {
		at := strings.LastIndexByte(name, '-')
		if at < 0 {
			return graph.SafetyNone, false
		}
		name = name[:at]
		if c, ok := l.classes[assembly+"/"+name]; ok && !slices.Contains(joinedByName, c.kind) {
			return c.class, true
		}
	}
}

// holdsAll are the kinds that all else hangs on: what is on them has not their class.
var holdsAll = []graph.KindID{"frame", "engine"}

// placeOf is the place of a feature as a joint names it.
func placeOf(feature string) string {
	if at := strings.LastIndexByte(feature, '.'); at >= 0 {
		return feature[:at]
	}
	return feature
}
