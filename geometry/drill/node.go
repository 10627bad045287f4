package drill

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/setup"
)

// node is a place as eight co-ordinates in the file's axes, mm: forward and outboard of the left pickup, down and left of the left rod's pin,
// then the same of the right. Unless each side has its own place only those of the left change, and the right goes with it. Where the
// hole of a drag link is looked for, its ball stands in place of the left pickup.
type node [8]float64

// First co-ordinates of the balls in a node.
const (
	leftArm  = 0
	leftPin  = 2
	rightArm = 4
	rightPin = 6
)

// home returns today's place.
func (s *search) home() node { return s.nodeOf(&s.start) }

// nodeOf returns the node of a spot.
func (s *search) nodeOf(sp *Spot) (n node) {
	for i, side := range setup.Sides {
		pickup, pin := sp.Pickups[side], sp.Pins[side]
		copy(n[4*i:], []float64{pickup.X, pickup.Y, pin.X, pin.Y})
	}
	if s.r.On == Link {
		n[leftArm], n[leftArm+1] = sp.Link.X, sp.Link.Y
	}
	return n
}

// on returns the node so many steps of a size (tenths), by axis, away from the node of the grid of tenths that is nearest to n.
func (s *search) on(n node, steps [8]int, size int) node {
	for _, a := range s.axes {
		n[a] = s.coordinate(a, int(math.Round((n[a]-s.origin[a])/tenth))+steps[a]*size)
	}
	return n
}

// coordinate returns a co-ordinate so many tenths from the origin, mm.
func (s *search) coordinate(axis, tenths int) float64 {
	return s.written(s.origin[axis] + float64(tenths)/10)
}

// written rounds a length, mm, as the answer is written down: to a thousandth of a millimetre or a ten-thousandth of an inch, far finer than
// a drill. A place is judged as it is written, so that text, template and file tell of the same place.
func (s *search) written(mm float64) float64 {
	return rounded(s.base.Setup.Unit, mm, [2]float64{setup.MM: 1e3, setup.Inch: 1e4})
}

// clean rounds a length, mm, to the sixth decimal of the file's unit, to take off what arithmetic has left behind it.
func (s *search) clean(mm float64) float64 {
	return rounded(s.base.Setup.Unit, mm, [2]float64{setup.MM: 1e6, setup.Inch: 1e6})
}

// rounded rounds a length, mm, to whole parts of a unit, of which so many make one, by unit.
func rounded(u setup.Unit, mm float64, parts [2]float64) float64 {
	return u.ToMM(math.Round(u.FromMM(mm)*parts[u]) / parts[u])
}

// spot returns where the balls go at a place; nodeOf is its inverse. Unless each side has its own place, the right balls move as the mirror
// image of the left ones, so that sides that differ keep their difference. A ball keeps its height along the axis that its arm turns about,
// as closely as that is written down.
func (s *search) spot(n node) Spot {
	sp, home := s.start, s.home()
	if s.r.On == Link {
		_, side, _ := s.base.Setup.LinkBall()
		s.slide(side, &sp.Link, r2.Point{X: n[leftArm] - home[leftArm], Y: n[leftArm+1] - home[leftArm+1]})
		sp.Link.X, sp.Link.Y = n[leftArm], n[leftArm+1]
		return sp
	}
	for _, side := range setup.Sides {
		own, of, mirror := 4*int(side), 4*int(side), 1.0 // it moves as the side whose co-ordinates begin at of
		if !s.r.Options.Each {
			of, mirror = 0, side.Sign() // for pins alone: their co-ordinate runs to the left on both sides
		}
		by := func(at int) r2.Point { return r2.Point{X: n[of+at] - home[of+at], Y: n[of+at+1] - home[of+at+1]} }
		arm, pin := &sp.Pickups[side], &sp.Pins[side]
		s.slide(side, arm, by(leftArm))
		if way := by(leftPin); way != (r2.Point{}) {
			pin.X, pin.Y = s.clean(pin.X+way.X), s.clean(pin.Y+mirror*way.Y)
		}
		if of == own { // the co-ordinates themselves, without the rounding of a difference
			arm.X, arm.Y, pin.X, pin.Y = n[own], n[own+1], n[own+leftPin], n[own+leftPin+1]
		}
	}
	if s.base.Setup.OnePin() {
		sp.Pins[setup.Right] = sp.Pins[setup.Left]
	}
	return sp
}

// slide moves a ball of a steering arm forward and outboard, mm, in the plane through it square to the kingpin.
func (s *search) slide(side setup.Side, ball *r3.Vector, by r2.Point) {
	if by == (r2.Point{}) {
		return
	}
	axis := setup.FromCorner(side, s.base.Setup.Kingpin(side).Dir)
	ball.X, ball.Y = s.clean(ball.X+by.X), s.clean(ball.Y+by.Y)
	ball.Z = s.written(ball.Z - (axis.X*by.X+axis.Y*by.Y)/axis.Z)
}

// apart returns the distance between two nodes, over all co-ordinates, mm.
func (n *node) apart(o *node) float64 {
	sum := 0.0
	for i := range n {
		sum += (n[i] - o[i]) * (n[i] - o[i])
	}
	return math.Sqrt(sum)
}
