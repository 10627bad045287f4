package setup

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/planar"
)

// SwapSpindles puts each spindle on the other side, turned half round about the vertical, so that arms
// that pointed back point ahead. Caster and inclination belong to the frame and stay; what belongs to
// the spindle goes with it as one rigid body: the angle between stub and kingpin, where the stub passes the
// kingpin, the arm's place about and along the kingpin as measured from the stub, and all parts on it. Straight ahead
// is where the wheel has the file's toe; camber follows. Rods are re-cut. Swapped twice is as before.
func (s *Setup) SwapSpindles() { s.rehangBoth(Side.Other, r3.Vector{X: -1, Y: 1, Z: 1}) }

// TurnSpindlesOver hangs each spindle upside down on its own side, turned half round about the stub axle.
// What belongs to the frame and what to the spindle is as in SwapSpindles.
func (s *Setup) TurnSpindlesOver() {
	s.rehangBoth(func(side Side) Side { return side }, r3.Vector{X: -1, Y: 1, Z: -1})
}

// rehangBoth hangs both spindles anew, and the parts that ride on them; source says where a side's spindle comes from. A part
// that comes out different on the two sides becomes two of the same name.
func (s *Setup) rehangBoth(source func(Side) Side, flip r3.Vector) {
	old := *s
	for _, side := range Sides {
		s.rehang(side, &old, source(side), flip)
	}
	var parts []Part
	for _, p := range old.Parts {
		if p.On != OnSpindle {
			parts = append(parts, p)
			continue
		}
		for _, side := range Sides {
			if from := source(side); p.Sides[from] {
				wheel := old.Corners[from].Wheel
				parts = append(parts, s.refitPart(p, side, &old, from, old.refitting(side, from, flip, &wheel)))
			}
		}
	}
	s.Parts = parts
}

// refit takes points of a spindle as it was described to where they are after it is hung anew, all in
// corner axes: the signs flip turn it half round, then it is laid onto the frame's kingpin axis with its
// stub where the toe wants it.
type refit struct {
	flip     r3.Vector
	from, to [3]r3.Vector // stub direction square to the kingpin, the direction square to both, kingpin
	stub     r3.Vector    // direction of the stub as it will be
}

func (f *refit) direction(v r3.Vector) r3.Vector {
	v = r3.Vector{X: f.flip.X * v.X, Y: f.flip.Y * v.Y, Z: f.flip.Z * v.Z}
	return f.to[0].Mul(f.from[0].Dot(v)).Add(f.to[1].Mul(f.from[1].Dot(v))).Add(f.to[2].Mul(f.from[2].Dot(v)))
}

// along returns axes of a spindle: its stub square to the kingpin, the direction square to both, the kingpin.
func along(stub, kingpin r3.Vector) [3]r3.Vector {
	e := stub.Sub(kingpin.Mul(kingpin.Dot(stub))).Normalize()
	return [3]r3.Vector{e, kingpin.Cross(e), kingpin}
}

// rehang hangs the spindle that was described for the side source of old on a side.
func (s *Setup) rehang(side Side, old *Setup, source Side, flip r3.Vector) {
	c := old.Corners[source]
	frame, toe := old.Corners[side].Kingpin, old.Corners[side].Wheel.Toe
	f := old.refitting(side, source, flip, &c.Wheel)
	c.Kingpin, c.Wheel.Toe = frame, toe
	f.rehangStub(&c.Wheel)
	c.Arm.Pickup = f.direction(c.Arm.Pickup)
	if c.Arm.Bolt != (r3.Vector{}) {
		c.Arm.Bolt = f.direction(c.Arm.Bolt)
	}
	c.Rod, c.Stop = old.Corners[side].Rod, old.Corners[side].Stop
	c.Rod.Length = 0
	s.Corners[side] = c
	if link := old.DragLink; link != nil && link.Side == source {
		moved := *link
		moved.Side, moved.Pickup, moved.Rod.Length = side, f.direction(link.Pickup), 0
		if link.Bolt != (r3.Vector{}) {
			moved.Bolt = f.direction(link.Bolt)
		}
		s.DragLink = &moved
	}
	s.Corners[side].Arm.Metal = s.refitArm(side, old, source, f, c.Arm.Metal)
}

