package linkage

import (
	"errors"
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/optimize"
	"pgregory.net/rapid"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
)

// ballEquations is the independent statement of one corner: the ball of the steering arm, three
// unknown co-ordinates, stays on a circle about the kingpin (equations 0 and 1) and at the rod's
// length from the pin (equation 2). Everything is divided by the arm's lever, so that all three are of
// order one. Nothing here knows of the package's angles: the pin is turned by a quaternion.
type ballEquations struct {
	s           *setup.Setup
	side        setup.Side
	centre, dir r3.Vector
	arm, rise   float64 // distance to the centre and along the kingpin, over scale
	rod, scale  float64
	pin         r3.Vector
}

func newBallEquations(s *setup.Setup, side setup.Side, rod float64) *ballEquations {
	pickup := setup.FromCorner(side, s.Corners[side].Arm.Pickup)
	k := s.Kingpin(side)
	e := &ballEquations{s: s, side: side, centre: k.Point, dir: k.Dir, scale: pickup.Norm()}
	e.arm, e.rise, e.rod = 1, pickup.Dot(k.Dir)/e.scale, rod/e.scale
	return e
}

// turn sets the pin for a column angle, in kingpin co-ordinates over scale.
func (e *ballEquations) turn(column float64) {
	axis := e.s.Column.Axis()
	half := column / 2
	q := quat.Number{Real: math.Cos(half), Imag: axis.Dir.X * math.Sin(half), Jmag: axis.Dir.Y * math.Sin(half), Kmag: axis.Dir.Z * math.Sin(half)}
	v := e.s.Column.ColumnPoint(e.s.DropArm.Pins[e.side]).Sub(axis.Point)
	p := quat.Mul(quat.Mul(q, quat.Number{Imag: v.X, Jmag: v.Y, Kmag: v.Z}), quat.Conj(q))
	e.pin = r3.Vector{X: p.Imag, Y: p.Jmag, Z: p.Kmag}.Add(axis.Point).Sub(e.centre).Mul(1 / e.scale)
}

// residual returns what is left of the three equations at x.
func (e *ballEquations) residual(x []float64) [3]float64 {
	p := r3.Vector{X: x[0], Y: x[1], Z: x[2]}
	return [3]float64{(p.Norm2() - e.arm*e.arm) / 2, p.Dot(e.dir) - e.rise, (p.Sub(e.pin).Norm2() - e.rod*e.rod) / 2}
}

// jacobian returns the rows of derivatives.
func (e *ballEquations) jacobian(x []float64) *mat.Dense {
	d := e.pin
	return mat.NewDense(3, 3, []float64{x[0], x[1], x[2], e.dir.X, e.dir.Y, e.dir.Z, x[0] - d.X, x[1] - d.Y, x[2] - d.Z})
}

// solve runs gonum's general minimiser on the sum of squares, from x.
func (e *ballEquations) solve(x []float64) ([]float64, error) {
	problem := optimize.Problem{
		Func: func(x []float64) float64 {
			r := e.residual(x)
			return (r[0]*r[0] + r[1]*r[1] + r[2]*r[2]) / 2
		},
		Grad: func(grad, x []float64) {
			r, j := e.residual(x), e.jacobian(x)
			for i := range grad {
				grad[i] = r[0]*j.At(0, i) + r[1]*j.At(1, i) + r[2]*j.At(2, i)
			}
		},
		Hess: func(hess *mat.SymDense, x []float64) {
			r, j := e.residual(x), e.jacobian(x)
			for i := range 3 {
				for k := i; k < 3; k++ {
					h := j.At(0, i)*j.At(0, k) + j.At(1, i)*j.At(1, k) + j.At(2, i)*j.At(2, k)
					if i == k {
						h += r[0] + r[2]
					}
					hess.SetSym(i, k, h)
				}
			}
		},
	}
	settings := optimize.Settings{GradientThreshold: 1e-14, Converger: optimize.NeverTerminate{}, MajorIterations: 60}
	got, err := optimize.Minimize(problem, x, &settings, &optimize.Newton{})
	if got == nil {
		return nil, err
	}
	return e.polish(got.X)
}

