package grind

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/advance"
	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/planar"
	"locksweep/geometry/rigid"
	"locksweep/geometry/setup"
	"locksweep/geometry/solid"
	"locksweep/geometry/sweep"
)

// Pad is a stop pad: a block of metal, mm.
type Pad struct {
	Width     float64 // along the edge that it stands on
	Thickness float64 // square to that edge
}

// DefaultPadFor returns a pad as it is cut from flat bar: 12 by 6 mm or, where lengths are in inches, 1/2 by 1/4 (common practice, no source).
func DefaultPadFor(u setup.Unit) Pad { return flats(u)[0] }

// flats returns the pads that are tried where no size is asked for: DefaultPadFor a unit, then thicker ones as flat bar comes.
func flats(u setup.Unit) (pads []Pad) {
	if u == setup.Inch {
		for eighths := 2.0; eighths <= 6; eighths++ {
			pads = append(pads, Pad{Width: setup.MMPerInch / 2, Thickness: eighths * setup.MMPerInch / 8})
		}
		return pads
	}
	for _, thick := range [5]float64{6, 8, 10, 12, 16} {
		pads = append(pads, Pad{Width: 12, Thickness: thick})
	}
	return pads
}

// Place is a place for a stop pad, proved by a sweep with the pad in it.
type Place struct {
	Pad     Pad        // its size
	Piece   int        // of the scene after the cuts: what the pad is fixed to
	Meets   int        // what it stops against
	At      r2.Point   // middle of its foot on the piece's outline, in the piece's plane, mm
	Outline []r2.Point // of the pad, in that plane
	Lock    s1.Angle   // of the wheel inside the turn that it gives
	lever   float64    // of the pad about the kingpin
}

const (
	padStep  = 2.0              // mm from one place to the next along an outline
	padFoot  = 0.5              // how far a pad's foot is let into its piece, mm
	padError = 0.05 * s1.Degree // of the lock that a pad gives
	padTries = 3                // places that are proved by a sweep
)

// placePads looks for places of pads in the directions in which a stop is missing, one size after the other, and proves the first few of them.
func (j *job) placePads() (err error) {
	for _, size := range j.Pads {
		var places [2][]*Place
		for _, d := range sweep.Directions {
			if s := &j.Stops[d]; s.Missing() && s.Wanted > 0 && s.Pad == nil {
				if places[d], err = j.places(d, size); err != nil {
					return err
				}
			}
		}
		for i := range padTries {
			var pads [2]*Place
			for _, d := range sweep.Directions {
				if j.Stops[d].Pad == nil && i < len(places[d]) {
					pads[d] = places[d][i]
				}
			}
			if pads != ([2]*Place{}) {
				j.provePads(pads)
			}
		}
	}
	return nil
}

// stopPad is the name of the part that a pad is in the sweep that proves it.
const stopPad = "stop pad"

// provePads sweeps the setup with pads in place, by direction, and keeps those that give the lock wanted.
func (p *Plan) provePads(pads [2]*Place) {
	s := *p.After.Setup
	s.Parts = slices.Clone(s.Parts)
	for _, d := range sweep.Directions {
		if pads[d] == nil {
			continue
		}
		host := &p.After.Scene.Pieces[pads[d].Piece]
		part := setup.Part{Name: stopPad, On: setup.OnSpindle}
		if host.Body == linkage.Frame {
			part.On, part.AtKingpin = setup.OnFrame, true
		}
		part.Sides[host.Side] = true
		part.Plate = &setup.Plate{Outline: pads[d].Outline, Lower: host.Flat.Lower, Upper: host.Flat.Upper}
		s.Parts = append(s.Parts, part)
	}
	m, err := sweep.New(&s)
	if err != nil {
		return // the pad is in the way straight ahead: no place for it
	}
	isPad := func(i int) bool { return m.Scene.Pieces[i].Name == stopPad }
	for _, d := range sweep.Directions {
		if pads[d] == nil {
			continue
		}
		lock := m.Lock(d)
		first, steer := lock.First(), p.ways[d].steer(lock.Column)
		if pads[d].Lock = steer; first != nil && first.Kind == sweep.Contact && slices.ContainsFunc(first.Pair[:], isPad) && (steer-p.Stops[d].Wanted).Abs() < padError {
			p.Stops[d].Pad = pads[d]
		}
	}
}

// places returns places for pads of a size that should give the lock wanted in a direction: those on the frame first, since a spindle is better not
// welded, and of one plate the one with the longest lever first.
func (j *job) places(d sweep.Direction, size Pad) (places []*Place, err error) {
	column, ok := j.ways[d].columnAt(j.Stops[d].Wanted)
	if !ok {
		return nil, nil
	}
	pose, _ := j.After.Linkage.Pose(column)
	inner := j.ways[d].inner
	for round := range 2 {
		for i := range j.After.Scene.Pieces {
			host := &j.After.Scene.Pieces[i]
			if host.Flat == nil || !host.Sided || host.Side != inner || (host.Body == linkage.Frame) != (round == 0) {
				continue
			}
			t := newSite(j.After, i, inner, float64(pose.Sides[inner].Spindle))
			if t == nil {
				continue
			}
			found, err := j.carried(i, t.places(size))
			if err != nil {
				return nil, err
			}
			slices.SortStableFunc(found, func(a, b *Place) int { return cmp.Compare(b.lever, a.lever) })
			places = append(places, found...)
		}
	}
	return places, nil
}

