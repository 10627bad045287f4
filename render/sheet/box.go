package sheet

import "github.com/golang/geo/r2"

// Box is a text as it stands on paper: what it says and the four corners of its letters, from
// ascent to descent, in order round the box. A turned text has a turned box.
type Box struct {
	Text    string
	Corners [4]r2.Point
}

// Bounds is the upright rectangle round the box.
func (b Box) Bounds() r2.Rect { return r2.RectFromPoints(b.Corners[:]...) }

// kept is a box with the upright rectangle round it, so that what is far off is passed over cheaply.
type kept struct {
	Box
	bounds r2.Rect
}

func keep(b Box) kept { return kept{b, b.Bounds()} }

// overlaps reports whether two boxes share more than an edge.
func (b Box) overlaps(o Box) bool { return convexOverlap(b.Corners[:], o.Corners[:]) }

// crosses reports whether the box shares a point with the segment a–b.
func (b Box) crosses(a, c r2.Point) bool { return convexOverlap(b.Corners[:], []r2.Point{a, c}) }

// grown is the box with m millimetres more on each side.
func (b Box) grown(m float64) Box {
	u := b.Corners[1].Sub(b.Corners[0]).Normalize().Mul(m)
	v := b.Corners[3].Sub(b.Corners[0]).Normalize().Mul(m)
	c := b.Corners
	b.Corners = [4]r2.Point{c[0].Sub(u).Sub(v), c[1].Add(u).Sub(v), c[2].Add(u).Add(v), c[3].Sub(u).Add(v)}
	return b
}

// hit reports whether the box shares more than an edge with another.
func (k *kept) hit(o *kept) bool { return k.bounds.Intersects(o.bounds) && k.overlaps(o.Box) }

// moved is the box elsewhere.
func (b Box) moved(by r2.Point) Box {
	for i, c := range b.Corners {
		b.Corners[i] = by.Add(c)
	}
	return b
}

func rectBox(r r2.Rect) Box { return Box{Corners: r.Vertices()} }

// convexOverlap reports whether two rectangles or segments overlap by more than a thousandth of a millimetre: they do not if the normal of
// an edge of either separates them. Of sides that face one another, and of both ways along a segment, one will do.
func convexOverlap(a, b []r2.Point) bool {
	const touch = 1e-3
	for _, poly := range [2][]r2.Point{a, b} {
		for i := range len(poly) / 2 {
			n := poly[i+1].Sub(poly[i]).Ortho()
			if n == (r2.Point{}) {
				continue
			}
			loA, hiA := spread(a, n)
			loB, hiB := spread(b, n)
			if over := min(hiA-loB, hiB-loA); over <= 0 || over*over < touch*touch*n.Dot(n) {
				return false
			}
		}
	}
	return true
}

func spread(poly []r2.Point, n r2.Point) (lo, hi float64) {
	lo = poly[0].Dot(n)
	hi = lo
	for _, p := range poly[1:] {
		if d := p.Dot(n); d < lo {
			lo = d
		} else if d > hi {
			hi = d
		}
	}
	return lo, hi
}
