package setupfile

import (
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
)

// slip10 is where a point would be with its co-ordinate of an axis (0 to 2) ten times, or a tenth of, what it is.
type slip10 struct {
	at   r3.Vector
	axis int
	by   float64 // 10 or 0.1
}

func tenfold(p r3.Vector) (list []slip10) {
	for axis := range 3 {
		for _, by := range [2]float64{10, 0.1} {
			at := figures(p)
			at[axis] *= by
			list = append(list, slip10{r3.Vector{X: at[0], Y: at[1], Z: at[2]}, axis, by})
		}
	}
	return list
}

func figures(p r3.Vector) [3]float64 { return [3]float64{p.X, p.Y, p.Z} }

// The shortest and the longest usual steering arm, as shares of the kingpins' spacing.
const shortArm, longArm = 0.1, 0.35

// slipped warns of a pickup with one co-ordinate that looks ten times off, and reports whether it did: of an arm far too short to turn
// the wheel, though it has some length, or of one that runs further inboard than back.
func (t *doubter) slipped(v value, at r3.Vector) bool {
	if v.n.kind != list {
		return false
	}
	forward, outboard, spacing := math.Abs(at.X), math.Abs(at.Y), t.s.Spacing
	usual := func(mm float64) bool { return mm >= shortArm*spacing && mm <= longArm*spacing }
	switch {
	case forward > 0 && forward < shortArm*spacing/slip && usual(10*forward) && outboard > forward/2:
		v.warn("ten-times", "has forward %s beside outboard %s and kingpin.spacing of %s; %s to %s is usual, forward or behind; a slip of the point?",
			t.figure(at.X), t.figure(at.Y), t.say(spacing), t.say(shortArm*spacing), t.say(longArm*spacing))
	case outboard > forward && usual(forward) && outboard > 2*shortArm*spacing:
		v.warn("ten-times", "has outboard %s beside forward %s, so that the arm points more across the kart than along it; up to half of forward is usual; a slip of the point?",
			t.figure(at.Y), t.figure(at.X))
	default:
		return false
	}
	return true
}

// rodPoint is a point on which depends where a tie rod or a drag link runs.
type rodPoint struct {
	v    value
	at   r3.Vector // as the file has it, in axes, mm
	axes *[3]coordinate
	rod  func(at r3.Vector) r3.Vector // the rod with the point at at: from its inner ball to that at the steering arm, vehicle axes, mm
}

// rodPoints lists the points that the rod from the column or the rack to a side hangs on; none where there is no such rod.
func (t *doubter) rodPoints(side setup.Side) (list []rodPoint) {
	s, pickup, v := t.s, t.s.Corners[side].Arm.Pickup, t.of(side, "arm", "pickup")
	if s.DragLink != nil {
		if s.DragLink.Side != side {
			return nil
		}
		pickup, v = s.DragLink.Pickup, t.value("drag_link", "pickup")
	}
	from, to := s.Column.ColumnPoint(s.DropArm.Pins[side]), s.CornerPoint(side, pickup)
	if s.Rack != nil {
		from = s.Rack.Balls[side]
		list = append(list, rodPoint{t.value("rack", side.String()), from, &vehicleAxes, to.Sub})
	} else {
		list = append(list,
			rodPoint{t.pinOf(side), s.DropArm.Pins[side], &columnAxes, func(at r3.Vector) r3.Vector { return to.Sub(s.Column.ColumnPoint(at)) }},
			rodPoint{t.value("column", "foot"), s.Column.Foot, &vehicleAxes, func(at r3.Vector) r3.Vector { return to.Sub(from).Add(s.Column.Foot).Sub(at) }})
	}
	return append(list, rodPoint{v, pickup, &cornerAxes, func(at r3.Vector) r3.Vector { return s.CornerPoint(side, at).Sub(from) }})
}

// points warns of points on which rods depend where one co-ordinate looks ten times off, since the rod would run as it should with that
// mended. It stops where a figure is doubted from which such a misfit may follow.
func (t *doubter) points() {
	t.mates()
	for _, look := range []func(setup.Side){t.misfit, t.askew, t.decimals} {
		for _, side := range setup.Sides {
			if !slices.ContainsFunc(t.d.warnings, Warning.Cause) {
				look(side)
			}
		}
	}
}

