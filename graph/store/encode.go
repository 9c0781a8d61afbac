package store

import (
	"fmt"
	"sync"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"matewell/graph/diag"
)

// Records are kept as JSON under the names of their Go fields. Empty and zero
// fields are left out and places are one text, so that a fitment takes some 200
// bytes and is read in about a microsecond. Of JSON, gob and CBOR it was the
// smallest that is text, which a literal has to be, and the quickest to read
// (DEVELOPERS.md has the figures). A field that a record lacks is zero, and one
// that nobody knows is passed over: adding a field needs no new format. What
// does is anything that makes an old record mean something else; see format.

// encoding gives the options of both directions, made when first needed.
var encoding = sync.OnceValue(func() json.Options {
	return json.JoinOptions(
		json.OmitZeroStructFields(true),
		json.Deterministic(true),
		json.WithMarshalers(json.MarshalToFunc(func(e *jsontext.Encoder, pos diag.Pos) error {
			return e.WriteToken(jsontext.String(formatPlace(pos)))
		})),
		json.WithUnmarshalers(json.UnmarshalFromFunc(func(d *jsontext.Decoder, pos *diag.Pos) error {
			text, err := d.ReadToken()
			if err == nil {
				*pos = parsePlace(text.String())
			}
			return err
		})))
})

// encode writes what decode reads.
func encode(v any) ([]byte, error) {
	text, err := json.Marshal(v, encoding())
	if err != nil {
		return nil, fmt.Errorf("store: write %T: %w", v, err)
	}
	return text, nil
}

// decode reads what encode wrote. What can't be read is damage.
func decode(text string, into any) error {
	if err := json.Unmarshal([]byte(text), into, encoding()); err != nil {
		return fmt.Errorf("%w: a record can't be read: %v", ErrDamaged, err)
	}
	return nil
}
