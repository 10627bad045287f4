package compare

import (
	"math"
	"slices"

	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/loads"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Figure is something that setups are compared by.
type Figure struct {
	Key    string // stands in the JSON and never changes
	Kind   Kind
	Split  Split
	Better Better
	reading
}

// reading is how a figure is read off an entry, and what has to be found of that first.
type reading struct {
	needs needs
	of    func(e *Entry, path road.Slide) [2]float64
}

// needs are the fields of an entry that have to be found for a figure, besides the locks.
type needs uint

const (
	needNear     needs = 1 << iota // Result.Near
	needEnds                       // AtEnd
	needExtent                     // Extent
	needStopping                   // Stopping
	needAgainst                    // Against
	needGround                     // AtLock
	needHeld                       // Held
	needSlides                     // Slides
)

// Kind is what a figure measures.
type Kind int

const (
	Angle   Kind = iota // radians
	Length              // mm
	Ratio               // wheel per column
	Turns               // of the steering wheel
	Percent             // of Ackermann
	Force               // N
	Ground              // mm, a size on the ground
)

// Slack is the difference that a garage cannot tell: less than the last digit printed, in the units of Values.
func (k Kind) Slack() float64 {
	return [7]float64{Angle: 0.05 * math.Pi / 180, Length: 0.05, Ratio: 0.005, Turns: 0.005, Percent: 0.5, Force: 0.5, Ground: 5}[k]
}

// Split is what the two values of a figure stand for.
type Split int

const (
	Single Split = iota // one value, the first
	ByLock              // turning left, turning right
	BySide              // left corner, right corner
	ByPath              // sliding on a path to the left, to the right
)

// Better is what is better in a figure.
type Better int

const (
	Neither Better = iota
	More
	Less
	NearZero
)

// figures are all that is compared, in the order of the table.
var figures = []Figure{
	{"lock_inner", Angle, ByLock, More, lock(func(p *sweep.Pose) s1.Angle { return p.Turn.InnerSteer })},
	{"lock_outer", Angle, ByLock, More, lock(func(p *sweep.Pose) s1.Angle { return p.Turn.OuterSteer })},
	{"turns_lock_to_lock", Turns, Single, Neither, single(0, func(e *Entry) float64 { return e.Result.LockToLock() })},
	{"ackermann_error_10", Angle, ByLock, NearZero, steered(10*s1.Degree, ackermannError)},
	{"ackermann_error_20", Angle, ByLock, NearZero, steered(20*s1.Degree, ackermannError)},
	{"ackermann_error_lock", Angle, ByLock, NearZero, lock(func(p *sweep.Pose) s1.Angle { return p.Turn.Error })},
	{"ackermann_percent_20", Percent, ByLock, Neither, steered(20*s1.Degree, func(p *sweep.Pose) float64 { return p.Turn.Percent })},
	{"turning_circle_balanced", Ground, ByLock, Less, onGround(func(f *sweep.LockFigures) float64 { return f.Circle.OverFrontTyres })},
	{"turning_circle", Ground, ByLock, Less, onGround(func(f *sweep.LockFigures) float64 { return f.Outer.OverFrontTyres })},
	{"ratio_centre", Ratio, Single, Neither, single(0, func(e *Entry) float64 { return meanRatio(&e.Result.Straight) })},
	{"ratio_lock", Ratio, ByLock, Neither, eachWay(0, func(e *Entry, d sweep.Direction) float64 { return meanRatio(&e.Result.Locks[d].Pose) })},
	{"least_transmission", Angle, Single, More, single(needEnds, leastTransmission)},
	{"leverage_arm", Angle, Single, More, single(needEnds, func(e *Entry) float64 { return float64(e.AtEnd[linkage.AtArm].Angle) })},
	{"leverage_drop", Angle, Single, More, single(needEnds, func(e *Entry) float64 { return float64(e.AtEnd[linkage.AtDropArm].Angle) })},
	{"stop_margin", Angle, ByLock, More, eachWay(needStopping, func(e *Entry, d sweep.Direction) float64 { return float64(e.Stopping[d].Margin) })},
	{"rim_force", Force, ByLock, Less, eachWay(0, rimForce)},
	{"least_gap", Length, Single, More, single(needNear, leastGap)},
	{"rod_length", Length, BySide, Neither, reading{0, func(e *Entry, _ road.Slide) [2]float64 {
		return [2]float64{e.Result.Rods[0].Length, e.Result.Rods[1].Length}
	}}},
	{"rise_inner", Length, ByLock, Neither, rise(func(inner setup.Side) setup.Side { return inner })},
	{"rise_outer", Length, ByLock, Neither, rise(setup.Side.Other)},
	{"width", Length, Single, Less, single(needExtent, func(e *Entry) float64 { return e.Extent.Straight })},
	{"width_lock", Length, ByLock, Less, onGround(func(f *sweep.LockFigures) float64 { return f.Width })},
	{"width_narrowest", Length, Single, Less, single(needExtent, func(e *Entry) float64 { return e.Extent.Narrowest })},
	{"narrowest_column", Angle, Single, Neither, single(needExtent, func(e *Entry) float64 { return float64(e.Extent.NarrowestAt) })},
	{"length", Length, Single, Less, single(needExtent, func(e *Entry) float64 { return e.Extent.Length })},
	{"space_left_width", Length, Single, More, single(needExtent, func(e *Entry) float64 { return e.room(e.Setup.Space.Width, e.Extent.Straight) })},
	{"space_left_narrowest", Length, Single, More, single(needExtent, func(e *Entry) float64 { return e.room(e.Setup.Space.Width, e.Extent.Narrowest) })},
	{"space_left_length", Length, Single, More, single(needExtent, func(e *Entry) float64 { return e.room(e.Setup.Space.Length, e.Extent.Length) })},
	{"countersteer_inside", Angle, ByPath, More, against(func(c *sweep.Countersteer) float64 { return float64(c.Steer[c.Path.Outside().Other()]) })},
	{"countersteer_outside", Angle, ByPath, More, against(func(c *sweep.Countersteer) float64 { return float64(c.Steer[c.Path.Outside()]) })},
	{"countersteer_leverage_arm", Angle, ByPath, More, against(func(c *sweep.Countersteer) float64 { return float64(c.Leverage[linkage.AtArm].Angle) })},
	{"countersteer_leverage_drop", Angle, ByPath, More, against(func(c *sweep.Countersteer) float64 { return float64(c.Leverage[linkage.AtDropArm].Angle) })},
	{"countersteer_to_over_centre", Angle, ByPath, Neither, eachWay(needAgainst, toOverCentre)},
	{"countersteer_gap", Length, ByPath, More, eachWay(needAgainst|needNear, func(e *Entry, d sweep.Direction) float64 { return e.Against[d].Gap })},
	{"countersteer_camber_outside", Angle, ByPath, Neither, against(func(c *sweep.Countersteer) float64 { return float64(c.Pose.Wheels[c.Path.Outside()].Camber) })},
	{"countersteer_splay", Angle, ByPath, Neither, against(func(c *sweep.Countersteer) float64 { return float64(c.Splay) })},
	{"countersteer_trail_outside", Length, ByPath, Neither, eachWay(needAgainst|needGround, trailOutside)},
	{"slide_held_inside", Angle, ByPath, More, held(func(turn sweep.Direction) setup.Side { return setup.Side(turn) })},
	{"slide_held_outside", Angle, ByPath, More, held(func(turn sweep.Direction) setup.Side { return setup.Side(turn).Other() })},
	{"slide_apart_0", Angle, ByPath, NearZero, apart(0)},
	{"slide_apart_15", Angle, ByPath, NearZero, apart(15)},
	{"slide_apart_30", Angle, ByPath, NearZero, apart(30)},
	{"slide_apart_45", Angle, ByPath, NearZero, apart(45)},
}

// apartAt are the slide angles, in degrees, that figures are read off at.
var apartAt = [4]int{0, 15, 30, 45}

// Figures lists all that is compared, in the order of the table.
func Figures() []Figure { return slices.Clone(figures) }

// Keys returns the keys of all figures, in the order of the table.
func Keys() (keys []string) {
	for i := range figures {
		keys = append(keys, figures[i].Key)
	}
	return keys
}

func single(n needs, of func(e *Entry) float64) reading {
	return reading{n, func(e *Entry, _ road.Slide) [2]float64 { return [2]float64{of(e), math.NaN()} }}
}

// eachWay is a figure for turning left and one for turning right, or for a path to the left and to the right.
func eachWay(n needs, of func(e *Entry, d sweep.Direction) float64) reading {
	return reading{n, func(e *Entry, _ road.Slide) [2]float64 { return [2]float64{of(e, sweep.ToLeft), of(e, sweep.ToRight)} }}
}

// lock is an angle of the pose at either lock.
func lock(of func(p *sweep.Pose) s1.Angle) reading {
	return eachWay(0, func(e *Entry, d sweep.Direction) float64 { return float64(of(&e.Result.Locks[d].Pose)) })
}

// steered is a figure of the pose at a mean steer, on the way to either lock.
func steered(steer s1.Angle, of func(p *sweep.Pose) float64) reading {
	return eachWay(0, func(e *Entry, d sweep.Direction) float64 {
		p, ok := e.Result.AtMeanSteer(&e.Result.Locks[d], steer)
		if !ok {
			return math.NaN()
		}
		return of(&p)
	})
}

func ackermannError(p *sweep.Pose) float64 { return float64(p.Turn.Error) }

// onGround is what either lock means on the ground.
func onGround(of func(f *sweep.LockFigures) float64) reading {
	return eachWay(needGround, func(e *Entry, d sweep.Direction) float64 {
		return of(&e.AtLock[d])
	})
}

// rise is the rise at either lock of the corner on one side of the turn; NaN where it does not turn.
func rise(of func(inner setup.Side) setup.Side) reading {
	return eachWay(needGround, func(e *Entry, d sweep.Direction) float64 {
		turn := &e.Result.Locks[d].Pose.Turn
		if !turn.Known() {
			return math.NaN()
		}
		return e.AtLock[d].Rise[of(turn.Inner)]
	})
}

// meanRatio is the mean steer's turn per turn of the column.
func meanRatio(p *sweep.Pose) float64 { return (p.Ratio[setup.Left] + p.Ratio[setup.Right]) / 2 }

// rimForce is the pull at the rim that turns the wheels on the spot at a lock; NaN where the file gives no weight or
// where it is without bound.
func rimForce(e *Entry, d sweep.Direction) float64 {
	m, err := loads.New(e.Result)
	if err != nil {
		return math.NaN()
	}
	if force := m.Rim(m.Parked(&m.Locks[d].Pose, d).Torque); force < mostForce {
		return force
	}
	return math.NaN()
}

// mostForce is more than any steering has, N.
const mostForce = 1e6

// leastTransmission is the lesser of both ends.
func leastTransmission(e *Entry) float64 {
	return float64(min(e.AtEnd[linkage.AtArm].Angle, e.AtEnd[linkage.AtDropArm].Angle))
}

// leastGap is infinite where no pair comes near.
func leastGap(e *Entry) float64 {
	if near, ok := e.Result.LeastGap(); ok {
		return near.Gap
	}
	return math.Inf(1)
}

// room is what is left of a space, negative where the vehicle is too large; NaN where none is given.
func (e *Entry) room(space, taken float64) float64 {
	if space == 0 {
		return math.NaN()
	}
	return space - taken
}

// against is a figure of the lock against the path.
func against(of func(c *sweep.Countersteer) float64) reading {
	return eachWay(needAgainst, func(e *Entry, d sweep.Direction) float64 { return of(&e.Against[d]) })
}

// trailOutside is the trail of the wheel outside the path at the lock against it.
func trailOutside(e *Entry, d sweep.Direction) float64 {
	c := &e.Against[d]
	return e.AtLock[c.Lock].Trail[c.Path.Outside()]
}

// toOverCentre is how far the steering wheel is from over centre at the lock against the path; NaN where it never is.
func toOverCentre(e *Entry, d sweep.Direction) float64 {
	margins, found := e.Result.Margins(e.Against[d].Lock)
	stuck := e.Result.Locks[0].Column == e.Result.Locks[1].Column // no lock is against anything then
	if !found[linkage.AtDropArm] || stuck {
		return math.NaN()
	}
	return float64(margins[linkage.AtDropArm].Column)
}

// held is the slide angle that one wheel holds.
func held(wheel func(turn sweep.Direction) setup.Side) reading {
	return eachWay(needHeld, func(e *Entry, d sweep.Direction) float64 { return float64(e.Held[d][wheel(d)]) })
}

// apart is by how much the wheels splay in a slide of whole degrees.
func apart(degrees int) reading {
	return eachWay(needSlides, func(e *Entry, d sweep.Direction) float64 {
		for i := range e.Slides[d] {
			if p := &e.Slides[d][i]; p.Slide.Angle == s1.Angle(degrees)*s1.Degree {
				return float64(p.Apart)
			}
		}
		return math.NaN()
	})
}