// refitting returns where the points of a spindle go, and sets the camber that its wheel then has.
func (s *Setup) refitting(side, source Side, flip r3.Vector, w *Wheel) *refit {
	sign := flip.Z // upside down, the axis that pointed up points down
	turned := refit{flip: flip, from: along(r3.Vector{X: 1}, r3.Vector{Z: 1}), to: along(r3.Vector{X: 1}, r3.Vector{Z: 1})}
	kingpin := turned.direction(FromCorner(source, s.Kingpin(source).Dir)).Mul(sign)
	stub := turned.direction(FromCorner(source, s.SpinAxis(source)))
	onFrame := FromCorner(side, s.Kingpin(side).Dir)
	w.Camber = camberFor(onFrame, s.Corners[side].Wheel.Toe, kingpin.Dot(stub))
	newStub := Wheel{Toe: s.Corners[side].Wheel.Toe, Camber: w.Camber}.Spin()
	return &refit{flip: flip, from: along(stub, kingpin), to: along(newStub, onFrame), stub: newStub}
}

// rehangStub moves the stub axle with all else. A point of it goes where every point of the spindle goes; what a
// Wheel says is the point of the new stub that lies outboard of the kingpin centre by nothing.
func (f *refit) rehangStub(w *Wheel) {
	at := f.direction(w.Stub())
	by := at.Y / f.stub.Y
	at = at.Sub(f.stub.Mul(by))
	w.Lead, w.Up, w.Offset = at.X, at.Z, w.Offset+by
}

// camberFor returns the camber at which a stub of the given toe stands to a kingpin direction (corner axes)
// at an angle of the given cosine; the nearest there is where it cannot.
func camberFor(kingpin r3.Vector, toe s1.Angle, cosine float64) s1.Angle {
	sin, cos := math.Sincos(float64(toe))
	level := kingpin.X*sin + kingpin.Y*cos
	// level·cos camber - kingpin.Z·sin camber = cosine
	turn := math.Acos(math.Max(-1, math.Min(1, cosine/math.Hypot(level, kingpin.Z))))
	return s1.Angle(turn - math.Atan2(kingpin.Z, level))
}

// refitArm moves the plan of a steering arm.
func (s *Setup) refitArm(side Side, old *Setup, source Side, f *refit, m Metal) Metal {
	lower, upper := f.faces(m.Lower, m.Upper)
	middle := (lower + upper) / 2
	outline := make([]r2.Point, len(m.Outline))
	for i, p := range m.Outline {
		outline[i] = s.armPlan(side, f.flat(s, side, old, source, old.ArmPlane(source, p, m.Middle())), middle)
	}
	holes := make([]Hole, len(m.Holes))
	for i, h := range m.Holes {
		p := f.direction(h.Ball())
		holes[i] = h
		holes[i].At, holes[i].Up = r2.Point{X: p.X, Y: p.Y}, p.Z
	}
	m.Outline, m.Holes = turnedCounterClockwise(outline), holes
	m.Lower, m.Upper = lower, upper
	return m
}

// flat moves a point of the plane square to the kingpin.
func (f *refit) flat(s *Setup, side Side, old *Setup, source Side, p r2.Point) r2.Point {
	was, is := old.KingpinPlane(source), s.KingpinPlane(side)
	v := f.direction(FromCorner(source, was.Turn[0].Mul(p.X).Add(was.Turn[1].Mul(p.Y))))
	v = FromCorner(side, v)
	return r2.Point{X: is.Turn[0].Dot(v), Y: is.Turn[1].Dot(v)}
}

// faces moves the faces of a plate along the kingpin.
func (f *refit) faces(lower, upper float64) (float64, float64) {
	if f.flip.Z < 0 {
		return 0 - upper, 0 - lower
	}
	return lower, upper
}

// turnedCounterClockwise turns an outline of either sense counter-clockwise.
func turnedCounterClockwise(outline []r2.Point) []r2.Point {
	if planar.Area(outline) < 0 {
		slices.Reverse(outline)
	}
	return outline
}

// rejoinParts makes one part of the two that rehangBoth made of it.
func (s *Setup) rejoinParts() {
	var parts []Part
	for _, p := range s.Parts {
		if n := len(parts); n > 0 && p.On == OnSpindle && parts[n-1].Name == p.Name {
			parts[n-1].Sides = [2]bool{true, true}
			continue
		}
		parts = append(parts, p)
	}
	s.Parts = parts
}
