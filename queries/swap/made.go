package swap

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/examine"
	"matewell/queries/lists"
	"matewell/queries/machine"
	"matewell/queries/mating"
	"matewell/queries/trade"
)

// onceMade are the words for a verdict that holds once what is ordered was made
// and measured: nobody has seen it yet.
const onceMade = "fits once made and measured"

// BoltsFor are the bolts that an order changes: those that pass a shim, spacer or
// ring must be as much longer as that is thick; those of a bracket or adapter go
// into it from either side. Known are the joints that were read around there.
func BoltsFor(s *machine.Setup, known []graph.Joint, o examine.Outcome, order mating.Order, at graph.PositionID) []Get {
	var gets []Get
	if !order.Between && order.Thicker <= 0 {
		return nil
	}
	for _, j := range jointsThrough(s, known, o, at) {
		switch {
		case order.Between:
			gets = append(gets, boltsOfBoth(s, j, order)...)
		case order.Thicker > 0:
			gets = append(gets, longerBolts(s, j, order)...)
		}
	}
	return gets
}

// BoltsThroughPart are the bolts of an adapter that joins two hole patterns: the
// old ones went from one side into the other. None for any other adapter.
func BoltsThroughPart(s *machine.Setup, known []graph.Joint, o examine.Outcome, part graph.Part) []Get {
	for _, ref := range []graph.FeatureRef{o.Joint.A, o.Joint.B} {
		if kind := s.KindOf(ref); o.What != examine.OfJoint || kind != "bolt-pattern" && kind != "caliper-mount" {
			return nil
		}
	}
	word := GetAdapter
	if strings.Contains(string(part.Kind), "bracket") {
		word = GetBracket
	}
	gets := boltsOfBoth(s, o.Joint, mating.Order{Kind: word, Between: true})
	for i, ref := range []graph.FeatureRef{o.Joint.A, o.Joint.B} {
		if length, ok := throughLength(s, known, o.Joint, ref, part); ok {
			at := slices.IndexFunc(gets[i].Spec, func(f mating.Field) bool { return f.Name == "length" })
			gets[i].Spec[at].Value = length
			gets[i].Text += ", " + length
		}
		own, _ := machine.FeatureOfKind(part, "female-thread")
		if thread := machine.BestText(own, "thread"); thread != "" && machine.BestText(s.Side(ref).Feature, "thread") == "" {
			gets[i].Spec = append([]mating.Field{{Name: "thread", Value: thread}}, gets[i].Spec...)
			gets[i].Text = strings.Replace(gets[i].Text, "bolt through", "bolt "+thread+", through", 1)
		}
	}
	return gets
}

// throughLength is how long the bolts on one side of a part with two hole patterns
// must be: those through it reach as deep into the old thread as they did, and
// those through the other side reach as deep into the part as it has thread. It is
// false where too little was measured.
func throughLength(s *machine.Setup, known []graph.Joint, j graph.Joint, ref graph.FeatureRef,
	part graph.Part) (string, bool) {
	side := s.Side(ref).Feature
	if machine.BestText(side, "thread") == "" {
		through, okThrough := machine.LengthIn(side, "thickness")
		thread, _ := machine.FeatureOfKind(part, "female-thread")
		depth, okDepth := machine.LengthIn(thread, "depth")
		if !okThrough || !okDepth || machine.BestText(thread, "hole") != "through" {
			return "", false
		}
		return fromTo(through, depth, thread), true
	}
	plate, _ := machine.FeatureOfKind(part, "plate")
	thick, ok := machine.LengthIn(plate, "thickness")
	for _, k := range known {
		for _, ends := range [][2]graph.FeatureRef{{k.A, k.B}, {k.B, k.A}} {
			if !slices.Contains(j.Fasteners, ends[0].Position) || ends[1].Position != ref.Position {
				continue
			}
			long, okLong := machine.LengthIn(s.Side(ends[0]).Feature, "length")
			grip, okGrip := machine.LengthIn(s.Side(ends[1]).Feature, "grip")
			return measure.Format(long-grip+thick, measure.Length) + " under the head", ok && okLong && okGrip
		}
	}
	return "", false
}

