package readertest

import (
	"reflect"
	"sync"
)

// copyOf is a deep copy, so that a caller who changes an answer does not change
// the facts.
func copyOf[T any](value T) T {
	to := value
	deepen(reflect.ValueOf(&to).Elem())
	return to
}

// deepen gives what a value points to in place of what it shares with another. Times
// and other types with fields of their own are values that nobody changes.
func deepen(v reflect.Value) {
	if flat(v.Type()) || !v.CanSet() {
		return
	}
	switch v.Kind() {
	case reflect.Slice:
		if v.IsNil() {
			return
		}
		to := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		reflect.Copy(to, v)
		if !flat(v.Type().Elem()) {
			for i := range to.Len() {
				deepen(to.Index(i))
			}
		}
		v.Set(to)
	case reflect.Map:
		if v.IsNil() {
			return
		}
		to, item := reflect.MakeMapWithSize(v.Type(), v.Len()), reflect.New(v.Type().Elem()).Elem()
		for each := v.MapRange(); each.Next(); {
			item.Set(each.Value())
			deepen(item)
			to.SetMapIndex(each.Key(), item)
		}
		v.Set(to)
	case reflect.Struct:
		for i := range v.NumField() {
			deepen(v.Field(i))
		}
	}
}

// known are the types that flat was asked about.
var known sync.Map

// flat reports whether values of a type share nothing that a copy must have of its
// own: whether no slice or map is in them.
func flat(t reflect.Type) bool {
	if is, ok := known.Load(t); ok {
		return is.(bool)
	}
	is := true
	switch t.Kind() {
	case reflect.Slice, reflect.Map:
		is = false
	case reflect.Struct:
		for i := range t.NumField() {
			is = is && (!t.Field(i).IsExported() || flat(t.Field(i).Type))
		}
	}
	known.Store(t, is)
	return is
}
