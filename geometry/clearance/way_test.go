package clearance

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/trial"
	"locksweep/geometry/linkage"
	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
)

// TestCurvature: the second difference of how far a point of one body reaches in a direction that another
// one carries, each turning about an axis of its own at a rate that changes.
func TestCurvature(t *testing.T) {
	r := source{rand.New(rand.NewPCG(5, 5))}
	close := 0
	for range 20000 {
		sc := &Scene{mechanism: &linkage.Mechanism{}}
		axis := func() rigid.Axis {
			return rigid.Axis{Point: r.vector(300, 300, 300), Dir: r.vector(1, 1, 1).Normalize()}
		}
		sc.mechanism.Axes[linkage.Input], sc.mechanism.Axes[linkage.LeftSpindle] = axis(), axis()
		carrier, own := linkage.Input, linkage.LeftSpindle
		switch r.IntN(3) {
		case 0:
			carrier, own = own, carrier
		case 1:
			carrier = linkage.Frame
		}
		w := way{meeting: &meeting{sc: sc}}
		more := map[linkage.Body]float64{}
		pace := func(b linkage.Body) pace {
			turn := math.Pow(10, r.between(-2, 1))
			more[b] = math.Pow(10, r.between(-2, 1))
			return pace{turn, turn*turn + more[b]}
		}
		w.paces[linkage.Input], w.paces[linkage.LeftSpindle] = pace(linkage.Input), pace(linkage.LeftSpindle)
		point, dir := r.vector(300, 300, 300), r.vector(1, 1, 1).Normalize()
		if r.IntN(4) == 0 { // a point that does not move, or a direction that does not
			point = sc.mechanism.Axes[own].Point
		}
		angle := func(b linkage.Body, t float64) s1.Angle { return s1.Angle(w.paces[b].turn*t + more[b]*t*t/2) }
		value := func(t float64) float64 {
			p, n := sc.mechanism.Axes[own].RotatePoint(point, angle(own, t)), dir
			if carrier != linkage.Frame {
				sin, cos := math.Sincos(float64(angle(carrier, t)))
				n = rigid.Rotate(dir, sc.mechanism.Axes[carrier].Dir, sin, cos)
				p = p.Sub(sc.mechanism.Axes[carrier].Point) // where the direction starts has no bearing on gaps
			}
			return n.Dot(p)
		}
		off := func(b linkage.Body) float64 {
			return sc.mechanism.Axes[b].Dir.Cross(point.Sub(sc.mechanism.Axes[b].Point)).Norm()
		}
		span := 0.0
		if carrier != linkage.Frame {
			span = off(carrier)
		}
		bound := w.curvature(carrier, own, dir, off(own), span)
		const h = 1e-4
		got := math.Abs(value(h)-2*value(0)+value(-h)) / (h * h)
		if got > bound*(1+1e-3)+1e-3*(1+bound) {
			t.Fatalf("carrier %v, own %v: %g, bound %g", carrier, own, got, bound)
		}
		if got > 0.9*bound {
			close++
		}
	}
	if close < trial.Enough(100) {
		t.Errorf("the bound was nearly reached %d times only", close)
	}
}

// TestBallUnpaced: where no pace is known, a ball of a rod reaches no further than its line in a direction
// that the column carries, also where that is the way in which it goes fastest.
func TestBallUnpaced(t *testing.T) {
	close := 0
	for seed := range uint64(400) {
		_, sc := randomScene(t, seed, 0)
		const turn = 0.02
		from, ok := sc.mechanism.Pose(0)
		to, ok2 := sc.mechanism.Pose(turn)
		if !ok || !ok2 {
			continue
		}
		w := way{meeting: &meeting{sc: sc}, from: &stance{pose: from}, to: &stance{pose: to}, turn: turn, unpaced: true}
		for _, side := range setup.Sides {
			// Seen from the column, the ball goes the way of this difference.
			seen := func(at r3.Vector, column s1.Angle) r3.Vector {
				return sc.mechanism.Axes[linkage.Input].RotatePoint(at, -column)
			}
			way := seen(to.Rods[side].To, turn).Sub(from.Rods[side].To)
			start := way.Normalize()
			sin, cos := math.Sincos(turn)
			end := rigid.Rotate(start, sc.mechanism.Axes[linkage.Input].Dir, sin, cos)
			line := w.ball(int(side), linkage.AtArm, linkage.Input, start, end)
			origin := sc.mechanism.Axes[linkage.Input].Point
			reach := end.Dot(to.Rods[side].To.Sub(origin))
			if reach > line.from+slack || line.from != line.to || line.curvature != 0 {
				t.Fatalf("seed %d, %v: reaches %g, line %+v", seed, side, reach, line)
			}
			before := start.Dot(from.Rods[side].To.Sub(origin))
			gone, allowed := reach-before, line.from-before
			if gone > 0.9*allowed {
				close++
			}
		}
	}
	if close < trial.Enough(20) {
		t.Errorf("the bound was nearly reached %d times only", close)
	}
}
