package drill

import (
	"errors"
	"testing"

	"github.com/golang/geo/r2"

	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
)

// TestHoleOfADragLink: only its own ball moves, on its own arm; the tie rod's hole is kept clear of and never used; the
// drop arm's pin moves as one for both sides.
func TestHoleOfADragLink(t *testing.T) {
	s := example.Read(t, "beam-cyclekart")
	s.RodsCutAnew()
	for _, on := range []On{Link, DropArm} {
		r, err := Search(s, on, Aims{}, Options{Step: 12, Best: trial.Every(1, 2), Slip: -1})
		if err != nil {
			t.Fatalf("%v: %v", on, err)
		}
		if len(r.Metals) != 1 || r.Judged < 3 {
			t.Errorf("%v: %d metals, %d places", on, len(r.Metals), r.Judged)
		}
		m := r.Metals[0]
		for i := range r.Best {
			p := &r.Best[i].Place
			if p.Pickups != r.Current.Pickups || p.Pins[0] != p.Pins[1] || on == Link && p.Pins != r.Current.Pins || on == DropArm && p.Link != r.Current.Link {
				t.Errorf("%v: place %+v, today %+v", on, p.Spot, r.Current.Spot)
			}
			if on == Link {
				apart := m.Plane(r2.Point{X: p.Link.X, Y: p.Link.Y}).Sub(m.Plane(r2.Point{X: p.Pickups[0].X, Y: p.Pickups[0].Y})).Norm()
				if apart < r.Options.Web*r.Options.Diameter-roundingSlack {
					t.Errorf("place %v is only %v from the tie rod's hole", p.Link, apart)
				}
			}
			fit := p.Fit(s)
			if fit.DragLink == s.DragLink || fit.DragLink.Pickup != p.Link || s.DragLink.Pickup != r.Current.Link {
				t.Errorf("%v: fitted to %v, the setup itself at %v", on, fit.DragLink.Pickup, s.DragLink.Pickup)
			}
		}
	}
}

// TestHolesThatALinkageHasNot are refused.
func TestHolesThatALinkageHasNot(t *testing.T) {
	rack, cross, two := example.Read(t, "rack-buggy"), example.Read(t, "beam-cyclekart"), example.Read(t, "shed-kart")
	for _, c := range []struct {
		s    *setup.Setup
		on   On
		opt  Options
		want error
	}{
		{rack, DropArm, Options{}, ErrNoDropArm}, {rack, Both, Options{}, ErrNoDropArm}, {rack, Link, Options{}, ErrNoDragLink},
		{two, Link, Options{}, ErrNoDragLink}, {cross, Link, Options{Each: true}, ErrOneHole}, {cross, DropArm, Options{Each: true}, ErrOneHole},
	} {
		if _, err := Search(c.s, c.on, Aims{}, c.opt); !errors.Is(err, c.want) {
			t.Errorf("%v of %s: %v, want %v", c.on, c.s.Name, err, c.want)
		}
	}
}