// mates warns of two pins, or two balls of a rack, that would be one another's mirror image but for one co-ordinate, ten times the other's.
func (t *doubter) mates() {
	points := [2]rodPoint{}
	for side := range points {
		if list := t.rodPoints(setup.Side(side)); len(list) > 0 {
			points[side] = list[0]
		}
	}
	left, right := points[setup.Left], points[setup.Right]
	if !left.v.given() || !right.v.given() || left.v.n == right.v.n || t.doubted(left.v) || t.doubted(right.v) {
		return
	}
	const apart, alike = 2.0, 0.5 // mm
	mirror := r3.Vector{X: right.at.X, Y: -right.at.Y, Z: right.at.Z}
	if mirror.Sub(left.at).Norm() < apart {
		return
	}
	for _, o := range tenfold(left.at) {
		if o.at.Sub(mirror).Norm() <= alike {
			left.v.warn("ten-times", "has %s %s where %s has %s, and is its mirror image else; a slip of the point in one of the two?",
				left.axes[o.axis].name, t.figure(figures(left.at)[o.axis]), right.v.key(), t.figure(figures(right.at)[o.axis]))
			return
		}
	}
}

// decimals warns of a small figure with tenths of a millimetre beside whole ones: a tape reads no tenths but a half.
func (t *doubter) decimals(side setup.Side) {
	for _, p := range append(t.rodPoints(side), rodPoint{v: t.of(side, "arm", "pickup"), axes: &cornerAxes}) {
		if i, ok := t.fine(p.v); ok && !t.doubted(p.v) {
			x := p.v.n.items[i]
			p.v.warn("ten-times", "has %s %s beside whole figures, finer than a tape reads; is it %.0f, a slip of the point?", p.axes[i].name, x.str, 10*x.num)
		}
	}
}

// fine returns the index of the one figure of a point that is given to a tenth of a millimetre, where it is under 10 mm and one of the
// others, all whole or halves, is not.
func (t *doubter) fine(v value) (at int, ok bool) {
	if !v.given() || t.d.unit != setup.MM || v.n.kind != list {
		return 0, false
	}
	at = -1
	large := false
	for i, item := range v.n.items {
		whole, part, point := strings.Cut(item.str, ".")
		switch {
		case item.kind != number || point && (at >= 0 || len(part) != 1 || part == "0" || part == "5"):
			return 0, false
		case point:
			at = i
		default:
			large = large || len(strings.TrimLeft(whole, "+-")) > 1
		}
	}
	return at, large && at >= 0 && math.Abs(v.n.items[at].num) < 10
}

func (t *doubter) doubted(v value) bool {
	return slices.ContainsFunc(t.d.warnings, func(w Warning) bool { return w.Key == v.key() })
}

// misfit warns of a co-ordinate with which a rod of the given length does not fit, though with ten times it, or a tenth, it would.
func (t *doubter) misfit(side setup.Side) {
	length := t.s.Corners[side].Rod.Length
	if link := t.s.DragLink; link != nil {
		length = link.Rod.Length
	}
	if length == 0 {
		return
	}
	const unfit, fits = 6.0, 1.5 // mm, past what a rod is screwed to set the toe, and what a tape can tell
	off := func(_ setup.Side, rod r3.Vector) float64 { return math.Abs(rod.Norm() - length) }
	if p, o, was, _ := t.mended(side, off, unfit, fits, 0); o != nil {
		p.v.warn("ten-times", "has %s %s, with which a rod of %s is %s off; with %s it would fit; a slip of the point?",
			p.axes[o.axis].name, t.figure(figures(p.at)[o.axis]), t.d.say(length), t.say(was), t.figure(figures(p.at)[o.axis]*o.by))
	}
}

// askew warns of a co-ordinate with which, wheels straight ahead, a rod runs far from straight across the vehicle, though with ten times
// it, or a tenth, it would not. A drag link may run along the vehicle too, but hardly up.
func (t *doubter) askew(side setup.Side) {
	const crooked, straight = 15.0, 5.0 // degrees
	name, way := side.String()+" tie rod", "straight across the vehicle"
	off := func(side setup.Side, rod r3.Vector) float64 {
		return s1.Angle(math.Acos(rod.Y * side.Sign() / rod.Norm())).Degrees()
	}
	if t.s.DragLink != nil {
		name, way = "drag link", "level"
		off = func(_ setup.Side, rod r3.Vector) float64 {
			return s1.Angle(math.Asin(math.Abs(rod.Z) / rod.Norm())).Degrees()
		}
	}
	if p, o, was, then := t.mended(side, off, crooked, straight, 0.25); o != nil {
		p.v.warn("ten-times", "has %s %s, with which the %s runs %.0f degrees from %s, wheels straight ahead; with %s it would be %.0f; a slip of the point?",
			p.axes[o.axis].name, t.figure(figures(p.at)[o.axis]), name, was, way, t.figure(figures(p.at)[o.axis]*o.by), then)
	}
}

