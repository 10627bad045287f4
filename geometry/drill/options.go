package drill

import (
	"cmp"
	"errors"
	"fmt"
	"math"

	"locksweep/geometry/setup"
)

// Edge distance and spacing of holes, centre to edge and centre to centre, in hole diameters.
const (
	EdgeFloor   = 1.2 // EN 1993-1-8, table 3.3
	WebFloor    = 2.2 // the same, along the load
	DefaultEdge = 2.0 // common practice, no source
	DefaultWeb  = 2.5 // common practice, no source
)

// Options says how to search. The zero Options is fine.
type Options struct {
	Diameter  float64 // of the hole, mm; 0: today's hole, or the rod end's thread, or 8
	Edge, Web float64 // in hole diameters; 0: DefaultEdge, DefaultWeb
	Reach     float64 // half the side of the square about today's hole where no outline is given, mm; 0: 20 more than the spacing of holes
	NewMetal  bool    // the arm is made anew: the holes that it has do not count
	Step      float64 // of the first grid, mm; 0: 2 for one hole, 6 for both
	Best      int     // places to list; 0: 3
	Slip      float64 // how far the drill may wander, mm; 0: defaultSlip; negative: not at all
	Each      bool    // left and right have their own place
	// Progress is told, on the caller's goroutine, how many places have been judged.
	Progress func(judged int)
	// Planning is told likewise, where the stop is to be ground too, how many of the steps in which cuts are planned have been begun.
	Planning func(begun, of int)

	today     float64 // diameter of the hole that the ball sits in today, as far as known, mm
	drillOut  bool    // a larger one is asked for
	stepGiven bool    // Step is not to be made coarser
}

// OptionError says which option is out of range and what would be right.
type OptionError struct {
	Option           string // its name on the command line
	Why              string // in brackets, where there is a reason to give
	Value, Low, High float64
	Length           bool // mm
}

func (e *OptionError) Error() string {
	return fmt.Sprintf("%s%s: %.6g should be from %g to %g", e.Option, e.Why, e.Value, e.Low, e.High)
}

// Errors of a hole that the linkage does not have, or of which it has only one.
var (
	ErrNoDropArm  = errors.New("a rack has no drop arm; look for the hole in the steering arms")
	ErrNoDragLink = errors.New("this setup has no drag link; its tie rods start at what the steering wheel moves")
	ErrOneHole    = errors.New("a drag link has one hole at either end, so there is no left and right")
)

// ErrBothEach says that with both holes each side cannot have its own place.
var ErrBothEach = errors.New("left and right can have their own place in the arms or in the drop arm, not in both at once")

// settle fills in what is left open and refuses what is out of range or what a linkage has not.
func (o *Options) settle(s *setup.Setup, on On) error {
	_, _, link := s.LinkBall()
	switch {
	case s.Rack != nil && (on == DropArm || on == Both):
		return ErrNoDropArm
	case !link && on == Link:
		return ErrNoDragLink
	case s.OnePin() && o.Each && on != Arm:
		return ErrOneHole
	case o.Each && on == Both:
		return ErrBothEach
	}
	o.today, _ = knownDiameter(s, on)
	o.Diameter = cmp.Or(o.Diameter, o.today, assumedDiameter)
	o.today = cmp.Or(o.today, o.Diameter)
	o.drillOut = o.Diameter > o.today+sameDrill
	o.Edge, o.Web = cmp.Or(o.Edge, DefaultEdge), cmp.Or(o.Web, DefaultWeb)
	o.Reach = cmp.Or(o.Reach, o.Web*o.Diameter+20)
	o.Slip = max(cmp.Or(o.Slip, defaultSlip), 0)
	o.stepGiven = o.Step != 0
	step := 2.0
	if o.Each || on == Both { // four co-ordinates
		step = 6
	}
	o.Step, o.Best = cmp.Or(o.Step, step), cmp.Or(o.Best, 3)
	return o.check()
}

// check refuses what is out of range.
func (o *Options) check() error {
	for _, e := range []OptionError{
		{"edge", " (EN 1993-1-8 has a floor of 1.2 hole diameters)", o.Edge, EdgeFloor, 20, false},
		{"spacing", " (EN 1993-1-8 has a floor of 2.2 hole diameters)", o.Web, WebFloor, 20, false},
		{"diameter", "", o.Diameter, 1, mostDiameter, true},
		{"step", "", o.Step, tenth, 100, true},
		{"reach", "", o.Reach, 1, 500, true},
		{"slip", "", o.Slip, 0, 5, true},
		{"best", "", float64(o.Best), 1, 20, false},
	} {
		if !(e.Value >= e.Low && e.Value <= e.High) {
			return &e
		}
	}
	return nil
}

const (
	assumedDiameter = 8.0 // of a hole of which nothing is known, mm
	mostDiameter    = 40  // of a hole that is looked for, mm: more is no hole of a steering arm but a slip of the pen
)

// knownDiameter returns the diameter of today's hole or, where the file does not give it, of the rod end's thread, mm.
func knownDiameter(s *setup.Setup, on On) (diameter float64, known bool) {
	arm := &s.Corners[setup.Left].Arm
	metal, at, rod := &arm.Metal, arm.Pickup, &s.Corners[setup.Left].Rod
	switch on {
	case DropArm:
		metal, at, rod = &s.DropArm.Metal, s.DropArm.Pins[setup.Left], s.DropRod()
	case Link:
		ball, side, _ := s.LinkBall()
		metal, at, rod = &s.Corners[side].Arm.Metal, ball, s.DropRod()
	}
	for _, h := range metal.Holes {
		if math.Hypot(h.At.X-at.X, h.At.Y-at.Y) < sameHole {
			return h.Diameter, true
		}
	}
	return rod.End.Thread, rod.End.Thread > 0
}

// DiameterAssumed reports whether neither the file nor an option gives the hole's diameter.
func (r *Result) DiameterAssumed() bool {
	_, known := knownDiameter(r.Setup, r.On)
	return !known && r.Options.Diameter == assumedDiameter
}

// Pilot returns the drill for the hole that is to be opened out and reamed, mm: six tenths of the finished diameter to the
// nearest whole millimetre, or sixteenth of an inch (common practice, no source), and never the finished size
// itself.
func Pilot(diameter float64, inches bool) float64 {
	step := 1.0
	if inches {
		step = 25.4 / 16
	}
	pilot := max(step, math.Round(0.6*diameter/step)*step)
	if pilot >= diameter {
		return 0.6 * diameter
	}
	return pilot
}
