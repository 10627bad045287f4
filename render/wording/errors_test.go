package wording_test

import (
	"errors"
	"fmt"
	"testing"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/render/wording"
)

// TestRodsThatCannotAssembleAreTold: by how much, in the unit of the file, and what would reach; what stands around it stays.
func TestRodsThatCannotAssembleAreTold(t *testing.T) {
	for _, c := range []struct {
		err  linkage.AssemblyError
		want string
	}{
		{linkage.AssemblyError{Name: "left tie rod", Rod: 200, Least: 230.483, Greatest: 390.483}, "the left tie rod is 30.5 mm too short to assemble with the column centred: it has 200 mm, at least 230.483 mm would reach"},
		{linkage.AssemblyError{Name: "right tie rod", Rod: 400, Least: 230.483, Greatest: 390.483}, "the right tie rod is 9.52 mm too long to assemble with the column centred: it has 400 mm, at most 390.483 mm would reach"},
		{linkage.AssemblyError{Name: "drag link", Rod: 203.2, Least: 230.48337, Greatest: 390.48337, Unit: setup.Inch}, "the drag link is 1.07 in too short to assemble with the column centred: it has 8 in, at least 9.07415 in would reach"},
	} {
		err := fmt.Errorf("with the finished outlines: %w", &c.err)
		got := wording.Error(err)
		if want := "with the finished outlines: " + c.want; got.Error() != want || !errors.Is(got, err) {
			t.Errorf("%+v: %q, want %q", c.err, got, want)
		}
	}
	if other := errors.New("else"); wording.Error(other) != other {
		t.Error("another error is put into other words")
	}
}