// polish takes the last digits by Newton's method on the equations themselves: the sum of squares has lost
// them. It fails where x is not near a root.
func (e *ballEquations) polish(x []float64) ([]float64, error) {
	for range 2 {
		r := e.residual(x)
		var step mat.VecDense
		if err := step.SolveVec(e.jacobian(x), mat.NewVecDense(3, r[:])); err != nil {
			return nil, err
		}
		for i := range x {
			x[i] -= step.AtVec(i)
		}
	}
	for _, r := range e.residual(x) {
		if !(math.Abs(r) < 1e-13) {
			return nil, errors.New("no root")
		}
	}
	return x, nil
}

// angle is that of the ball at x about the kingpin from where it stands straight ahead as measured.
func (e *ballEquations) angle(x []float64) s1.Angle {
	from := setup.FromCorner(e.side, e.s.Corners[e.side].Arm.Pickup)
	to := r3.Vector{X: x[0], Y: x[1], Z: x[2]}
	return s1.Angle(math.Atan2(e.dir.Dot(from.Cross(to)), from.Dot(to)-e.dir.Dot(from)*e.dir.Dot(to)))
}

// tracer follows the ball from straight ahead, so that it stays on the assembly without being told which.
type tracer struct {
	*ballEquations
	column float64
	x      []float64
	sense  float64 // sign of the Jacobian's determinant: it changes only through a dead point
}

func newTracer(s *setup.Setup, side setup.Side, rod float64) (*tracer, error) {
	tr := &tracer{ballEquations: newBallEquations(s, side, rod)}
	p := setup.FromCorner(side, s.Corners[side].Arm.Pickup).Mul(1 / tr.scale)
	tr.turn(0)
	start := []float64{p.X, p.Y, p.Z}
	tr.sense = math.Copysign(1, mat.Det(tr.jacobian(start)))
	return tr, tr.to(0, start)
}

func (tr *tracer) to(column float64, from []float64) error {
	tr.turn(column)
	x, err := tr.solve(from)
	if err != nil {
		return err
	}
	if mat.Det(tr.jacobian(x))*tr.sense <= 0 {
		return errors.New("went over to the other assembly")
	}
	tr.column, tr.x = column, x
	return nil
}

// follow goes on to a column angle, in smaller steps where the solver fails or leaves the assembly.
func (tr *tracer) follow(column float64) error {
	for step := column - tr.column; tr.column != column; {
		next := tr.column + step
		if math.Abs(next-tr.column) >= math.Abs(column-tr.column) {
			next = column
		}
		if err := tr.to(next, tr.x); err != nil {
			if step /= 4; math.Abs(step) < 1e-7 {
				return err
			}
		}
	}
	return nil
}

