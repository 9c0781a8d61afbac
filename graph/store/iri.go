package store

import (
	"strings"

	"github.com/cayleygraph/quad"

	"matewell/graph"
)

// identity is every sort of identity that has an IRI of its own.
type identity interface {
	graph.BrandID | graph.PartID | graph.KindID | graph.ModelID | graph.VariantID |
		graph.AssemblyID | graph.PositionID | graph.JointID | graph.RunID | graph.CircuitID |
		graph.StackID | graph.FitmentID | graph.SupersessionID | graph.SourceID |
		graph.FindingID | graph.BikeID | graph.JobID | personID | originID | featureKindID
}

// personID names someone who reported a finding, originID where a finding was
// taken from, featureKindID a feature kind. All are plain text in the domain.
type (
	personID      string
	originID      string
	featureKindID string
)

// scheme is the path under which identities of one sort live, as in
// https://matewell.example/id/part/Tarnholt%20207.4418b.
func scheme[T identity]() string {
	var id T
	switch any(id).(type) {
	case graph.BrandID:
		return "brand/"
	case graph.PartID:
		return "part/"
	case graph.KindID:
		return "kind/"
	case graph.ModelID:
		return "model/"
	case graph.VariantID:
		return "variant/"
	case graph.AssemblyID:
		return "assembly/"
	case graph.PositionID:
		return "position/"
	case graph.JointID:
		return "joint/"
	case graph.RunID:
		return "run/"
	case graph.CircuitID:
		return "circuit/"
	case graph.StackID:
		return "stack/"
	case graph.FitmentID:
		return "fitment/"
	case graph.SupersessionID:
		return "supersession/"
	case graph.SourceID:
		return "source/"
	case graph.FindingID:
		return "finding/"
	case graph.BikeID:
		return "bike/"
	case graph.JobID:
		return "job/"
	case personID:
		return "person/"
	case featureKindID:
		return "feature-kind/"
	default:
		return "origin/"
	}
}

// iri is the IRI of an identity.
func iri[T identity](id T) quad.IRI {
	return quad.IRI(identities + scheme[T]() + escape(string(id)))
}

// identityOf is the identity behind an IRI; false when the value is no IRI, or
// one of another sort, or a part of a record.
func identityOf[T identity](v quad.Value) (T, bool) {
	node, ok := v.(quad.IRI)
	if !ok {
		return "", false
	}
	rest, ok := strings.CutPrefix(string(node), identities)
	if !ok {
		return "", false
	}
	rest, ok = strings.CutPrefix(rest, scheme[T]())
	if !ok || strings.Contains(rest, "#") {
		return "", false
	}
	return T(unescape(rest)), true
}

// featureIRI is a feature at a position: the position's IRI with the feature's
// name as fragment.
func featureIRI(f graph.FeatureRef) quad.IRI {
	return iri(f.Position) + "#" + quad.IRI(escape(f.Feature))
}

// featureOf is the feature at a position behind an IRI.
func featureOf(v quad.Value) (graph.FeatureRef, bool) {
	node, _ := v.(quad.IRI)
	before, name, ok := strings.Cut(string(node), "#")
	if !ok {
		return graph.FeatureRef{}, false
	}
	position, ok := identityOf[graph.PositionID](quad.IRI(before))
	return graph.FeatureRef{Position: position, Feature: unescape(name)}, ok
}

// within is the IRI of a part of the record that node is or belongs to. Such
// nodes are recognised by their fragment: see records.
func within(node quad.IRI, path ...string) quad.IRI {
	sep := "#"
	if strings.Contains(string(node), "#") {
		sep = "/"
	}
	escaped := make([]string, len(path))
	for i, part := range path {
		escaped[i] = step(part)
	}
	return node + quad.IRI(sep+strings.Join(escaped, "/"))
}

// root is the IRI of the record that a node is or belongs to.
func root(node quad.IRI) quad.IRI {
	before, _, _ := strings.Cut(string(node), "#")
	return quad.IRI(before)
}

const hexDigits = "0123456789ABCDEF"

// escape percent-encodes every byte but the unreserved ones of RFC 3986 and
// the slash and colon that identities are made of.
func escape(text string) string {
	if strings.IndexFunc(text, func(r rune) bool { return r >= 0x80 || !plain(byte(r)) }) < 0 {
		return text
	}
	var b strings.Builder
	for i := range len(text) {
		if c := text[i]; plain(c) {
			b.WriteByte(c)
		} else {
			b.WriteByte('%')
			b.WriteByte(hexDigits[c>>4])
			b.WriteByte(hexDigits[c&15])
		}
	}
	return b.String()
}

func plain(c byte) bool {
	return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || '0' <= c && c <= '9' ||
		strings.IndexByte("-._~/:", c) >= 0
}

// unescape undoes escape. A percent sign that escape would not have written
// stands for itself.
func unescape(text string) string {
	if !strings.Contains(text, "%") {
		return text
	}
	var b strings.Builder
	for i := 0; i < len(text); i++ {
		if text[i] == '%' && i+2 < len(text) {
			high := strings.IndexByte(hexDigits, text[i+1])
			low := strings.IndexByte(hexDigits, text[i+2])
			if high >= 0 && low >= 0 {
				b.WriteByte(byte(high<<4 | low))
				i += 2
				continue
			}
		}
		b.WriteByte(text[i])
	}
	return b.String()
}
