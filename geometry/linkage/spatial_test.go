package linkage

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"
	"pgregory.net/rapid"

	"locksweep/fixtures/published"
	"locksweep/fixtures/trial"
	"locksweep/geometry/rigid"
)

// hookeJoint has its shafts meet at the origin, pins at radius r square to their shafts; the input
// pin starts in the line square to both.
func hookeJoint(between s1.Angle, r float64) Loop {
	in := Crank{Axis: rigid.Axis{Dir: r3.Vector{Z: 1}}, Arm: r3.Vector{X: r}}
	sin, cos := math.Sincos(float64(between))
	dir := r3.Vector{Y: -sin, Z: cos}
	out := Crank{Axis: rigid.Axis{Dir: dir}, Arm: dir.Cross(r3.Vector{X: r})}
	l := newLoop(in, out, r*math.Sqrt2, 1)
	l.Branch = l.branchOf(0, 0)
	return l
}

func TestHookesJoint(t *testing.T) {
	for _, p := range published.Hookes {
		l := hookeJoint(degrees(p.Between), 60)
		got, ok := l.output(degrees(p.Input))
		if !ok || apart(got, degrees(p.Output)) > p.Within {
			t.Errorf("%s: β %v, input %v: output %v, want %v", p.Work, p.Between, p.Input, got, p.Output)
		}
		want := math.Atan2(math.Sin(float64(degrees(p.Input)))*math.Cos(float64(degrees(p.Between))), math.Cos(float64(degrees(p.Input))))
		if apart(got, s1.Angle(want)) > 1e-12 {
			t.Errorf("β %v, input %v: off the formula by %g degrees", p.Between, p.Input, apart(got, s1.Angle(want)))
		}
	}
}

// TestHookesJointSpeed takes the speed of the driven shaft from the levers of the rod, as Rate does.
func TestHookesJointSpeed(t *testing.T) {
	for _, p := range published.HookeSpeeds {
		l := hookeJoint(degrees(p.Between), 60)
		rate := func(in s1.Angle) float64 {
			pin, pickup := balls(t, &l, in)
			rod := pickup.Sub(pin)
			return rod.Dot(l.In.Axis.Dir.Cross(pin)) / rod.Dot(l.Out.Axis.Dir.Cross(pickup))
		}
		least, greatest := math.Inf(1), 0.0
		for i := range 361 {
			r := p.Speed * rate(s1.Angle(i)*s1.Degree)
			least, greatest = min(least, r), max(greatest, r)
		}
		if math.Abs(least-p.Least) > p.Within || math.Abs(greatest-p.Greatest) > p.Within {
			t.Errorf("%s: driven speed from %v to %v, want %v to %v", p.Work, least, greatest, p.Least, p.Greatest)
		}
		cos := math.Cos(float64(degrees(p.Between)))
		equal := s1.Angle(math.Atan(1 / math.Sqrt(cos)))
		if out, _ := l.output(equal); math.Abs(rate(equal)-1) > 1e-12 || math.Abs(math.Tan(float64(out))-math.Sqrt(cos)) > 1e-12 {
			t.Errorf("%s: not alike where tan(output) = sqrt(cos β): rate %v, output %v", p.Work, rate(equal), out)
		}
	}
}

func TestBennettsLinkage(t *testing.T) {
	for _, p := range published.Bennetts {
		sinα, cosα := math.Sincos(float64(degrees(p.Alpha)))
		crank := math.Sin(float64(degrees(p.Beta)))
		for _, c := range []struct{ branch, want float64 }{{1, p.Output}, {-1, p.Other}} {
			l := newLoop(
				Crank{Axis: rigid.Axis{Dir: r3.Vector{Z: 1}}, Arm: r3.Vector{X: crank}},
				Crank{Axis: rigid.Axis{Point: r3.Vector{X: sinα}, Dir: r3.Vector{Y: -sinα, Z: cosα}}, Arm: r3.Vector{X: crank}},
				sinα, c.branch)
			got, ok := l.output(degrees(p.Input))
			if !ok || apart(got, degrees(c.want)) > p.Within {
				t.Errorf("%s: input %v, branch %v: output %.4f, want %v", p.Work, p.Input, c.branch, got.Degrees(), c.want)
			}
		}
		α, β := float64(degrees(p.Alpha)), float64(degrees(p.Beta))
		ratio := math.Sin((β+α)/2) / math.Sin((β-α)/2)
		if want := 2 * math.Atan(ratio*math.Tan(float64(degrees(p.Input))/2)); apart(s1.Angle(want), degrees(p.Output)) > p.Within {
			t.Errorf("table and formula differ: %v, %v", s1.Angle(want), p.Output)
		}
	}
}

// TestSphericalFourBar sets balls anywhere about two axes that meet in a point and solves the spherical
// triangles instead: the diagonal from In's ball to Out's pole by the cosine rule, then both angles
// at that pole (Todhunter, Spherical Trigonometry; the way is that of McCarthy, Geometric Design of
// Linkages, memory).
func TestSphericalFourBar(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		arc := func(name string) float64 { return rapid.Float64Range(0.2, 2.9).Draw(t, name) }
		ground, crank, rocker, coupler := arc("ground"), arc("crank"), arc("rocker"), arc("coupler")
		rIn, rOut := rapid.Float64Range(20, 200).Draw(t, "in radius"), rapid.Float64Range(20, 200).Draw(t, "out radius")
		φ := rapid.Float64Range(-3.1, 3.1).Draw(t, "input")

		// Poles in the x-z plane; angles at either pole are from the great circle through both.
		sinG, cosG := math.Sincos(ground)
		outPole := r3.Vector{X: sinG, Z: cosG}
		in := Crank{Axis: rigid.Axis{Dir: r3.Vector{Z: 1}}, Arm: r3.Vector{X: math.Sin(crank), Z: math.Cos(crank)}.Mul(rIn)}
		out := Crank{Axis: rigid.Axis{Dir: outPole}, Arm: r3.Vector{X: math.Sin(ground + rocker), Z: math.Cos(ground + rocker)}.Mul(rOut)}
		rod := math.Sqrt(rIn*rIn + rOut*rOut - 2*rIn*rOut*math.Cos(coupler))

		diagonal := math.Acos(math.Cos(crank)*cosG + math.Sin(crank)*sinG*math.Cos(φ))
		// At Out's pole: direction of In's ball, from the circle continued beyond the pole.
		toBall := math.Atan2(math.Sin(crank)*math.Sin(φ), math.Sin(crank)*math.Cos(φ)*cosG-math.Cos(crank)*sinG)
		cosAtPole := (math.Cos(coupler) - math.Cos(diagonal)*math.Cos(rocker)) / (math.Sin(diagonal) * math.Sin(rocker))
		// An inverse cosine loses digits near a dead point, and so do both angles with the ball near Out's pole.
		slack := 1e-13 / (math.Sin(diagonal) * math.Sqrt(max(1-cosAtPole*cosAtPole, 1e-20)))
		for _, branch := range [2]float64{1, -1} {
			l := newLoop(in, out, rod, branch)
			got, ok := l.output(s1.Angle(φ))
			if reach := 1 - math.Abs(cosAtPole); ok != (reach > 0) && math.Abs(reach)*math.Sin(diagonal) > 1e-12 {
				t.Fatalf("assembles %v, but cosine %v", ok, cosAtPole)
			}
			want := s1.Angle(toBall + branch*math.Acos(max(-1, min(cosAtPole, 1))))
			if ok && apart(got, want) > 1e-9+100*slack {
				t.Fatalf("branch %v: output %v, want %v, slack %g", branch, got, want, slack)
			}
		}
	})
}
