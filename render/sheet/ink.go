package sheet

import "github.com/golang/geo/r2"

// inked are the lines of a drawing in the order in which they were drawn, with a rectangle round every few that follow one another,
// which mostly lie beside one another: what is far from a place is passed over by the dozen.
type inked struct {
	lines  []segment
	bounds []r2.Rect // of each inkChunk of lines
}

const inkChunk = 16

func (k *inked) add(l segment) {
	if len(k.lines)%inkChunk == 0 {
		k.bounds = append(k.bounds, r2.EmptyRect())
	}
	last := &k.bounds[len(k.bounds)-1]
	*last = last.AddPoint(l.a).AddPoint(l.b)
	k.lines = append(k.lines, l)
}

// near calls seen with the lines whose bounds touch a rectangle, in their order, until it returns false.
func (k *inked) near(r r2.Rect, seen func(segment) bool) {
	for i, bounds := range k.bounds {
		if !bounds.Intersects(r) {
			continue
		}
		for _, l := range k.lines[i*inkChunk : min((i+1)*inkChunk, len(k.lines))] {
			if l.near(r) && !seen(l) {
				return
			}
		}
	}
}

// within is the length of lines inside a rectangle, mm; where it is more than enough, what is more may be left out.
func (k *inked) within(r r2.Rect, enough float64) (sum float64) {
	k.near(r, func(l segment) bool {
		if a, b, ok := clipSegment(l.a, l.b, r); ok {
			sum += b.Sub(a).Norm()
		}
		return sum <= enough
	})
	return sum
}

// near reports whether the segment's bounds touch the rectangle.
func (l segment) near(r r2.Rect) bool {
	return min(l.a.X, l.b.X) <= r.X.Hi && max(l.a.X, l.b.X) >= r.X.Lo &&
		min(l.a.Y, l.b.Y) <= r.Y.Hi && max(l.a.Y, l.b.Y) >= r.Y.Lo
}
