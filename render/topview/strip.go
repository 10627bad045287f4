package topview

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
	"locksweep/render/wording"
)

// strip is the steering wheel's angle as an axis on paper, left on the left as in the drawing.
type strip struct {
	*drawing
	middle, axis float64 // of the strip on paper
	half         float64 // paper from straight ahead to either end
	far          s1.Angle
}

// Distances of the strip, mm.
const (
	stripRows   = 19.0 // of the whole, without a row for the caption
	barHalf     = 1.6  // half the height of the bar that can be used
	tagAbove    = 8.2  // from the axis up to the middle of a tag's ring
	tagRadius   = 2.6
	tagDistance = 6.4 // of one ring's middle from the next
	figureApart = 9.0 // least distance of figures below the axis
)

// stripHeight is the paper that the strip takes in a column of a width, with a row of its own for its caption where that has no room
// between the rings, mm.
func (d *drawing) stripHeight(width float64) float64 {
	if _, inside := d.stripOn(sheet.Rect(0, 0, width, 0)).caption(); inside {
		return stripRows
	}
	return stripRows + row
}

// strip draws every limit in order along the axis: what can be used is filled, what lies beyond is open.
func (d *drawing) strip(room r2.Rect) {
	st := d.stripOn(room)
	left, right := d.r.Locks[sweep.ToLeft].Column, d.r.Locks[sweep.ToRight].Column
	bar := [4]r2.Point{st.at(left, -barHalf), st.at(right, -barHalf), st.at(right, barHalf), st.at(left, barHalf)}
	d.sheet.Polygon(sheet.Thin, sheet.Shade, bar[:]...)
	d.sheet.Line(sheet.Thin, r2.Point{X: room.X.Lo, Y: st.axis}, r2.Point{X: room.X.Hi, Y: st.axis})
	st.figures()
	for _, dir := range sweep.Directions {
		st.limits(dir)
	}
	text, inside := st.caption()
	at := r2.Point{X: (st.x(left) + st.x(right)) / 2, Y: st.axis - 5}
	if !inside {
		at = r2.Point{X: st.middle, Y: st.axis + 9}
	}
	d.sheet.Text(at, sheet.Over, sheet.Style{}, text)
}

// stripOn lays a strip out on paper.
func (d *drawing) stripOn(room r2.Rect) *strip {
	st := &strip{drawing: d, middle: room.Center().X, axis: room.Y.Lo + 11.5, half: room.Size().X/2 - tagRadius, far: 10 * s1.Degree}
	for _, lock := range d.r.Locks {
		st.far = max(st.far, lock.Column.Abs())
		for _, l := range lock.Chain {
			st.far = max(st.far, l.Column.Abs())
		}
	}
	return st
}

// caption is what the angles between the locks are, and whether it stands above the bar, between the first rings: in short where
// these stand near, and in full in a row of its own where they stand too near for that.
func (st *strip) caption() (text string, inside bool) {
	left, right := st.r.Locks[sweep.ToLeft].Column, st.r.Locks[sweep.ToRight].Column
	ends := [2]float64{st.x(left), st.x(right)}
	for _, dir := range sweep.Directions {
		if along := st.tags(dir); len(along) > 0 {
			ends[dir] = st.middle - dir.Sign()*min(along[0]-tagRadius, math.Abs(ends[dir]-st.middle))
		}
	}
	short := wording.AtMost(st.r.Model) + wording.Angle(left.Abs()) + " left to " + wording.Angle(right.Abs()) + " right"
	full := "steering wheel: " + short
	for _, text := range [2]string{full, short} {
		if sheet.TextWidth(text, sheet.Small)+2 < ends[1]-ends[0] {
			return text, true
		}
	}
	return full, false
}

func (st *strip) x(a s1.Angle) float64 { return st.middle - float64(a/st.far)*st.half }

func (st *strip) at(a s1.Angle, below float64) r2.Point {
	return r2.Point{X: st.x(a), Y: st.axis + below}
}

// figures writes the angles below the axis.
func (st *strip) figures() {
	step := 360 * s1.Degree
	for _, s := range []s1.Angle{180, 90, 45, 30, 15, 10, 5} {
		if st.x(0)-st.x(s*s1.Degree) >= figureApart {
			step = s * s1.Degree
		}
	}
	n := math.Floor(float64(st.far/step) + 1e-9)
	for k := -n; k <= n; k++ {
		a := s1.Angle(k) * step
		st.sheet.Line(sheet.Thin, st.at(a, barHalf), st.at(a, barHalf+1.2))
		st.sheet.Text(st.at(a, barHalf+1.8), sheet.S, sheet.Style{Height: sheet.Fine}, wording.Fixed(a.Abs().Degrees(), 0)+"°")
	}
}

// limits draws the limits of one direction, the first one wide, with the tags of the list.
func (st *strip) limits(dir sweep.Direction) {
	s, pen := st.sheet, sheet.Thin.In(lockColours[dir])
	for i, l := range st.r.Locks[dir].Chain {
		if pen.Width = sheet.Thin.Width; i == 0 {
			pen.Width = sheet.Wide.Width
		}
		s.Line(pen, st.at(l.Column, -3), st.at(l.Column, barHalf))
	}
	pen.Width = sheet.Thin.Width
	for i, along := range st.tags(dir) {
		m := st.marks[dir][i]
		ring := r2.Point{X: st.middle - dir.Sign()*along, Y: st.axis - tagAbove}
		s.Line(pen, st.at(m.Column, -3), ring.Add(r2.Point{Y: tagRadius}))
		s.Circle(pen, sheet.Paper, ring, tagRadius)
		s.Text(ring, sheet.Over, sheet.Style{Height: sheet.Fine}, m.tag)
	}
}

// tags returns where the rings of a direction stand, mm of paper from straight ahead outwards: above their
// limits, moved outwards where these are too near each other, and inwards again at the strip's end.
func (st *strip) tags(dir sweep.Direction) []float64 {
	along := make([]float64, len(st.marks[dir]))
	next := tagDistance / 2
	for i, m := range st.marks[dir] {
		along[i] = max(math.Abs(st.x(m.Column)-st.middle), next)
		next = along[i] + tagDistance
	}
	most := st.half
	for i := len(along) - 1; i >= 0; i-- {
		along[i] = min(along[i], most)
		most = along[i] - tagDistance
	}
	return along
}