// fromTo is how long a bolt is that goes through so many mm into a thread of such a depth: at
// least as deep as the thread must carry it, by trade.Engagement, where that is known.
func fromTo(through, depth float64, thread graph.Feature) string {
	most := measure.Format(through+depth, measure.Length)
	if value, err := measure.Parse(machine.BestText(thread, "thread"), measure.Thread); err == nil {
		claims, err := trade.Engagement(machine.BestText(thread, "material"), machine.BestText(thread, "bolt-class"),
			value.Thread.Nominal)
		if err == nil && claims[0].Diameters*value.Thread.Nominal <= depth {
			least := measure.Format(through+claims[0].Diameters*value.Thread.Nominal, measure.Length)
			if least == most {
				return most + " under the head"
			}
			return least + " to " + most + " under the head"
		}
	}
	return most + " under the head at most, and at least as deep in the thread as its maker wants"
}

// jointsThrough are the joints whose bolts pass what is ordered: the outcome's
// own, else those that hold a hole pattern of the place it goes to.
func jointsThrough(s *machine.Setup, known []graph.Joint, o examine.Outcome, at graph.PositionID) []graph.Joint {
	if o.What == examine.OfJoint {
		return []graph.Joint{o.Joint}
	}
	wanted := []string{"bolt-pattern"}
	if at == o.Ends[min(examine.LugEnd, len(o.Ends)-1)].Position && o.What == examine.OfDisc {
		wanted = []string{"caliper-mount"}
	}
	of := map[graph.PositionID]bool{}
	for _, e := range o.Ends {
		of[e.Position] = true
	}
	return lists.Kept(known, func(j graph.Joint) bool {
		return (j.A.Position == at || j.B.Position == at) && of[j.A.Position] && of[j.B.Position] &&
			slices.Contains(wanted, s.KindOf(j.A)) && slices.Contains(wanted, s.KindOf(j.B))
	})
}

// longerBolts are the bolts of a joint with something more under their heads.
func longerBolts(s *machine.Setup, j graph.Joint, order mating.Order) []Get {
	var gets []Get
	for _, id := range j.Fasteners {
		thread, ok := machine.FeatureOfKind(s.Seat(id).Part, "male-thread")
		if !ok {
			continue
		}
		size, word := orElse(machine.BestText(thread, "thread"), "thread as the old one's"), "bolt"
		if strings.Contains(string(s.Seat(id).Part.Kind), "stud") {
			word = "stud"
		}
		more := measure.Format(order.Thicker, measure.Length)
		length, was := more+" longer than the old one under the head: measure it", ""
		if v, err := measure.Parse(machine.BestText(thread, "length"), measure.Length); err == nil {
			length = measure.Format(v.Quantity.Nominal+order.Thicker, measure.Length) + " under the head"
			if word == "stud" {
				length = measure.Format(v.Quantity.Nominal+order.Thicker, measure.Length) + " long"
			}
			was = measure.Format(v.Quantity.Nominal, measure.Length)
		}
		spec := []mating.Field{{Name: "thread", Value: size}, {Name: "length", Value: length}}
		if was != "" {
			spec = append(spec, mating.Field{Name: "instead of", Value: was})
		}
		get := boltGet(id, s.BoltsWanted(j, id), size+", "+length, append(spec, classField(s, j, thread)))
		get.Text = word + " " + size + ", " + length
		get.makes = lengthened(thread, order.Thicker)
		gets = append(gets, get)
	}
	if len(gets) > 0 {
		return gets
	}
	n := max(2, min(s.HolesAt(j.A), s.HolesAt(j.B)))
	size := orElse(machine.BestText(s.Side(j.A).Feature, "thread"), machine.BestText(s.Side(j.B).Feature, "thread"))
	length := measure.Format(order.Thicker, measure.Length) + " longer under the head than the old one: measure it"
	spec := []mating.Field{{Name: "length", Value: length}, classField(s, j, graph.Feature{})}
	if size != "" {
		spec, length = append([]mating.Field{{Name: "thread", Value: size}}, spec...), size+", "+length
	}
	return []Get{boltGet(j.B.Position, n, length, spec)}
}

