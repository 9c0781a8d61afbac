package loader

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"matewell/graph"
	"matewell/graph/measure"
)

// writtenOffer is an offer in the keys that offerForm reads.
type writtenOffer struct {
	Price     string               `yaml:"price"`
	Postage   string               `yaml:"postage,omitempty"`
	Condition string               `yaml:"condition,omitempty"`
	Variant   string               `yaml:"variant,omitempty"`
	Holds     []string             `yaml:"holds,omitempty"`
	Parts     []writtenOfferedPart `yaml:"parts,omitempty"`
}

type writtenOfferedPart struct {
	Part     string `yaml:"part"`
	Quantity int    `yaml:"quantity,omitempty"`
}

// OfferText writes an offer that was typed in one line as the content of a file of
// offers:
//
//	front-wheel,fork of fjeld-750/2003/eu; 180 EUR; 25 EUR; to inspect
//	2 x Tarnholt 945.1251, Tarnholt 207.7008; 12 EUR
//
// What is offered comes first, then the price, then postage and condition as far as
// they are given. name is what the offer is called; whole gives of a part's number as
// it was typed the one that it is known by. The error says what is missing.
func OfferText(name, typed string, whole func(number string) (string, error)) (string, error) {
	fields := strings.Split(typed, ";")
	for i := range fields {
		fields[i] = strings.TrimSpace(fields[i])
	}
	if len(fields) < 2 || fields[0] == "" || fields[1] == "" {
		return "", fmt.Errorf(`write what is offered and its price: "front-wheel of MODEL/YEAR/MARKET; 180 EUR; 25 EUR"`)
	}
	o := writtenOffer{Price: fields[1]}
	for _, field := range fields[2:] {
		_, err := measure.ParseMoney(field)
		switch {
		case field == "":
		case err == nil && o.Postage == "":
			o.Postage = field
		case isCondition(field) && o.Condition == "":
			o.Condition = field
		default:
			return "", fmt.Errorf("%q is neither postage, such as 8 EUR, nor one of: new, used, to inspect", field)
		}
	}
	if places, variant, of := strings.Cut(fields[0], " of "); of {
		o.Variant, o.Holds = strings.TrimSpace(variant), trimmed(strings.Split(places, ","))
	} else {
		for _, part := range trimmed(strings.Split(fields[0], ",")) {
			one := offeredPart(part)
			var err error
			if one.Part, err = whole(one.Part); err != nil {
				return "", err
			}
			o.Parts = append(o.Parts, one)
		}
	}
	return mappingText(map[string]map[string]writtenOffer{offersKey: {name: o}})
}

// offersKey is the key that offers stand under.
const offersKey = "offers"

func isCondition(word string) bool {
	return slices.Contains([]graph.Condition{graph.ConditionNew, graph.ConditionUsed, graph.ConditionInspect},
		graph.Condition(word))
}

func trimmed(words []string) []string {
	var out []string
	for _, w := range words {
		if w = strings.TrimSpace(w); w != "" {
			out = append(out, w)
		}
	}
	return out
}

// offeredPart reads "2 x Tarnholt 945.1251", or the number alone.
func offeredPart(typed string) writtenOfferedPart {
	count, number, many := strings.Cut(typed, " x ")
	if n, err := strconv.Atoi(strings.TrimSpace(count)); many && err == nil {
		return writtenOfferedPart{strings.TrimSpace(number), n}
	}
	return writtenOfferedPart{Part: typed}
}
