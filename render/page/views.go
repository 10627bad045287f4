package page

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/plan"
	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

// shape is a path of a view.
type shape struct{ Kind, Path string }

// box is what a view shows of the page's axes, tenths of a millimetre.
type box struct{ X, Y, W, H int }

func (b box) String() string { return fmt.Sprintf("%d %d %d %d", b.X, b.Y, b.W, b.H) }

// boxOf is the box about a rectangle of the ground, with room on all sides.
func boxOf(ground r2.Rect, room float64) box {
	ground = ground.ExpandedByMargin(room)
	x, y := onPage(r2.Point{X: ground.X.Hi, Y: ground.Y.Hi})
	return box{x, y, tenths(ground.Y.Length()), tenths(ground.X.Length())}
}

// with is the box about two.
func (b box) with(o box) box {
	x, y := min(b.X, o.X), min(b.Y, o.Y)
	return box{x, y, max(b.X+b.W, o.X+o.W) - x, max(b.Y+b.H, o.Y+o.H) - y}
}

// dot is a place in a view.
type dot struct {
	X, Y int
	Tag  string
}

// stretch is a line in a view.
type stretch struct{ X1, Y1, X2, Y2 int }

// scene is what the views of one setup share.
type scene struct {
	Frame     []shape // what stands still
	Straight  []shape // what moves, straight ahead, in order
	Locks     [2][]shape
	Kingpins  []dot
	Contacts  []dot     // where a limit touches, as the limits are listed; Tag is empty for the others
	Column    []stretch // the column's axis; none for a rack
	Axle      stretch   // of the rear wheels
	Near, All box       // about the front axle, about the whole vehicle
	Small     int       // a length that is small in the view of the front axle
}

// scene gathers what the views need.
func (f *film) scene() (*scene, error) {
	s := &scene{}
	all, err := f.still(s)
	if err != nil {
		return nil, err
	}
	near := r2.EmptyRect()
	for k := range f.moves {
		m := &f.moves[k]
		p := &f.r.Scene.Pieces[m.piece]
		s.Straight = append(s.Straight, shape{kind(p), m.path(f.key(f.zero))})
		for _, d := range sweep.Directions {
			s.Locks[d] = append(s.Locks[d], shape{kind(p), m.path(f.key(f.locks[d]))})
		}
		for _, t := range m.tracks {
			ground := planar.Bounds(t...)
			all = all.Union(ground)
			if p.Rubber() || p.Part == nil {
				near = near.Union(ground)
			}
		}
	}
	f.marks(s)
	s.Near, s.All = boxOf(near, 20), boxOf(f.withCentres(all), 40)
	s.Small = max(s.Near.W/200, 1)
	return s, nil
}

// still draws what stands still, and returns the ground that it covers.
func (f *film) still(s *scene) (ground r2.Rect, err error) {
	ground = r2.EmptyRect()
	for i := range f.r.Scene.Pieces {
		p := &f.r.Scene.Pieces[i]
		if p.Body != linkage.Frame {
			continue
		}
		rings, err := plan.Silhouette(f.r.Scene, i, &f.r.Straight.Pose)
		if err != nil {
			return ground, err
		}
		var b strings.Builder
		for _, ring := range rings {
			pathOf(&b, ring)
		}
		ground = ground.Union(planar.Bounds(rings...))
		s.Frame = append(s.Frame, shape{kind(p), b.String()})
	}
	return ground, nil
}

// withCentres adds the turn's centres at the locks to the ground about the vehicle, as far as they are near enough.
func (f *film) withCentres(all r2.Rect) r2.Rect {
	for _, d := range sweep.Directions {
		c := f.r.Figures(&f.r.Locks[d].Pose).Circle.Centre
		if math.Abs(c.Y) < mostAway*all.Y.Length() {
			all = all.AddPoint(c)
		}
	}
	return all
}

// mostAway is how far off a turn's centre may be to be shown, in widths of the vehicle.
const mostAway = 3.0

// key is which of the stored frames shows a frame of the timeline, or the one before it.
func (f *film) key(frame int) int {
	at := 0
	for k, i := range f.keys {
		if i <= frame-f.first {
			at = k
		}
	}
	return at
}

// marks adds to a scene the kingpins, what touches at the limits, the column's axis and the rear axle.
func (f *film) marks(s *scene) {
	for _, side := range setup.Sides {
		x, y := onPage(flat(f.r.Setup.Centre(side)))
		s.Kingpins = append(s.Kingpins, dot{X: x, Y: y})
	}
	for _, d := range sweep.Directions {
		for i, l := range limitsOf(f.r, d) {
			c := dot{}
			if l.Kind == sweep.Contact {
				c.X, c.Y = onPage(flat(l.Point))
				c.Tag = tag(d, i)
			}
			s.Contacts = append(s.Contacts, c)
		}
	}
	v := f.r.Setup.Vehicle
	if column, ok := f.r.Linkage.Axis(linkage.Input); ok {
		x1, y1 := onPage(flat(column.Point.Sub(column.Dir.Mul(40))))
		x2, y2 := onPage(flat(column.Point.Add(column.Dir.Mul(0.4 * v.Wheelbase))))
		s.Column = []stretch{{x1, y1, x2, y2}}
	}
	out := v.RearTrack/2 + v.RearTyre.Width/2 + 40
	x, y := onPage(r2.Point{X: -v.Wheelbase, Y: out})
	s.Axle = stretch{x, y, -x, y}
}

// tick is a limit on the lock bar.
type tick struct {
	Frame    int
	Share    string // of the bar's length
	Tag, Way string
	Side     string // left or right
	First    bool
	Text     string
	Inner    string // angle of the inner wheel there; - where there is none
}

// ticks are the limits of a setup on the bar, from left to right.
func (f *film) ticks(columns []s1.Angle) (list []tick) {
	for _, d := range sweep.Directions {
		for i, l := range limitsOf(f.r, d) {
			frame, inner := frameAt(columns, l.Column), "-"
			if p, ok := f.r.Pose(l.Column); ok {
				inner = wording.Angle(p.Turn.InnerSteer)
			}
			list = append(list, tick{
				Frame: frame, Share: share(frame, len(columns)), Tag: tag(d, i), Way: wording.Way(l.Column), Side: d.String(), First: i == 0,
				Text: wording.Limit(f.r.Model, &l), Inner: inner,
			})
		}
		if d == sweep.ToLeft {
			slices.Reverse(list)
		}
	}
	return list
}

// share is how far along the bar a frame stands, as SVG takes it.
func share(frame, frames int) string {
	return wording.Fixed(100*float64(frame)/float64(max(frames-1, 1)), 2) + "%"
}
