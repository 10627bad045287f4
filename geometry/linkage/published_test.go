package linkage

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/published"
	"locksweep/geometry/rigid"
)

func degrees(d float64) s1.Angle { return s1.Angle(d) * s1.Degree }

// apart is the difference of two angles in degrees, the short way round.
func apart(a, b s1.Angle) float64 {
	return math.Abs(math.Remainder(float64(a-b), 2*math.Pi)) * 180 / math.Pi
}

// planar is a four-bar in the plane: crank centre at the origin, rocker centre at ground along x, angles
// from x. Crank and rocker angle are In and Out.
func planar(ground, crank, coupler, rocker, branch float64) Loop {
	up := r3.Vector{Z: 1}
	return newLoop(
		Crank{Axis: rigid.Axis{Dir: up}, Arm: r3.Vector{X: crank}},
		Crank{Axis: rigid.Axis{Point: r3.Vector{X: ground}, Dir: up}, Arm: r3.Vector{X: rocker}}, coupler, branch)
}

// balls returns both ball centres with In at an angle.
func balls(t testing.TB, l *Loop, in s1.Angle) (pin, pickup r3.Vector) {
	t.Helper()
	out, ok := l.output(in)
	if !ok {
		t.Fatalf("does not assemble at %v: %+v", in, l)
	}
	return l.In.at(math.Sincos(float64(in))), l.Out.at(math.Sincos(float64(out)))
}

func TestPlanarFourBars(t *testing.T) {
	for _, p := range published.FourBars {
		for _, c := range []struct {
			name            string
			branch          float64
			coupler, rocker float64
		}{{"open", -1, p.OpenCoupler, p.OpenRocker}, {"crossed", 1, p.CrossedCoupler, p.CrossedRocker}} {
			l := planar(p.Ground, p.Crank, p.Coupler, p.Rocker, c.branch)
			rocker, _ := l.output(degrees(p.Angle))
			pin, pickup := balls(t, &l, degrees(p.Angle))
			rod := pickup.Sub(pin)
			coupler := s1.Angle(math.Atan2(rod.Y, rod.X))
			if apart(rocker, degrees(c.rocker)) > p.Within || apart(coupler, degrees(c.coupler)) > p.Within {
				t.Errorf("%s, %s: coupler %.3f, rocker %.3f, want %v, %v (%+v)",
					p.Work, c.name, coupler.Degrees(), rocker.Degrees(), c.coupler, c.rocker, p)
			}
		}
	}
}

func TestTrapezoid(t *testing.T) {
	for _, p := range published.Trapezoids {
		l := crossRod(p.Spacing, p.Arm, degrees(p.Aim))
		for i, inner := range p.Inner {
			outer, ok := l.output(degrees(inner))
			if !ok || apart(outer, degrees(p.Outer[i])) > p.Within {
				t.Errorf("%s: inner %v gives outer %.4f, want %v", p.Work, inner, outer.Degrees(), p.Outer[i])
			}
			// The printed relation itself, to rounding.
			β, δi, δo, w := float64(degrees(p.Aim)), float64(degrees(inner)), float64(outer), p.Spacing/p.Arm
			left := math.Sin(β+δi) + math.Sin(β-δo)
			right := w - math.Sqrt(math.Pow(w-2*math.Sin(β), 2)-math.Pow(math.Cos(β-δo)-math.Cos(β+δi), 2))
			if math.Abs(left-right) > 1e-12 {
				t.Errorf("%s: inner %v: relation off by %g", p.Work, inner, left-right)
			}
		}
	}
}

// crossRod is a trapezoid steering turned by its left spindle: arms rearward, leaning inboard by aim.
func crossRod(spacing, arm float64, aim s1.Angle) Loop {
	sin, cos := math.Sincos(float64(aim))
	crank := func(sign float64) Crank {
		return Crank{
			Axis: rigid.Axis{Point: r3.Vector{Y: sign * spacing / 2}, Dir: r3.Vector{Z: 1}},
			Arm:  r3.Vector{X: -arm * cos, Y: -sign * arm * sin},
		}
	}
	l := newLoop(crank(1), crank(-1), spacing-2*arm*sin, 1)
	l.Branch = l.branchOf(0, 0)
	return l
}

