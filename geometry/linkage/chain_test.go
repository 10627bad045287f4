package linkage

import (
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
)

// kinds are the linkages that are a chain or slide, by what makes them at random.
var kinds = map[string]func(seed uint64) *setup.Setup{"cross rod": random.CrossRod, "rack": random.Rack}

// distances is the independent statement of a whole linkage: every ball that a spindle carries, three unknown
// co-ordinates each, keeps its distance from two points of the kingpin; two balls of one spindle keep theirs from a third point of it; every rod keeps its
// length. All are equations between squares of distances, over the square of a scale. What the steering wheel moves is worked
// out apart: turned by Euler's matrix or shifted. Nothing here knows of the package's angles, axes of a loop or chains.
type distances struct {
	start  []r3.Vector // the unknown balls as measured
	fixed  []r3.Vector
	column float64
	// Each equation: the distance of ball a from ball b, or from the fixed point b, is that given.
	equations []equation
	input     func(column float64, i int) r3.Vector // the balls of the input
	scale     float64
	axes      [2][2]r3.Vector // two points on either kingpin
	turning   [2]int          // a ball of either spindle
}

type equation struct {
	a, b   int // a: the ball that it places; b: ball, or if other than ball, a fixed point or an input's ball
	to     int
	length float64
}

const (
	toBall = iota
	toFixed
	toInput
)

// newDistances states the linkage of a setup; lengths are those of the rods, in the order of the mechanism.
func newDistances(s *setup.Setup, lengths [2]float64) *distances {
	d := &distances{scale: 100}
	add := func(p r3.Vector) int { d.start = append(d.start, p); return len(d.start) - 1 }
	pickups := [2]int{}
	for _, side := range setup.Sides {
		k := s.Kingpin(side)
		d.axes[side] = [2]r3.Vector{k.Point.Sub(k.Dir.Mul(80)), k.Point.Add(k.Dir.Mul(120))}
		pickups[side] = add(s.CornerPoint(side, s.Corners[side].Arm.Pickup))
		d.turning[side] = pickups[side]
		d.onKingpin(side, pickups[side])
	}
	switch {
	case s.Rack != nil:
		way := s.Rack.Balls[setup.Left].Sub(s.Rack.Balls[setup.Right])
		way = way.Mul(1 / way.Norm())
		d.input = func(column float64, i int) r3.Vector {
			return s.Rack.Balls[i].Add(way.Mul(s.Rack.PerTurn * column / (2 * math.Pi)))
		}
		for side := range pickups {
			d.equations = append(d.equations, equation{pickups[side], side, toInput, lengths[side]})
		}
	default:
		near := s.DragLink.Side
		pin := s.Column.ColumnPoint(s.DropArm.Pins[near])
		rake := float64(s.Column.Rake)
		u := r3.Vector{X: -math.Cos(rake), Z: math.Sin(rake)}
		d.input = func(column float64, _ int) r3.Vector {
			sin, cos := math.Sincos(column)
			v, rest := pin.Sub(s.Column.Foot), 1-cos
			row := func(x, y, z float64) float64 { return x*v.X + y*v.Y + z*v.Z }
			return s.Column.Foot.Add(r3.Vector{
				X: row(cos+u.X*u.X*rest, -u.Z*sin+u.X*u.Y*rest, u.Y*sin+u.X*u.Z*rest),
				Y: row(u.Z*sin+u.X*u.Y*rest, cos+u.Y*u.Y*rest, -u.X*sin+u.Y*u.Z*rest),
				Z: row(-u.Y*sin+u.X*u.Z*rest, u.X*sin+u.Y*u.Z*rest, cos+u.Z*u.Z*rest),
			})
		}
		link := add(s.CornerPoint(near, s.DragLink.Pickup))
		// Both balls are rigid with a third point of the spindle, square to where they stand, so that distances tell well.
		k := s.Kingpin(near)
		mean := d.start[link].Add(d.start[pickups[near]]).Mul(0.5).Sub(k.Point)
		third := add(k.Point.Add(k.Dir.Cross(mean).Normalize().Mul(90)))
		for _, ball := range []int{link, third} {
			d.onKingpin(near, ball)
		}
		for _, e := range [2][2]int{{third, link}, {pickups[near], third}} {
			d.equations = append(d.equations, equation{e[0], e[1], toBall, d.start[e[0]].Sub(d.start[e[1]]).Norm()})
		}
		d.equations = append(d.equations, equation{link, 0, toInput, lengths[0]},
			equation{pickups[near.Other()], pickups[near], toBall, lengths[1]})
	}
	return d
}

