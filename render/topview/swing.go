package topview

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/plan"
	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
)

// Between two keys of the swing no wheel turns further than swingTurn, and a drop arm no further than swingStep: a corner 350 mm from
// its axis strays from its arc by less than 0.3 mm, which no pen shows at 1:5.
const (
	swingStep = 4 * s1.Degree
	swingTurn = 3 * s1.Degree
	// swingSeconds is how long it takes from one lock to the other.
	swingSeconds = 5
)

// swing draws the front axle as large as it goes, with what moves swinging between the locks.
func (d *drawing) swing(room r2.Rect) error {
	keys := d.swingKeys()
	motion := pendulum(keys)
	tracks, near := d.tracks(keys)
	rect, words := room, room
	rect.Y.Hi -= d.wordsHeight(room.Size().X) + gap
	words.Y.Lo = rect.Y.Hi + gap
	size, has := near.Size(), rect.Size().Sub(r2.Point{X: 2 * closeSides, Y: 2 * closeRows})
	fits := sheet.FitScale(size.Y, size.X, has.X, has.Y)
	scale := cmp.Or(d.opt.Scale, fits)
	if scale > fits {
		return fmt.Errorf("at %s the front axle takes %.0f by %.0f mm of paper and there is room for %.0f by %.0f above the words: choose a smaller scale",
			scale, size.Y*float64(scale), size.X*float64(scale), has.X, has.Y)
	}
	d.sheet.Scale = scale
	v := &view{drawing: d, Panel: d.sheet.NewPanel(rect, sheet.Centred(rect, near, sheet.FromAbove, scale)), room: rect, close: true}
	v.standing()
	v.phantoms()
	for _, o := range slices.Backward(d.outlines) {
		if t := tracks[o.Piece]; t != nil {
			v.moving(o.Piece, motion, t)
		}
	}
	v.Cover()
	for _, side := range setup.Sides {
		c := flat(d.r.Setup.Centre(side))
		v.Circle(sheet.Thin, sheet.Paper, c, v.paper(1.6))
		v.Cross(sheet.Thin, c, 2.4)
	}
	d.contacts([]*view{v})
	d.words(words)
	d.pointer(words, keys, motion)
	return nil
}

// pendulum is the motion over the keys: slow at the locks. It stands still where the wheels are nearest to straight ahead.
func pendulum(keys []sweep.Pose) *sheet.Motion {
	motion := &sheet.Motion{Seconds: swingSeconds, Shares: make([]float64, len(keys))}
	left, right := keys[0].Column, keys[len(keys)-1].Column
	for i, p := range keys {
		if left > right {
			motion.Shares[i] = math.Acos(max(-1, min(1, float64((2*p.Column-left-right)/(left-right))))) / math.Pi
		}
		if p.Column.Abs() < keys[motion.Still].Column.Abs() {
			motion.Still = i
		}
	}
	return motion
}

// tracks follows the pieces that move, by piece, and returns what is to be seen of the vehicle with them.
func (d *drawing) tracks(keys []sweep.Pose) (tracks map[int][]plan.Track, near r2.Rect) {
	poses := make([]linkage.Pose, len(keys))
	for i := range keys {
		poses[i] = keys[i].Pose
	}
	tracks, near = map[int][]plan.Track{}, d.linkage
	for _, o := range d.outlines {
		piece := &d.r.Scene.Pieces[o.Piece]
		if !moves(piece) {
			continue
		}
		tracks[o.Piece] = plan.Follow(d.r.Scene, o.Piece, poses)
		if piece.Part != nil {
			continue
		}
		for _, t := range tracks[o.Piece] {
			near = near.Union(planar.Bounds(t...))
		}
	}
	return tracks, near
}

// swingKeys are poses from the left lock to the right one, near enough to go straight between them.
func (d *drawing) swingKeys() (keys []sweep.Pose) {
	swings := !d.r.Linkage.Slides(linkage.Input)
	for i := range d.r.Poses {
		p := &d.r.Poses[i]
		if len(keys) > 0 && i+1 < len(d.r.Poses) && p.Column != 0 {
			last, next := &keys[len(keys)-1], &d.r.Poses[i+1]
			turned := max((last.Wheels[0].Steer - next.Wheels[0].Steer).Abs(), (last.Wheels[1].Steer - next.Wheels[1].Steer).Abs())
			if turned <= swingTurn && !(swings && (last.Column-next.Column).Abs() > swingStep) {
				continue
			}
		}
		keys = append(keys, *p)
	}
	return keys
}

// standing draws what stands still.
func (v *view) standing() {
	for _, o := range slices.Backward(v.outlines) {
		if p := &v.r.Scene.Pieces[o.Piece]; !moves(p) {
			v.Area(outlinePen(p), tint(p), o.Rings...)
		}
	}
	v.Line(sheet.Centre, r2.Point{X: v.whole.X.Lo}, r2.Point{X: v.whole.X.Hi})
}

// moving draws a piece that moves: the edges of its solids, and their fill above, so that inner edges do not show.
func (v *view) moving(piece int, motion *sheet.Motion, tracks []plan.Track) {
	p := &v.r.Scene.Pieces[piece]
	keys := make([][][]r2.Point, len(motion.Shares))
	for _, t := range tracks {
		for k := range keys {
			if len(t[k]) > 0 {
				keys[k] = append(keys[k], t[k])
			}
		}
	}
	if len(keys[0]) == 0 {
		return
	}
	pen := outlinePen(p)
	pen.Width *= 2 // half of it lies under the fill
	v.Moving(pen, sheet.NoFill, motion, keys)
	v.Moving(sheet.NoPen, tint(p), motion, keys)
}

// pointer moves a mark along the strip of the steering wheel's angle.
func (d *drawing) pointer(words r2.Rect, keys []sweep.Pose, motion *sheet.Motion) {
	st := d.stripOn(sheet.Rect(words.X.Lo, words.Y.Lo+d.warnedHeight(words.Size().X), words.Size().X, 0))
	rings := make([][][]r2.Point, len(keys))
	for k := range keys {
		up, down, half := st.at(keys[k].Column, -barHalf), st.at(keys[k].Column, barHalf), r2.Point{X: 0.6}
		rings[k] = [][]r2.Point{{up.Sub(half), up.Add(half), down.Add(half), down.Sub(half)}}
	}
	d.sheet.Moving(sheet.Thin, sheet.Tinted(sheet.Black), motion, rings)
}