// TestGeneralSolverAgrees follows random setups, 1,000 under -long, in both directions with gonum's general solver, up
// to where the linkage itself ends.
func TestGeneralSolverAgrees(t *testing.T) {
	const steps = 24
	poses, close := 0, 0
	for seed := range uint64(trial.Count(80, 1000)) {
		s := random.FromSeed(seed)
		m, err := New(s)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for _, dir := range [2]float64{1, -1} {
			end := m.end(dir)
			for _, side := range setup.Sides {
				tr, err := newTracer(s, side, m.Rods[side].Length)
				if err != nil {
					t.Fatalf("seed %d, %v: straight ahead: %v", seed, side, err)
				}
				for i := range steps + 1 {
					column := dir * end * (float64(i) / steps)
					p, ok := m.Pose(s1.Angle(column))
					if !ok {
						t.Fatalf("seed %d: no pose at %v", seed, s1.Angle(column))
					}
					poses++
					sp, rp := &p.Sides[side], &p.Rods[side]
					if m.Transmission(int(side), &p)[AtArm] < 0.2*s1.Degree {
						// At the dead point itself the equations have a double root and no solver has more than
						// half its digits: there the closed form must satisfy the equations instead.
						close++
						tr.turn(column)
						ball := rp.To.Sub(tr.centre).Mul(1 / tr.scale)
						for k, r := range tr.residual([]float64{ball.X, ball.Y, ball.Z}) {
							if math.Abs(r) > 1e-12 {
								t.Errorf("seed %d, %v, column %v: equation %d off by %g", seed, side, p.Column, k, r)
							}
						}
						continue
					}
					if err := tr.follow(column); err != nil {
						t.Fatalf("seed %d, %v, column %v: %v", seed, side, p.Column, err)
					}
					if by := apart(tr.angle(tr.x), sp.Spindle); by > 1e-8 {
						t.Errorf("seed %d, %v, column %v, transmission %v: spindle %.12g, solver %.12g, apart %g",
							seed, side, p.Column, m.Transmission(int(side), &p)[AtArm], sp.Spindle.Degrees(), tr.angle(tr.x).Degrees(), by)
					}
				}
			}
		}
	}
	t.Logf("%d poses compared, %d of them at a dead point", poses, close)
	if close > poses/10 {
		t.Errorf("%d of %d poses too close to a dead point to compare", close, poses)
	}
}

// end is where the linkage itself ends in a direction, radians.
func (m *Mechanism) end(dir float64) float64 {
	end := float64(m.Most)
	for _, side := range setup.Sides {
		if c, found := m.DeadPoint(int(side), dir); found {
			end = min(end, math.Abs(float64(c)))
		}
		if c, found := m.OverCentre(int(side), dir); found {
			end = min(end, math.Abs(float64(c)))
		}
	}
	return end
}

// TestUprightAxesObeyFreudenstein: K1 cos ψ - K2 cos φ + K3 = cos(φ - ψ), K1 = d/a, K2 = d/c, K3 = (a² - b² + c² + d²)/(2ac),
// crank φ and rocker ψ from the ground line (Freudenstein, Trans. ASME 76, 1954, and 77, 1955, memory; the signs
// are those of angles from crank centre to rocker centre).
func TestUprightAxesObeyFreudenstein(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		s := random.Setup(t)
		s.Column.Rake = 90 * s1.Degree
		for side := range s.Corners {
			s.Corners[side].Kingpin.Caster, s.Corners[side].Kingpin.Inclination = 0, 0
			s.Corners[side].Rod.Length = 0
		}
		m, err := New(s)
		if err != nil {
			t.Fatal(err)
		}
		for _, side := range setup.Sides {
			l := &m.Rods[side].Loop
			ground := l.Out.Axis.Point.Sub(l.In.Axis.Point)
			line := math.Atan2(ground.Y, ground.X)
			a, c, d := math.Hypot(l.In.Arm.X, l.In.Arm.Y), math.Hypot(l.Out.Arm.X, l.Out.Arm.Y), math.Hypot(ground.X, ground.Y)
			climb := ground.Z + l.Out.Arm.Z - l.In.Arm.Z
			b2 := l.Length*l.Length - climb*climb
			k1, k2, k3 := d/a, d/c, (a*a-b2+c*c+d*d)/(2*a*c)
			for _, dir := range [2]float64{1, -1} {
				for i := range 21 {
					column := dir * m.end(dir) * (float64(i) / 20)
					p, ok := m.Pose(s1.Angle(column))
					if !ok {
						t.Fatalf("no pose at %v", column)
					}
					φ := math.Atan2(l.In.Arm.Y, l.In.Arm.X) + column - line
					ψ := math.Atan2(l.Out.Arm.Y, l.Out.Arm.X) + float64(p.Sides[side].Spindle) - line
					if off := k1*math.Cos(ψ) - k2*math.Cos(φ) + k3 - math.Cos(φ-ψ); math.Abs(off) > 1e-10 {
						t.Errorf("%v, column %v: equation off by %g", side, p.Column, off)
					}
				}
			}
		}
	})
}