// lengthened is a thread that is by as much longer; zero when its length is not
// known.
func lengthened(thread graph.Feature, by float64) graph.Feature {
	v, err := measure.Parse(machine.BestText(thread, "length"), measure.Length)
	if err != nil {
		return graph.Feature{}
	}
	thread.Dims = maps.Clone(thread.Dims)
	thread.Dims["length"] = []graph.Reading{{Text: measure.Format(v.Quantity.Nominal+by, measure.Length)}}
	if grip, err := measure.Parse(machine.BestText(thread, "grip"), measure.Length); err == nil {
		thread.Dims["grip"] = []graph.Reading{{Text: measure.Format(grip.Quantity.Nominal+by, measure.Length)}}
	}
	return thread
}

// boltsOfBoth are the bolts of what has two hole patterns: one lot into each
// side. How long they must be its maker says, who says how thick it is.
func boltsOfBoth(s *machine.Setup, j graph.Joint, order mating.Order) []Get {
	at := j.B.Position
	var class mating.Field
	for _, id := range j.Fasteners {
		if thread, ok := machine.FeatureOfKind(s.Seat(id).Part, "male-thread"); ok {
			at, class = id, classField(s, j, thread)
			break
		}
	}
	if class.Name == "" {
		class = classField(s, j, graph.Feature{})
	}
	var gets []Get
	for _, ref := range []graph.FeatureRef{j.A, j.B} {
		f := s.Side(ref).Feature
		n := max(2, s.HolesAt(ref))
		where := ref.Position.Local()
		spec := []mating.Field{}
		var text string
		var into graph.PositionID
		if thread := machine.BestText(f, "thread"); thread != "" {
			into = ref.Position
			text = fmt.Sprintf("%s, through the %s into %s", thread, order.Kind, where)
			spec = append(spec, mating.Field{Name: "thread", Value: thread},
				mating.Field{Name: "length", Value: "as deep in the thread as the old ones went, and the " + order.Kind +
					"'s thickness"})
		} else {
			hole := orElse(machine.BestText(f, "hole"), "measure it")
			text = fmt.Sprintf("through %s into the %s, holes %s", where, order.Kind, hole)
			spec = append(spec, mating.Field{Name: "to go through", Value: "holes " + hole},
				mating.Field{Name: "length", Value: "through " + where + " and as deep into the " + order.Kind +
					" as its metal asks: its maker says"})
		}
		get := boltGet(at, n, text, append(spec, class))
		get.into = into
		gets = append(gets, get)
	}
	return gets
}

func orElse(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}

// MoreBolts are the bolts of a joint that has more holes than bolts sat there: all that
// its holes take, of those that stay.
func MoreBolts(s *machine.Setup, j graph.Joint) []Get {
	var gets []Get
	for _, id := range j.Fasteners {
		seat, n := s.Seat(id), s.BoltsWanted(j, id)
		if seat.Empty || seat.Changed || n <= s.Quantity(id) {
			continue
		}
		gets = append(gets, Get{What: GetBolts, Position: id, Part: seat.Part.ID, Name: seat.Part.Name, Quantity: n,
			Text: machine.NameOf(seat.Part), Price: PriceOf(seat.Part),
			Spec: []mating.Field{{Name: "instead of", Value: fmt.Sprintf("%d", s.Quantity(id))}}})
	}
	return gets
}

// boltGet is an order for bolts, with how many.
func boltGet(at graph.PositionID, n int, text string, spec []mating.Field) Get {
	return Get{What: GetBolts, Position: at, Quantity: n, Text: "bolt " + text, Spec: spec}
}

// classField is the property class that bolts of a joint must have: what belongs
// in the thread, else that of the bolt that is there, else as marked on it.
func classField(s *machine.Setup, j graph.Joint, bolt graph.Feature) mating.Field {
	for _, ref := range []graph.FeatureRef{j.A, j.B} {
		if class := machine.BestText(s.Side(ref).Feature, "bolt-class"); class != "" {
			return mating.Field{Name: "class", Value: class + ", as listed for the thread"}
		}
	}
	if class := machine.BestText(bolt, "class"); class != "" {
		return mating.Field{Name: "class", Value: class + ", as the one there, never lower"}
	}
	return mating.Field{Name: "class", Value: "as marked on the head of the one there, never lower"}
}
