package store_test

import (
	"encoding/json"
	"reflect"
	"testing"
	"time"
)

// same compares by what is kept: zones by name, instants as such, nil and
// empty lists alike.
func same(t interface {
	Helper()
	Fatalf(string, ...any)
}, what string, got, want any) {
	t.Helper()
	if !equal(reflect.ValueOf(got), reflect.ValueOf(want)) {
		t.Fatalf("%s:\n got %s\nwant %s", what, show(got), show(want))
	}
}

func show(v any) string {
	text, err := json.Marshal(v)
	if err != nil {
		return err.Error()
	}
	return string(text)
}

func equal(a, b reflect.Value) bool {
	if a.IsValid() != b.IsValid() || a.IsValid() && a.Type() != b.Type() {
		return false
	}
	if !a.IsValid() {
		return true
	}
	if a.Kind() == reflect.Interface {
		return equal(a.Elem(), b.Elem())
	}
	switch x := a.Interface().(type) {
	case time.Time:
		return x.Equal(b.Interface().(time.Time))
	case *time.Location:
		return x.String() == b.Interface().(*time.Location).String()
	}
	switch a.Kind() {
	case reflect.Slice:
		if a.Len() != b.Len() {
			return false
		}
		for i := range a.Len() {
			if !equal(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	case reflect.Struct:
		for i := range a.NumField() {
			if !a.Type().Field(i).IsExported() {
				continue // what a value notes for itself
			}
			if !equal(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	}
	return reflect.DeepEqual(a.Interface(), b.Interface())
}

func TestSameTellsApart(t *testing.T) {
	type both struct {
		At   time.Time
		Zone *time.Location
		List []int
	}
	base := both{time.UnixMilli(5), time.UTC, []int{1}}
	for _, other := range []both{{time.UnixMilli(6), time.UTC, []int{1}}, {time.UnixMilli(5), time.FixedZone("X", 0), []int{1}}, {time.UnixMilli(5), time.UTC, nil}} {
		if equal(reflect.ValueOf(base), reflect.ValueOf(other)) {
			t.Errorf("%s passes for %s", show(other), show(base))
		}
	}
	if !equal(reflect.ValueOf(base), reflect.ValueOf(both{time.UnixMilli(5).UTC(), time.UTC, []int{1}})) {
		t.Error("the same differs")
	}
}