// onKingpin holds a ball at its distances from two points of a kingpin.
func (d *distances) onKingpin(side setup.Side, ball int) {
	for _, p := range d.axes[side] {
		d.fixed = append(d.fixed, p)
		d.equations = append(d.equations, equation{ball, len(d.fixed) - 1, toFixed, d.start[ball].Sub(p).Norm()})
	}
}

// ends returns the vector of an equation from its far end to its ball, at x.
func (d *distances) span(e equation, x []float64) r3.Vector {
	at := func(i int) r3.Vector { return r3.Vector{X: x[3*i], Y: x[3*i+1], Z: x[3*i+2]}.Mul(d.scale) }
	switch e.to {
	case toFixed:
		return at(e.a).Sub(d.fixed[e.b])
	case toInput:
		return at(e.a).Sub(d.input(d.column, e.b))
	}
	return at(e.a).Sub(at(e.b))
}

func (d *distances) residual(x []float64) []float64 {
	r := make([]float64, len(d.equations))
	for i, e := range d.equations {
		v := d.span(e, x)
		r[i] = (v.Norm2() - e.length*e.length) / (2 * d.scale * d.scale)
	}
	return r
}

func (d *distances) jacobian(x []float64) *mat.Dense {
	j := mat.NewDense(len(d.equations), len(x), nil)
	for i, e := range d.equations {
		v := d.span(e, x).Mul(1 / d.scale)
		for k, c := range [3]float64{v.X, v.Y, v.Z} {
			j.Set(i, 3*e.a+k, c)
			if e.to == toBall {
				j.Set(i, 3*e.b+k, -c)
			}
		}
	}
	return j
}

// solve is gonum's minimiser (BFGS on the sum of squares) followed by Newton's method for the last digits.
func (d *distances) solve(x []float64) ([]float64, error) {
	half := func(r []float64) (sum float64) {
		for _, v := range r {
			sum += v * v / 2
		}
		return sum
	}
	problem := optimize.Problem{
		Func: func(x []float64) float64 { return half(d.residual(x)) },
		Grad: func(grad, x []float64) {
			var g mat.VecDense
			r := d.residual(x)
			g.MulVec(d.jacobian(x).T(), mat.NewVecDense(len(r), r))
			copy(grad, g.RawVector().Data)
		},
	}
	settings := optimize.Settings{GradientThreshold: 1e-9, Converger: optimize.NeverTerminate{}, MajorIterations: 300}
	got, err := optimize.Minimize(problem, x, &settings, &optimize.BFGS{})
	if got == nil {
		return nil, err
	}
	x = got.X
	for range 4 {
		r := d.residual(x)
		var step mat.VecDense
		if err := step.SolveVec(d.jacobian(x), mat.NewVecDense(len(r), r)); err != nil {
			return nil, err
		}
		for i := range x {
			x[i] -= step.AtVec(i)
		}
	}
	for _, v := range d.residual(x) {
		if !(math.Abs(v) < 1e-12) {
			return nil, errors.New("no root")
		}
	}
	return x, nil
}

// spindle is the angle that a ball of a spindle has turned about its kingpin.
func (d *distances) spindle(side setup.Side, x []float64) s1.Angle {
	axis := d.axes[side][1].Sub(d.axes[side][0]).Normalize()
	flat := func(p r3.Vector) r3.Vector {
		p = p.Sub(d.axes[side][0])
		return p.Sub(axis.Mul(axis.Dot(p)))
	}
	i := d.turning[side]
	from, to := flat(d.start[i]), flat(r3.Vector{X: x[3*i], Y: x[3*i+1], Z: x[3*i+2]}.Mul(d.scale))
	return s1.Angle(math.Atan2(axis.Dot(from.Cross(to)), from.Dot(to)))
}

