package clearance

import (
	"math"

	"github.com/golang/geo/r3"

	"locksweep/geometry/linkage"
	"locksweep/geometry/rigid"
	"locksweep/geometry/solid"
)

// shape is what is known of a convex solid of a piece, and of all the places that it can come to.
type shape struct {
	ball ball // about the solid, straight ahead
	// reach is the most that a point of the solid's core moves for each radian of its body's angle, mm: the greatest distance
	// from what its body turns about. On a rod it is the greatest distance from the line of the balls.
	reach float64
	round float64 // radius of the ball that sweeps the solid's core, mm
	// along tells on a tie rod between which shares of its length, from the drop arm, the core lies.
	along [2]float64
	swept solid.Solid // stands still and holds the solid, however its body may be turned
	space ball        // about swept
}

// ball is a ball in vehicle axes, mm.
type ball struct {
	centre r3.Vector
	radius float64
}

func ballOf(s *solid.Solid) (b ball) {
	b.centre, b.radius = s.Ball()
	return b
}

// gap is the distance of two balls, negative where they overlap.
func (b *ball) gap(o *ball) float64 { return b.centre.Sub(o.centre).Norm() - b.radius - o.radius }

// moved is the ball under a motion.
func (b *ball) moved(m *rigid.Motion) ball { return ball{m.Point(b.centre), b.radius} }

// with returns a ball about two others.
func (b ball) with(o ball) ball {
	apart := o.centre.Sub(b.centre)
	d := apart.Norm()
	switch {
	case d+o.radius <= b.radius:
		return b
	case d+b.radius <= o.radius:
		return o
	}
	radius := (d + b.radius + o.radius) / 2
	return ball{b.centre.Add(apart.Mul((radius - b.radius) / d)), radius}
}

// extent returns the least and the most of dir·p.
func extent(s *solid.Solid, m *rigid.Motion, dir r3.Vector) (low, high float64) {
	return -s.Reaches(m, dir.Mul(-1)), s.Reaches(m, dir)
}

// study notes what is to be known of a piece.
func (sc *Scene) study(p *Piece) {
	p.shapes = make([]shape, len(p.Solids))
	for i := range p.Solids {
		s := &p.Solids[i]
		switch sh := &p.shapes[i]; {
		case p.Body == linkage.Frame:
			*sh = shape{ball: ballOf(s), round: s.Round(), swept: *s}
		case p.Body.IsRod():
			*sh = sc.onRod(p.Body.Rod(), s)
		case sc.mechanism.Slides(p.Body):
			*sh = sc.sliding(s)
		default:
			*sh = aboutAxis(sc.mechanism.Axes[p.Body], s)
		}
		p.shapes[i].space = ballOf(&p.shapes[i].swept)
		if i == 0 {
			p.space = p.shapes[i].space
		}
		p.space = p.space.with(p.shapes[i].space)
	}
}

// aboutAxis is the shape of a solid that turns about an axis: it stays within a cylinder about the axis.
func aboutAxis(axis rigid.Axis, s *solid.Solid) shape {
	low, high := extent(s, &rigid.Identity, axis.Dir)
	foot := axis.Dir.Dot(axis.Point)
	middle := axis.Point.Add(axis.Dir.Mul((low+high)/2 - foot))
	sh := shape{ball: ballOf(s), reach: s.CoreReach(axis), round: s.Round()}
	sh.swept = solid.Cylinder(middle, axis.Dir, sh.reach+sh.round, (high-low)/2, 0)
	return sh
}

// sliding is the shape of a solid that slides with the input: it stays within its ball drawn along the slide.
func (sc *Scene) sliding(s *solid.Solid) shape {
	m := sc.mechanism
	sh := shape{ball: ballOf(s), reach: math.Abs(m.Slide), round: s.Round()}
	way := m.Axes[linkage.Input].Dir.Mul(m.Slide * float64(m.Most))
	sh.swept = solid.Capsule(sh.ball.centre.Sub(way), sh.ball.centre.Add(way), sh.ball.radius)
	return sh
}

// onRod is the shape of a solid that rides on a tie rod. A point of the rod's line at a share w of its
// length is the mean (1-w)·pin + w·pickup, and either ball stays on its circle; so the point stays
// within a ball about the same mean of the circles' centres, of the same mean of their radii.
func (sc *Scene) onRod(rod int, s *solid.Solid) shape {
	r, home := &sc.mechanism.Rods[rod], sc.mechanism.RodPlace(rod)
	line := rigid.Axis{Point: home.Shift, Dir: home.Turn[0]}
	sh := shape{ball: ballOf(s), reach: s.CoreReach(line), round: s.Round()}
	low, high := extent(s, &rigid.Identity, line.Dir)
	start := line.Dir.Dot(line.Point)
	sh.along = [2]float64{(low + sh.round - start) / r.Length, (high - sh.round - start) / r.Length}
	var ends [2]r3.Vector
	radius := 0.0
	for i, w := range sh.along {
		first, firstRadius := r.Round(linkage.AtDropArm, sc.mechanism.Most)
		second, secondRadius := r.Round(linkage.AtArm, sc.mechanism.Most)
		ends[i] = first.Mul(1 - w).Add(second.Mul(w))
		radius = math.Max(radius, mean(w, firstRadius, secondRadius))
	}
	sh.swept = solid.Capsule(ends[0], ends[1], radius+sh.reach+sh.round)
	return sh
}