// carried leaves out places on metal that may be ground where it would be too narrow to carry a stop.
func (j *job) carried(host int, places []*Place) (held []*Place, err error) {
	plate := j.plate(host)
	if plate == nil || len(places) == 0 {
		return places, nil
	}
	r, err := plate.rest(j.outline(plate))
	if err != nil {
		return nil, err
	}
	for _, place := range places {
		ok, err := r.Carries(planar.NewNearest([]planar.Edge{{place.Outline[0], place.Outline[3]}}), plate.width)
		if err != nil {
			return nil, err
		}
		if ok {
			held = append(held, place)
		}
	}
	return held, nil
}

// site is a plate about a kingpin, square to it, on which pads are tried.
type site struct {
	model   *sweep.Model
	host    int // the plate, a piece of the scene
	flat    *clearance.Flat
	onFrame bool       // else on the spindle
	axis    rigid.Axis // the kingpin
	wanted  float64    // spindle angle at which a pad is to touch, radians
	others  []int      // metal of known shape on the other of the two
}

// newSite returns the site that a piece is; nil where it is none, or where there is nothing that a pad might meet.
func newSite(m *sweep.Model, host int, side setup.Side, wanted float64) *site {
	h := &m.Scene.Pieces[host]
	spindle, other := linkage.LeftSpindle+linkage.Body(side), linkage.Frame
	axis := m.Linkage.Axes[spindle]
	t := &site{model: m, host: host, flat: h.Flat, onFrame: h.Body == linkage.Frame, axis: axis, wanted: wanted}
	if t.onFrame {
		other = spindle
	}
	if h.Body != spindle && !(t.onFrame && h.Part.AtKingpin) {
		return nil
	}
	for _, i := range m.Scene.Against(host) {
		if p := &m.Scene.Pieces[i]; p.Body == other && !p.Assumed && (p.Part != nil || p.Name == clearance.Arm) {
			t.others = append(t.others, i)
		}
	}
	if len(t.others) == 0 {
		return nil
	}
	return t
}

// places goes along the outline and returns the places at which a pad just touches with the spindle at the angle wanted.
func (t *site) places(pad Pad) (places []*Place) {
	length := length(append(slices.Clone(t.flat.Outline), t.flat.Outline[0]))
	n := int(math.Ceil(length / padStep))
	free := func(s float64) (bool, *Place) {
		place := t.place(s, pad)
		gap, meets := t.gap(place.Outline)
		place.Meets = meets
		return gap > 0, place
	}
	before := first(free(0))
	for i := 1; i <= n; i++ {
		low, high := length*float64(i-1)/float64(n), length*float64(i)/float64(n)
		after := first(free(high))
		if before != after {
			at, past := advance.Halve(low, high, 24, func(s float64) bool { return first(free(s)) == after })
			if before {
				at = past // the first place that touches
			}
			if _, place := free(at); t.sound(place) {
				places = append(places, place)
			}
		}
		before = after
	}
	return places
}

// square is how near to square a pad must take the blow: the cosine of 45 degrees.
const square = 0.7

// sound reports whether a pad stands with three quarters of its foot, and its middle, on the metal, and takes the blow squarely enough.
func (t *site) sound(p *Place) bool {
	foot := [2]r2.Point{p.Outline[0], p.Outline[3]}
	along := foot[1].Sub(foot[0])
	stands := func(share float64) bool { return planar.Inside(t.flat.Outline, foot[0].Add(along.Mul(share))) }
	const parts = 12
	on := 0
	for i := range parts {
		if stands((float64(i) + 0.5) / parts) {
			on++
		}
	}
	return on >= parts*3/4 && stands(0.5) && math.Abs(along.Normalize().Dot(p.At.Normalize())) >= square
}

// first returns the first of two results.
func first[A, B any](a A, _ B) A { return a }

// place returns a pad that stands on the outline, s mm along it.
func (t *site) place(s float64, pad Pad) *Place {
	ring := t.flat.Outline
	for i, a := range ring {
		along := ring[(i+1)%len(ring)].Sub(a)
		length := along.Norm()
		if s > length && i < len(ring)-1 {
			s -= length
			continue
		}
		u := along.Mul(1 / length)
		out := r2.Point{X: u.Y, Y: -u.X}
		at := a.Add(u.Mul(math.Min(s, length)))
		foot, top, half := at.Sub(out.Mul(padFoot)), at.Add(out.Mul(pad.Thickness)), u.Mul(pad.Width/2)
		return &Place{Pad: pad, Piece: t.host, At: at, lever: at.Norm(),
			Outline: []r2.Point{foot.Sub(half), top.Sub(half), top.Add(half), foot.Add(half)}}
	}
	return nil
}

// gap returns the distance of a pad from the nearest metal with the spindle at the angle wanted, mm, negative where they overlap, and the piece
// that is nearest. Where the two are well apart the distance may be told too small.
func (t *site) gap(outline []r2.Point) (least float64, meets int) {
	least = math.Inf(1)
	solids, err := solid.Plate(outline, t.flat.Lower, t.flat.Upper, t.flat.Place)
	if err != nil {
		return least, 0
	}
	own, other := rigid.About(t.axis, s1.Angle(t.wanted)), rigid.Identity
	if t.onFrame {
		own, other = other, own
	}
	middle, radius := solids[0].Ball()
	middle = own.Point(middle)
	for _, i := range t.others {
		metal := t.model.Scene.Pieces[i].Solids
		for k := range metal {
			c, r := metal[k].Ball()
			if apart := other.Point(c).Sub(middle).Norm() - radius - r; apart > 0 {
				if apart < least {
					least, meets = apart, i
				}
				continue
			}
			if g, _, _ := solid.Distance(&solids[0], &metal[k], own, other); g < least {
				least, meets = g, i
			}
		}
	}
	return least, meets
}