func TestCrankRockerLimits(t *testing.T) {
	for _, p := range published.CrankRockers {
		l := planar(p.Ground, p.Crank, p.Coupler, p.Rocker, -1)
		start, _ := l.output(0)
		back := l.swapped(0, start)
		reach := [2]float64{p.NearReach, p.FarReach}
		var ends [2]float64
		for i, way := range [2]float64{1, -1} {
			end, _, found := back.fold(float64(start), way, 2*math.Pi)
			if !found {
				t.Fatalf("%s: no limit found", p.Work)
			}
			ends[i] = end
			if got := l.Out.at(math.Sincos(end)).Norm(); math.Abs(got-reach[i]) > 1e-2 {
				t.Errorf("%s: rocker pin %v from the crank's centre, want %v", p.Work, got, reach[i])
			}
		}
		if swing := ends[0] - ends[1]; apart(s1.Angle(swing), degrees(p.Swing)) > p.Within {
			t.Errorf("%s: swing %v, want %v", p.Work, s1.Angle(swing), p.Swing)
		}
		for i, want := range [2]float64{p.LeastTransmission, p.GreatestTransmission} {
			pin, pickup := balls(t, &l, s1.Angle(float64(i)*math.Pi)) // crank in line with the ground
			if got := pickup.Sub(pin).Angle(pickup.Sub(l.Out.Axis.Point)); apart(got, degrees(want)) > p.Within {
				t.Errorf("%s: transmission %v, want %v", p.Work, got, want)
			}
		}
	}
}

func TestGrashof(t *testing.T) {
	for _, p := range published.FullTurns {
		l := planar(p.Ground, p.Crank, p.Coupler, p.Rocker, -1)
		start := 0.0
		for ; start < 2*math.Pi; start += 0.1 { // somewhere it assembles
			if _, ok := l.output(s1.Angle(start)); ok {
				break
			}
		}
		if _, _, found := l.fold(start, 1, 2*math.Pi); found == p.Round {
			t.Errorf("%s: %v %v %v %v: dead point found %v", p.Work, p.Ground, p.Crank, p.Coupler, p.Rocker, found)
		}
	}
}

// TestToggleAngle: coupler and rocker in line, cos of the crank angle = (a² + d² - (b ± c)²)/(2ad) (law of
// cosines; any textbook on machines).
func TestToggleAngle(t *testing.T) {
	for _, p := range []struct{ d, a, b, c, sign float64 }{
		{100, 80, 40, 110, 1}, {100, 110, 80, 40, 1}, {100, 60, 70, 80, 1}, {4, 5, 2, 5, 1},
		{100, 110, 80, 40, -1}, {4, 5, 2, 5, -1},
	} {
		cos := (p.a*p.a + p.d*p.d - math.Pow(p.b+p.sign*p.c, 2)) / (2 * p.a * p.d)
		if math.Abs(cos) > 1 {
			t.Fatalf("no toggle in %+v", p)
		}
		want, from := math.Acos(cos), 0.0
		l := planar(p.d, p.a, p.b, p.c, 1)
		dir := p.sign // from the crank in line with the ground outwards, from straight out inwards
		if from = want - 0.2*dir; from < 0 || from > math.Pi {
			t.Fatalf("bad start in %+v", p)
		}
		if _, ok := l.output(s1.Angle(from)); !ok {
			t.Fatalf("does not assemble at %v: %+v", from, p)
		}
		got, out, found := l.fold(from, dir, math.Pi)
		if !found || apart(s1.Angle(got), s1.Angle(want)) > 1e-9 {
			t.Errorf("%+v: toggle at %v, want %v", p, s1.Angle(got), s1.Angle(want))
		}
		pin, pickup := l.In.at(math.Sincos(got)), l.Out.at(math.Sincos(out))
		if cross := pickup.Sub(pin).Cross(pickup.Sub(l.Out.Axis.Point)).Norm(); cross > 1e-9*p.b*p.c {
			t.Errorf("%+v: coupler and rocker not in line: %g", p, cross)
		}
	}
}