// senses tells of every ball on which side it stands of the plane of the three points that place it: two of its kingpin and the
// one before it in the chain. They leave it two places, one on either side, and it changes over at a dead point only. The
// determinant of the whole Jacobian is the product of these: two balls that go over together leave its sign as it was.
func (d *distances) senses(x []float64) []bool {
	spans := make([][]r3.Vector, len(d.start))
	for _, e := range d.equations {
		spans[e.a] = append(spans[e.a], d.span(e, x))
	}
	list := make([]bool, len(spans))
	for i, s := range spans {
		list[i] = math.Signbit(s[0].Dot(s[1].Cross(s[2])))
	}
	return list
}

// follow goes on to a column angle in steps small enough that no ball is carried to another assembly.
func (d *distances) follow(x []float64, column float64) ([]float64, error) {
	for step := column - d.column; d.column != column; {
		next, was := d.column+step, d.column
		if math.Abs(next-was) >= math.Abs(column-was) {
			next = column
		}
		senses := d.senses(x) // where the input still stands as at x
		d.column = next
		got, err := d.solve(x)
		if err == nil && !slices.Equal(d.senses(got), senses) {
			err = errors.New("went over to another assembly")
		}
		if err != nil {
			d.column = was
			if step /= 4; math.Abs(step) < 1e-6 {
				return nil, err
			}
			continue
		}
		x = got
	}
	return x, nil
}

// TestChainsAgreeWithAGeneralSolver follows random linkages in both directions, both loops together, by gonum's general solver on
// equations of distances alone.
func TestChainsAgreeWithAGeneralSolver(t *testing.T) {
	const steps = 10
	setups := uint64(trial.Count(40, 500))
	for name, make := range kinds {
		poses, close := 0, 0
		for seed := range setups {
			s := make(seed)
			m, err := New(s)
			if err != nil {
				t.Fatalf("%s, seed %d: %v", name, seed, err)
			}
			for _, dir := range [2]float64{1, -1} {
				end := m.end(dir)
				d := newDistances(s, [2]float64{m.Rods[0].Length, m.Rods[1].Length})
				x := []float64{}
				for _, p := range d.start {
					x = append(x, p.X/d.scale, p.Y/d.scale, p.Z/d.scale)
				}
				if x, err = d.solve(x); err != nil {
					t.Fatalf("%s, seed %d: straight ahead: %v", name, seed, err)
				}
				for i := range steps + 1 {
					column := dir * end * (float64(i) / steps) * 0.999
					p, ok := m.Pose(s1.Angle(column))
					if !ok {
						t.Fatalf("%s, seed %d: no pose at %v", name, seed, s1.Angle(column))
					}
					poses++
					if m.Transmission(0, &p)[AtArm] < 1*s1.Degree || m.Transmission(1, &p)[AtArm] < 1*s1.Degree {
						close++
						break // the solver loses its digits at the double root
					}
					if x, err = d.follow(x, column); err != nil {
						t.Fatalf("%s, seed %d, column %v: %v", name, seed, p.Column, err)
					}
					for _, side := range setup.Sides {
						if by := apart(d.spindle(side, x), p.Sides[side].Spindle); by > 1e-8 {
							t.Errorf("%s, seed %d, column %v, %v: spindle %.12g, solver %.12g, apart %g",
								name, seed, p.Column, side, p.Sides[side].Spindle.Degrees(), d.spindle(side, x).Degrees(), by)
						}
					}
				}
			}
		}
		t.Logf("%s: %d poses, %d of them by a dead point", name, poses, close)
		if close > poses/8 {
			t.Errorf("%s: %d of %d poses too close to a dead point to compare", name, close, poses)
		}
	}
}
