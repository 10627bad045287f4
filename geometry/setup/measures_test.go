package setup_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"locksweep/fixtures"
	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
)

// unmeasured are fields that no file gives as a measure: names, and what reading makes.
var unmeasured = map[string]bool{
	"Setup.Name": true, "Setup.Unit": true, "Setup.Variants": true, "Setup.Changes": true, "Setup.Rehung": true, "Setup.With": true,
	"Setup.Checks": true, "Setup.Before": true, "Setup.Made": true, // measured on the vehicle, which they set apart from no other; and what was before [change]
	"Setup.Assumed": true, "Setup.Accuracy": true, "Hole.Name": true, "Part.Name": true, "Part.Line": true,
	"Kingpin.Ahead": true, "Wheel.Up": true, "Plate.Place": true, // nought and nil in every file; only [change] makes more of them
	"Tyre.Shoulder": true, // of the rear tyre, which has none; that of the front stands in its own test below
}

// leaves calls f for every number, flag and word within v, with the path of fields to it.
func leaves(v reflect.Value, path string, f func(path string, v reflect.Value)) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			leaves(v.Elem(), path, f)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			name := v.Type().Name() + "." + v.Type().Field(i).Name
			if !unmeasured[name] {
				leaves(v.Field(i), path+"."+v.Type().Field(i).Name, f)
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			leaves(v.Index(i), fmt.Sprintf("%s[%d]", path, i), f)
		}
	default:
		f(path, v)
	}
}

// told is everything that the measures of a setup say.
func told(s *setup.Setup) string {
	var b strings.Builder
	for _, m := range s.Measures() {
		fmt.Fprintf(&b, "%s %q", m.Key, m.Word)
		for _, f := range m.Figures {
			fmt.Fprintf(&b, " %v", *f)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// TestEveryFieldIsMeasured: whatever number, flag or word of a setup is changed, the measures say something else; found
// by going through the type itself, so that a field of tomorrow is not forgotten.
func TestEveryFieldIsMeasured(t *testing.T) {
	for _, s := range []*setup.Setup{everything(t), example.Read(t, "beam-cyclekart"), example.Read(t, "rack-buggy")} {
		everyField(t, s)
	}
}

// unused are fields of other linkages, and what a cross rod has but once.
func unused(s *setup.Setup, path string) bool {
	switch {
	case s.Rack != nil:
		return strings.HasPrefix(path, ".Column") || strings.HasPrefix(path, ".DropArm")
	case s.DragLink != nil:
		return strings.Contains(path, ".Corners[0].Rod.Length") || strings.Contains(path, "Pins[1]") || strings.Contains(path, "Bolts[1]")
	}
	return false
}

func everyField(t *testing.T, s *setup.Setup) {
	t.Helper()
	changed := 0
	leaves(reflect.ValueOf(s.Clone()).Elem(), "", func(path string, _ reflect.Value) {
		if unused(s, path) {
			return
		}
		c := s.Clone()
		leaves(reflect.ValueOf(c).Elem(), "", func(p string, v reflect.Value) {
			if p != path {
				return
			}
			switch v.Kind() {
			case reflect.Float64:
				v.SetFloat(v.Float() + 0.25)
			case reflect.Bool:
				v.SetBool(!v.Bool())
			case reflect.Int:
				v.SetInt((v.Int() + 1) % 3)
			case reflect.String:
				v.SetString(v.String() + "x")
			default:
				t.Errorf("%s: cannot be changed by this test", path)
			}
		})
		changed++
		if told(c) == told(s) {
			t.Errorf("%s is no measure", path)
		}
	})
	if changed < trial.Enough(100) {
		t.Errorf("only %d fields were tried", changed)
	}
	c := s.Clone()
	c.Corners[setup.Right].Wheel.Tyre.Shoulder++
	if told(c) == told(s) {
		t.Error("the front tyre's shoulder is no measure")
	}
}

// everything is an example with one of every part kind and hole.
func everything(t *testing.T) *setup.Setup {
	t.Helper()
	s := example.Read(t, fixtures.Examples[0].Name, "arm.bolt=[0,1,9]", "drop_arm.left_bolt=[0,1,9]", "drop_arm.right_bolt=[1,0,9]", `ignore=[["tyre","tie rod"]]`)
	s.DropArm.Metal.Holes = append(s.DropArm.Metal.Holes, s.Corners[0].Arm.Metal.Holes[0])
	s.Parts = append(s.Parts, setup.Part{Name: "disc", On: setup.OnSpindle, Sides: [2]bool{true, false}, Disc: &setup.Disc{Width: 4}})
	var kinds [3]bool
	for _, p := range s.Parts {
		kinds = [3]bool{kinds[0] || p.Tube != nil, kinds[1] || p.Plate != nil, kinds[2] || p.Disc != nil}
	}
	if kinds != [3]bool{true, true, true} {
		t.Fatalf("part kinds %v", kinds)
	}
	return s
}

// TestCloneSharesNothing: what is written into a copy's measures leaves the original alone, and arrives in the copy.
func TestCloneSharesNothing(t *testing.T) {
	s := everything(t)
	before := told(s)
	c := s.Clone()
	for _, m := range c.Measures() {
		for i, f := range m.Figures {
			*f += float64(i) + 1
		}
	}
	if told(s) != before {
		t.Error("the original changed")
	}
	a, b := s.Measures(), c.Measures()
	for k := range a {
		for i := range a[k].Figures {
			if by := *b[k].Figures[i] - *a[k].Figures[i]; by < float64(i)+0.999 || by > float64(i)+1.001 {
				t.Errorf("%s: figure %d changed by %v: it stands in two measures, or in none", a[k].Key, i, by)
			}
		}
	}
}