// mended looks for the slip that, mended, does most for a side's rod: one that off says is off by least or more, and that would then be
// off by at most most, or by a share of what it was. It returns the point, the slip (nil where there is none) and by how much the rod
// was off and would then be, as off counts it.
func (t *doubter) mended(side setup.Side, off func(side setup.Side, rod r3.Vector) float64, least, most, share float64) (p rodPoint, o *slip10, was, then float64) {
	points := t.rodPoints(side)
	moved := slices.ContainsFunc(points, t.moved)
	if moved && t.turned() {
		return p, nil, 0, 0 // the point stands where it belongs once they are
	}
	for _, q := range points {
		if was = off(side, q.rod(q.at)); !(was >= least) {
			return p, nil, was, 0
		}
		if then == 0 {
			then = max(most, share*was)
		}
		if !q.v.given() || q.v.n.kind != list || moved && !t.moved(q) {
			continue
		}
		for _, other := range tenfold(q.at) {
			if by := off(side, q.rod(other.at)); by <= then && t.usual(side, &q, other.at) && !t.spoils(side, &q, &other, off, by) {
				p, o, then = q, &other, by
			}
		}
	}
	return p, o, was, then
}

// moved reports whether a point is given by a variant or a setting, not by the file itself.
func (t *doubter) moved(p rodPoint) bool {
	return p.v.given() && !slices.ContainsFunc(t.d.file.fields, func(f field) bool { return f.name != "variant" && f.val.holds(p.v.n) })
}

// turned reports whether [change] hangs spindles or drop arm anew.
func (t *doubter) turned() bool {
	return slices.ContainsFunc(setup.RehangKeys[:], t.changes)
}

// usual reports whether the steering arm or the drop arm would have a usual length with a rod's point at at.
func (t *doubter) usual(side setup.Side, p *rodPoint, at r3.Vector) bool {
	reach, of, short, long := math.Hypot(at.X, at.Y), t.s.Spacing, shortArm, longArm
	switch p.axes {
	case &vehicleAxes:
		return true
	case &columnAxes:
		of, short, long = t.lever(side), shortPin, longPin
	}
	return reach >= short*of && reach <= long*of
}

// spoils reports whether mending a slip would put the other side's rod off by more than twice by: the file gives the point for both sides.
func (t *doubter) spoils(side setup.Side, p *rodPoint, o *slip10, off func(side setup.Side, rod r3.Vector) float64, by float64) bool {
	for _, q := range t.rodPoints(side.Other()) {
		if q.v.n != p.v.n {
			continue
		}
		for _, other := range tenfold(q.at) {
			if other.axis == o.axis && other.by == o.by && off(side.Other(), q.rod(other.at)) > 2*max(by, 1) {
				return true
			}
		}
	}
	return false
}

// slips warns of a co-ordinate that stands far outside those of the other points of its list, but would stand among them
// as a tenth of itself. The first and the last point of a line may well lie apart, as at the end of a long straight run: they
// are doubted only where they are ends (mm) or more from nought; 0 for a ring, which has no ends.
func (t *doubter) slips(v value, ends float64) {
	if !v.given() || v.n.kind != list || len(v.n.items) < 4 {
		return
	}
	points := v.items()
	for axis := range 3 {
		var all []float64
		for _, p := range points {
			if p.n.kind != list || axis >= len(p.n.items) || p.n.items[axis].kind != number {
				return
			}
			all = append(all, p.n.items[axis].num)
		}
		sorted := slices.Sorted(slices.Values(all))
		last := len(sorted) - 1
		for i, x := range all {
			low, high := sorted[0], sorted[last] // of the others
			if x == low {
				low = sorted[1]
			}
			if x == high {
				high = sorted[last-1]
			}
			if end := i == 0 || i == last; end && t.d.unit.ToMM(math.Abs(x)) < ends {
				continue
			}
			span := high - low
			if span > 0 && (x < low-2*span || x > high+2*span) && x/10 >= low-span/10 && x/10 <= high+span/10 {
				points[i].warn("ten-times", "has %v where the other points lie between %g and %g; is it a slip of the point?", x, low, high)
			}
		}
	}
}
