package drill

import (
	"math"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"gonum.org/v1/gonum/optimize"

	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
)

// plane is a steering with everything upright, in the plane: written anew for this test, from circles
// that cross and the rule cot(outer) - cot(inner) = spacing / wheelbase (read in many textbooks on the theory
// of machines), with nothing of the solver that it checks.
type plane struct {
	spacing, wheelbase, column, down, spread float64 // mm
}

// wheel returns the turn of a side's wheel (+1 left, -1 right), positive to the left, with the column turned by
// φ; the ball of the steering arm lies at (forward, outboard) straight ahead.
func (p plane) wheel(side, φ, forward, outboard float64) float64 {
	pin := func(φ float64) complex128 {
		return complex(p.column, 0) + complex(-p.down, side*p.spread)*complex(math.Cos(φ), math.Sin(φ))
	}
	kingpin := complex(0, side*p.spacing/2)
	arm := complex(forward, side*outboard)
	rod, lever := abs(kingpin+arm-pin(0)), abs(arm)
	// The ball lies on the circle about the kingpin and on the one about the pin.
	to := pin(φ) - kingpin
	d := abs(to)
	along := (lever*lever - rod*rod + d*d) / (2 * d)
	across := math.Sqrt(lever*lever - along*along)
	unit := to / complex(d, 0)
	best, least := math.NaN(), math.Inf(1)
	for _, sign := range [2]float64{1, -1} {
		ball := unit * complex(along, sign*across)
		turn := ball / arm
		if angle := math.Atan2(imag(turn), real(turn)); math.Abs(angle) < least {
			best, least = angle, math.Abs(angle)
		}
	}
	return best
}

func abs(z complex128) float64 { return math.Hypot(real(z), imag(z)) }

// worst is the greatest departure of the inner wheel from ideal, in a left turn, over a range of mean steer, degrees.
func (p plane) worst(forward, outboard, from, to float64) float64 {
	const n = 30
	a, b := p.columnAt(from, forward, outboard), p.columnAt(to, forward, outboard)
	off := func(φ float64) float64 {
		inner, outer := p.wheel(1, φ, forward, outboard), p.wheel(-1, φ, forward, outboard)
		ideal := math.Atan2(1, 1/math.Tan(outer)-p.spacing/p.wheelbase)
		return math.Abs(inner-ideal) * 180 / math.Pi
	}
	step := (b - a) / n
	worst := max(off(a), off(b))
	for i := 1; i < n; i++ {
		φ := a + step*float64(i)
		if off(φ) < off(φ-step) || off(φ) < off(φ+step) {
			continue
		}
		low, high := φ-step, φ+step // a hill: cut into thirds
		for range 32 {
			if l, h := low+(high-low)/3, high-(high-low)/3; off(l) < off(h) {
				low = l
			} else {
				high = h
			}
		}
		worst = max(worst, off(low))
	}
	if math.IsNaN(worst) {
		return 1e3
	}
	return worst
}

// columnAt halves its way to the column angle with a mean steer of so many degrees.
func (p plane) columnAt(steer, forward, outboard float64) float64 {
	low, high := 0.0, 2.0
	for range 42 {
		mid := (low + high) / 2
		mean := (p.wheel(1, mid, forward, outboard) + p.wheel(-1, mid, forward, outboard)) / 2 * 180 / math.Pi
		if mean < steer {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// setup is the same steering as a file gives it, with the pickup at a place and nothing in the way.
func (p plane) setup(forward, outboard float64) *setup.Setup {
	s := &setup.Setup{Spacing: p.spacing}
	s.Vehicle = setup.Vehicle{Wheelbase: p.wheelbase, RearTrack: 2000, RearTyre: setup.Tyre{Diameter: 100, Width: 20}}
	for _, side := range setup.Sides {
		c := &s.Corners[side]
		c.Kingpin.Height, c.Stop = 200, 40*s1.Degree
		c.Wheel = setup.Wheel{Offset: 300, Tyre: setup.Tyre{Diameter: 100, Width: 20}}
		c.Arm.Pickup, c.Rod.Diameter = r3.Vector{X: forward, Y: outboard}, 2
		s.DropArm.Pins[side] = r3.Vector{X: p.down, Y: side.Sign() * p.spread}
	}
	s.Column = setup.Column{Foot: r3.Vector{X: p.column, Z: 200}, Rake: 90 * s1.Degree}
	s.Limits = setup.Limits{Clearance: 1, Transmission: 5 * s1.Degree}
	return s
}

// TestFindsKnownBestHole holds the search against an independent optimiser on independent equations: the hole
// with the least Ackermann error of a plane, symmetric steering (derived).
func TestFindsKnownBestHole(t *testing.T) {
	for _, c := range []struct {
		plane
		from, to float64
		start    r2.Point
	}{
		{plane{640, 1040, -60, 60, 14}, 5, 30, r2.Point{X: -100, Y: -20}},
		{plane{600, 1000, -90, 55, 20}, 5, 25, r2.Point{X: -95, Y: -25}},
		{plane{800, 1400, -40, 80, 0}, 5, 30, r2.Point{X: -110, Y: -20}},
	}[:trial.Every(1, 3)] {
		best, least := r2.Point{}, math.Inf(1)
		problem := optimize.Problem{Func: func(x []float64) float64 {
			if math.Abs(x[0]-c.start.X) > 30 || math.Abs(x[1]-c.start.Y) > 30 {
				return 1e3
			}
			return c.worst(x[0], x[1], c.from, c.to)
		}}
		starts := []float64{-15, 15}
		for _, dx := range starts {
			for _, dy := range starts[:trial.Every(1, 2)] {
				x := []float64{c.start.X + dx, c.start.Y + dy}
				for _, size := range []float64{5, 1, 0.2, 1, 0.2}[:trial.Every(3, 5)] {
					if result, _ := optimize.Minimize(problem, x, nil, &optimize.NelderMead{SimplexSize: size}); result != nil {
						x = result.X
					}
				}
				if f := problem.Func(x); f < least {
					best, least = r2.Point{X: x[0], Y: x[1]}, f
				}
			}
		}
		aims := Aims{Percent: 100, Lock: 20 * s1.Degree, From: s1.Angle(c.from) * s1.Degree, To: s1.Angle(c.to) * s1.Degree, Tie: strict}
		r, err := Search(c.setup(c.start.X, c.start.Y), Arm, aims, Options{NewMetal: true, Reach: 30, Step: trial.Every(8.0, 4), Best: 1, Slip: -1})
		if err != nil {
			t.Fatal(err)
		}
		p := r.Best[0].Pickups[setup.Left]
		got := r2.Point{X: p.X, Y: p.Y}
		if got.Sub(best).Norm() > 0.1 {
			t.Errorf("%+v: best hole %v with %.5f degrees, want %v with %.5f", c.plane, got, r.Best[0].Worst.Degrees(), best, least)
		}
	}
}
