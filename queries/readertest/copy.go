package readertest

import "reflect"

// copyOf is a deep copy, so that a caller who changes an answer does not change
// the facts.
func copyOf[T any](value T) T {
	return deep(reflect.ValueOf(value)).Interface().(T)
}

func deep(from reflect.Value) reflect.Value {
	to := reflect.New(from.Type()).Elem()
	to.Set(from)
	switch from.Kind() {
	case reflect.Slice:
		if from.IsNil() {
			return to
		}
		to.Set(reflect.MakeSlice(from.Type(), from.Len(), from.Len()))
		for i := range from.Len() {
			to.Index(i).Set(deep(from.Index(i)))
		}
	case reflect.Map:
		if from.IsNil() {
			return to
		}
		to.Set(reflect.MakeMapWithSize(from.Type(), from.Len()))
		for _, key := range from.MapKeys() {
			to.SetMapIndex(key, deep(from.MapIndex(key)))
		}
	case reflect.Struct:
		for i := range from.NumField() {
			if to.Field(i).CanSet() {
				to.Field(i).Set(deep(from.Field(i)))
			}
		}
	}
	return to
}
