package page

import (
	"encoding/json"
	"io"
	"reflect"
)

// WriteJSON prints an answer. A list that holds nothing is an empty list and
// never null, so that a program need not tell the two apart.
func WriteJSON(w io.Writer, answer any) error {
	whole := reflect.New(reflect.TypeOf(answer)).Elem()
	whole.Set(reflect.ValueOf(answer))
	fillLists(whole)
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(whole.Interface())
}

// fillLists gives every nil list below a value an empty one in its place.
func fillLists(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			fillLists(v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if field := v.Field(i); field.CanSet() {
				fillLists(field)
			}
		}
	case reflect.Slice:
		if v.IsNil() {
			v.Set(reflect.MakeSlice(v.Type(), 0, 0))
		}
		for i := range v.Len() {
			fillLists(v.Index(i))
		}
	}
}
