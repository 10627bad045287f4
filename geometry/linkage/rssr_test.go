package linkage

import (
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/published"
	"locksweep/geometry/rigid"
)

// rssr lays a printed linkage out as a loop: the input crank stands at its first position at input 0, the output crank
// at output 0. The second branch is the one of smaller output angle at the start.
func rssr(p *published.RSSR) (l Loop) {
	vector := func(v [3]float64) r3.Vector { return r3.Vector{X: v[0], Y: v[1], Z: v[2]} }
	sin, cos := math.Sincos(p.Theta * math.Pi / 180)
	in := Crank{Axis: rigid.Axis{Dir: vector(p.Input).Normalize()}, Arm: vector(p.ArmAhead).Mul(p.Arm)}
	out := Crank{Axis: rigid.Axis{Point: vector(p.Ground).Mul(p.GroundLength), Dir: r3.Vector{X: 1}}, Arm: r3.Vector{X: -sin, Y: cos}.Mul(p.Rocker)}
	l = newLoop(in, out, p.Rod, 1)
	other := newLoop(in, out, p.Rod, -1)
	a, _ := l.output(0)
	if b, _ := other.output(0); math.Abs(float64(b)-p.Outputs[0].Value) < math.Abs(float64(a)-p.Outputs[0].Value) {
		return other
	}
	return l
}

// TestPrintedSpatialFourBar: output, gain and turn-back of a crank, rod with two balls and rocker on axes askew, as
// printed. The figures have two or three digits.
func TestPrintedSpatialFourBar(t *testing.T) {
	for i := range published.RSSRs {
		p := &published.RSSRs[i]
		l := rssr(p)
		output := func(in float64) float64 {
			out, ok := l.output(s1.Angle(in) * s1.Degree)
			if !ok {
				t.Fatalf("%s: does not assemble at %v", p.Work, in)
			}
			return float64(out)
		}
		for _, f := range p.Outputs {
			if got := output(f.At); math.Abs(got-f.Value) > f.Within {
				t.Errorf("%s: output %.5f at input %v, printed %v", p.Work, got, f.At, f.Value)
			}
		}
		gain := func(in float64) float64 {
			const h = 1e-4
			return (output(in+h) - output(in-h)) / (2 * h * math.Pi / 180)
		}
		for _, f := range p.Gains {
			if got := gain(f.At); math.Abs(got-f.Value) > f.Within {
				t.Errorf("%s: gain %.5f at input %v, printed %v", p.Work, got, f.At, f.Value)
			}
		}
		// The output turns back where the loop, driven from the other end, comes to a dead point.
		start, _ := l.output(0)
		back := l.swapped(0, start)
		spindle, in, found := back.fold(float64(start), -1, 2*math.Pi)
		in = math.Remainder(in, 2*math.Pi) * 180 / math.Pi
		if !found || math.Abs(in-p.TurnBack) > p.TurnBackWithin {
			t.Errorf("%s: turns back at %.4f (output %.4f, found %v), printed %v", p.Work, in, spindle, found, p.TurnBack)
		}
	}
}
