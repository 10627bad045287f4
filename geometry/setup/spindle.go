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
func (s *Setup) SwapSpindles() {
	s.rehangBoth([2]Side{Left: Right, Right: Left}, r3.Vector{X: -1, Y: 1, Z: 1})
}

// TurnSpindlesOver hangs each spindle upside down on its own side, turned half round about the stub axle.
// What belongs to the frame and what to the spindle is as in SwapSpindles.
func (s *Setup) TurnSpindlesOver() { s.rehangBoth(Sides, r3.Vector{X: -1, Y: 1, Z: -1}) }

// rehangBoth hangs both spindles anew, and the parts that ride on them; source says from which side a side's spindle comes. A
// part that stood on both sides becomes two of the same name.
func (s *Setup) rehangBoth(source [2]Side, flip r3.Vector) {
	old := *s
	var fits [2]*refit
	for _, side := range Sides {
		fits[side] = s.rehang(side, &old, source[side], flip)
	}
	var parts []Part
	for _, p := range old.Parts {
		if p.On != OnSpindle {
			parts = append(parts, p)
			continue
		}
		for _, f := range fits {
			if p.Sides[f.source] {
				parts = append(parts, f.part(p))
			}
		}
	}
	s.Parts = parts
}

// refit takes what one corner of the old setup described, in its corner axes, into the axes of a corner of the new one: the signs
// flip turn it half round, then it is laid onto the new kingpin axis with its stub where the toe wants it.
type refit struct {
	old, now     *Setup
	source, side Side // the corners of the old and of the new setup
	flip         r3.Vector
	from, to     [3]r3.Vector // stub direction square to the kingpin, the direction square to both, kingpin
	stub         r3.Vector    // direction of the stub as it will be
}

// direction takes a free vector, or a point seen from the kingpin centre, along. A direction that is not given stays so.
func (f *refit) direction(v r3.Vector) r3.Vector {
	if v == (r3.Vector{}) {
		return v
	}
	v = flipped(v, f.flip)
	return f.to[0].Mul(f.from[0].Dot(v)).Add(f.to[1].Mul(f.from[1].Dot(v))).Add(f.to[2].Mul(f.from[2].Dot(v)))
}

func flipped(v, signs r3.Vector) r3.Vector {
	return r3.Vector{X: signs.X * v.X, Y: signs.Y * v.Y, Z: signs.Z * v.Z}
}

// along returns axes of a spindle: its stub square to the kingpin, the direction square to both, the kingpin.
func along(stub, kingpin r3.Vector) [3]r3.Vector {
	e := stub.Sub(kingpin.Mul(kingpin.Dot(stub))).Normalize()
	return [3]r3.Vector{e, kingpin.Cross(e), kingpin}
}

// rehang hangs the spindle that was described for the side source of old on a side, and returns how its points go.
func (s *Setup) rehang(side Side, old *Setup, source Side, flip r3.Vector) *refit {
	c, own := old.Corners[source], &old.Corners[side]
	kingpin := flipped(FromCorner(source, old.Kingpin(source).Dir), flip).Mul(flip.Z) // upside down, what pointed up points down
	stub := flipped(FromCorner(source, old.SpinAxis(source)), flip)
	onFrame := FromCorner(side, old.Kingpin(side).Dir)
	c.Wheel.Toe = own.Wheel.Toe
	c.Wheel.Camber = camberFor(onFrame, c.Wheel.Toe, kingpin.Dot(stub))
	newStub := c.Wheel.Spin()
	f := &refit{old: old, now: s, source: source, side: side, flip: flip, from: along(stub, kingpin), to: along(newStub, onFrame), stub: newStub}
	f.rehangStub(&c.Wheel)
	c.Arm.Pickup, c.Arm.Bolt = f.direction(c.Arm.Pickup), f.direction(c.Arm.Bolt)
	c.Kingpin, c.Rod, c.Stop = own.Kingpin, own.Rod, own.Stop
	c.Rod.Length = 0
	s.Corners[side] = c
	s.Corners[side].Arm.Metal = f.arm(c.Arm.Metal)
	if link := copied(old.DragLink); link != nil && link.Side == source {
		link.Side, link.Pickup, link.Bolt, link.Rod.Length = side, f.direction(link.Pickup), f.direction(link.Bolt), 0
		s.DragLink = link
	}
	return f
}

// rehangStub moves the stub axle as every point of the spindle. A Wheel gives it by the point that lies neither inboard nor
// outboard of the kingpin centre, and that is another one of its points afterwards.
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

// arm moves the plan of a steering arm.
func (f *refit) arm(m Metal) Metal {
	lower, upper := f.faces(m.Lower, m.Upper)
	outline := make([]r2.Point, len(m.Outline))
	for i, p := range m.Outline {
		outline[i] = f.now.armPlan(f.side, f.flat(f.old.ArmPlane(f.source, p, m.Middle())), (lower+upper)/2)
	}
	m.Outline, m.Holes = turnedCounterClockwise(outline), slices.Clone(m.Holes)
	m.Lower, m.Upper = lower, upper
	for i := range m.Holes {
		h := &m.Holes[i]
		p := f.direction(h.Ball())
		h.At, h.Up = r2.Point{X: p.X, Y: p.Y}, p.Z
	}
	return m
}

// flat moves a point of the plane square to the kingpin.
func (f *refit) flat(p r2.Point) r2.Point {
	was, is := f.old.KingpinPlane(f.source), f.now.KingpinPlane(f.side)
	v := FromCorner(f.side, f.direction(FromCorner(f.source, was.Turn[0].Mul(p.X).Add(was.Turn[1].Mul(p.Y)))))
	return r2.Point{X: is.Turn[0].Dot(v), Y: is.Turn[1].Dot(v)}
}

// outline moves an outline in the plane square to the kingpin.
func (f *refit) outline(outline []r2.Point) []r2.Point {
	moved := make([]r2.Point, len(outline))
	for i, p := range outline {
		moved[i] = f.flat(p)
	}
	return turnedCounterClockwise(moved)
}

// part moves a part that is described in corner axes, on the frame or on a spindle, and puts it on the new side alone.
func (f *refit) part(p Part) Part {
	p.Sides = [2]bool{}
	p.Sides[f.side] = true
	p.carry(f.direction, f.direction)
	if p.Plate != nil {
		plate := Plate{Outline: f.outline(p.Plate.Outline)}
		plate.Lower, plate.Upper = f.faces(p.Plate.Lower, p.Plate.Upper)
		p.Plate, p.Keep, p.Root = &plate, f.outline(p.Keep), f.outline(p.Root)
	}
	return p
}

// faces moves the faces of a plate along the kingpin.
func (f *refit) faces(lower, upper float64) (float64, float64) {
	if f.flip.Z < 0 {
		return 0 - upper, 0 - lower
	}
	return lower, upper
}

// turnedCounterClockwise turns an outline of either sense counter-clockwise, in place.
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
