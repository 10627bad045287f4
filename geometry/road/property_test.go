package road

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
)

// offLine is how far a point lies from a wheel's axle line, seen from above, mm.
func offLine(w *Wheel, p r2.Point) float64 {
	return p.Sub(plan(w.Stub)).Cross(plan(w.Leftward).Normalize())
}

// aimed turns a wheel, by bisection, until its axle line passes through p; it must pass within 80
// degrees either way.
func (c *Corner) aimed(t *rapid.T, p r2.Point) Wheel {
	at := func(a float64) Wheel { return c.At(math.Sincos(a)) }
	low, high := radians(-80), radians(80)
	first, last := at(low), at(high)
	rising := offLine(&last, p) > offLine(&first, p)
	if (offLine(&last, p) > 0) == (offLine(&first, p) > 0) {
		t.Fatalf("no steer towards %v", p)
	}
	for range 80 {
		mid := (low + high) / 2
		if w := at(mid); (offLine(&w, p) > 0) == rising {
			high = mid
		} else {
			low = mid
		}
	}
	return at(low)
}

// toeless draws a setup whose wheels have no static toe, so that the linkage is all there is.
func toeless(t *rapid.T) *setup.Setup {
	s := random.Setup(t)
	for side := range s.Corners {
		s.Corners[side].Wheel.Toe = 0
	}
	return s
}

// TestNoErrorWhereAxleLinesMeet aims both wheels, on tilted kingpins and with stubs ahead of them, at one
// point of the rear axle line.
func TestNoErrorWhereAxleLinesMeet(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		s := toeless(t)
		v := New(s)
		inner := setup.Side(rapid.IntRange(0, 1).Draw(t, "inner side"))
		sign := inner.Sign()
		beyond := v.Wheelbase * rapid.Float64Range(0.4, 10).Draw(t, "beyond the inner kingpin")
		centre := r2.Point{X: -v.Wheelbase, Y: sign * (s.Spacing/2 + beyond)}
		var wheels [2]Wheel
		for side := range wheels {
			wheels[side] = v.Corners[side].aimed(t, centre)
		}
		turn := v.Turn(&wheels)
		if turn.Inner != inner {
			t.Fatalf("inner %v, want %v", turn.Inner, inner)
		}
		if !near(turn.Error.Degrees(), 0, 1e-9) {
			t.Errorf("error %v, want 0 (%+v)", turn.Error, turn)
		}
		if turn.Centre.Sub(centre).Norm() > 1e-7*centre.Norm() {
			t.Errorf("centre %v, want %v", turn.Centre, centre)
		}
		for _, side := range setup.Sides { // the same question, asked of each wheel by itself
			slide := Slide{Radius: math.Abs(centre.Y), Turn: sign}
			if got := v.FreeSteer(side, slide); !near((got - wheels[side].Steer).Degrees(), 0, 1e-9) {
				t.Errorf("%v: rolls free at %v, want %v", side, got, wheels[side].Steer)
			}
		}
	})
}

// TestIdealInnerPutsTheAxleLineThrough turns the inner wheel to the ideal angle and looks where its axle line
// goes.
func TestIdealInnerPutsTheAxleLineThrough(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		v := New(toeless(t))
		into := setup.Side(rapid.IntRange(0, 1).Draw(t, "inner side"))
		way := into.Sign()
		outer, inner := rapid.Float64Range(6, 30).Draw(t, "outer"), rapid.Float64Range(6, 50).Draw(t, "inner")
		wheels := v.steered(degrees(way*inner), degrees(way*outer))
		if way < 0 {
			wheels = v.steered(degrees(way*outer), degrees(way*inner))
		}
		turn := v.Turn(&wheels)
		if turn.Inner != into {
			t.Fatalf("inner %v, want %v", turn.Inner, into)
		}
		at := v.Corners[turn.Inner].atSteer(t, s1.Angle(way)*turn.IdealInner)
		if off := offLine(&at, turn.Centre); !near(off, 0, 1e-9*max(1000, turn.Centre.Norm())) {
			t.Errorf("the axle line passes the centre %v by %v mm", turn.Centre, off)
		}
	})
}

// TestRateIsTheSlope compares with central differences.
func TestRateIsTheSlope(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		c := New(random.Setup(t)).Corners[rapid.IntRange(0, 1).Draw(t, "side")]
		spindle, h := radians(rapid.Float64Range(-70, 70).Draw(t, "spindle")), 1e-5
		at := func(a float64) Wheel { return c.At(math.Sincos(a)) }
		slope := math.Remainder(float64(at(spindle+h).Steer-at(spindle-h).Steer), 2*math.Pi) / (2 * h)
		if got := at(spindle).Rate; !near(got, slope, 1e-8) {
			t.Errorf("rate %v, slope %v", got, slope)
		}
	})
}

// TestMirroredWheels: a mirrored corner turned the other way gives the mirrored wheel.
func TestMirroredWheels(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		s := random.Setup(t)
		s.Corners[setup.Right] = s.Corners[setup.Left]
		v := New(s)
		a := degrees(rapid.Float64Range(-80, 80).Draw(t, "spindle"))
		left, right := v.Corners[setup.Left].At(math.Sincos(float64(a))), v.Corners[setup.Right].At(math.Sincos(float64(-a)))
		right.Contact.Y, right.Centre.Y = -right.Contact.Y, -right.Centre.Y
		if !near((left.Steer+right.Steer).Degrees(), 0, 1e-12) || !near((left.Camber-right.Camber).Degrees(), 0, 1e-12) ||
			left.Contact.Sub(right.Contact).Norm() > 1e-9 || left.Centre.Sub(right.Centre).Norm() > 1e-9 || !near(left.Rate, right.Rate, 1e-12) {
			t.Errorf("left %+v\nright, mirrored %+v", left, right)
		}
	})
}
