package export

import (
	"reflect"
	"testing"
)

// TestNothingInAnObjectCannotBeWritten: encoding/json refuses a float that is no number, a complex number, a channel, a function and
// a map by anything else than words, integers and what writes itself; the first is what number is for. So none of them may
// stand in what is encoded.
func TestNothingInAnObjectCannotBeWritten(t *testing.T) {
	seen := map[reflect.Type]bool{reflect.TypeFor[number](): true}
	var walk func(of reflect.Type, at string)
	walk = func(of reflect.Type, at string) {
		if seen[of] {
			return
		}
		seen[of] = true
		switch of.Kind() {
		case reflect.Bool, reflect.Int, reflect.String:
		case reflect.Pointer, reflect.Slice, reflect.Array:
			walk(of.Elem(), at)
		case reflect.Struct:
			for i := range of.NumField() {
				walk(of.Field(i).Type, at+"."+of.Field(i).Name)
			}
		case reflect.Map:
			if at != "comparedOne.Figures" && at != "comparedOne.Difference" || of.Key().Kind() != reflect.String { // filled by split alone
				t.Errorf("%s is a %v", at, of)
			}
		default:
			t.Errorf("%s is a %v, which encoding may refuse", at, of)
		}
	}
	for _, object := range []any{
		comparedOne{}, compareJSON{}, sweepJSON{}, drillJSON{}, grindJSON{}, toleranceJSON{}, reconcileJSON{}, rodsJSON{}, loadsJSON{},
		number(0), bySide[number]{}, // what split returns
	} {
		of := reflect.TypeOf(object)
		walk(of, of.Name())
	}
	if len(seen) < 80 {
		t.Errorf("only %d types are looked at", len(seen))
	}
}
