package wording

import (
	"fmt"
	"math"

	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Ground returns a size on the ground, in mm, with no more digits than it has: to 10 mm or an inch.
func Ground(u setup.Unit, mm float64) string {
	return known(groundFigure(u, mm), " "+u.String())
}

// groundFigure is Ground without the unit.
func groundFigure(u setup.Unit, mm float64) string {
	if u == setup.Inch {
		return Fixed(u.FromMM(mm), 0)
	}
	return Fixed(10*math.Round(mm/10+math.Copysign(1e-7, mm)), 0)
}

// Tape returns a length, in mm, as a tape tells it: to a millimetre or a hundredth of an inch.
func Tape(u setup.Unit, mm float64) string {
	return known(tapeFigure(u, mm), " "+u.String())
}

// tapeFigure is Tape without the unit.
func tapeFigure(u setup.Unit, mm float64) string {
	if u == setup.Inch {
		return Fixed(u.FromMM(mm), 2)
	}
	return Fixed(mm, 0)
}

// Gap returns what is free between two things, in mm: to a tenth of a millimetre or a hundredth of an inch, what a feeler or a
// rod pushed in between tells.
func Gap(u setup.Unit, mm float64) string {
	if u == setup.Inch {
		return Tape(u, mm)
	}
	return Length(u, mm)
}

// Circle says a turning circle, and where the two front wheels disagree on it what each of them by itself would give.
func Circle(u setup.Unit, f *sweep.LockFigures) string {
	text := Ground(u, f.Circle.OverFrontTyres)
	if f.TwoCircles() {
		text += " (outer wheel alone " + Ground(u, f.Outer.OverFrontTyres) + ", inner wheel alone " + Ground(u, f.Inner.OverFrontTyres) + ")"
	}
	return text
}

// Range says two lengths, in mm, as from one to the other, once where they read alike, with their signs.
func Range(u setup.Unit, a, b float64) string {
	return span(u, a, b, Signed)
}

// span says two lengths as from one to the other, their figures as sign has them.
func span(u setup.Unit, a, b float64, sign func(figure string) string) string {
	low, high := sign(tapeFigure(u, math.Min(a, b))), sign(tapeFigure(u, math.Max(a, b)))
	if low == high {
		return low + " " + u.String()
	}
	return low + " to " + high + " " + u.String()
}

// Path says what slides are looked at on: "4000 mm radius", and what the front wheels are taken to do there.
func Path(u setup.Unit, path road.Slide) string {
	return u.Say(path.Radius) + " radius, " + FrontWheels(path)
}

// FrontWheels says what the front wheels are taken to do in a slide.
func FrontWheels(path road.Slide) string {
	text := "no front slip"
	if path.FrontSlip != 0 {
		text = "front slip " + Angle(path.FrontSlip)
	}
	if path.OuterWeight != 0 {
		return text + ", " + Fixed(100*path.OuterWeight, 0) + "% on the outer wheel"
	}
	return text + ", both wheels loaded alike"
}

// SlideAtLock names the slide in which a front wheel rolls free with the steering at the lock against the turn.
const SlideAtLock = "Slide at lock"

// OnPath says on what path a slide is looked at, of a radius in mm: "on a path of 4000 mm radius".
func OnPath(u setup.Unit, radius float64) string {
	return "on a path of " + u.Say(radius) + " radius"
}

// Between says where between the locks a vehicle is narrower than straight ahead, or wider than the width given;
// empty where it is neither.
func Between(u setup.Unit, e *sweep.Extent, wide float64) (text string) {
	if tapeFigure(u, e.Narrowest) != tapeFigure(u, e.Straight) {
		text += fmt.Sprintf("; narrowest with the steering wheel at %s, %s", Way(e.NarrowestAt), Tape(u, e.Narrowest))
	}
	if tapeFigure(u, e.Widest) != tapeFigure(u, wide) {
		text += fmt.Sprintf("; widest at %s, %s", Way(e.WidestAt), Tape(u, e.Widest))
	}
	return text
}

// Fit says whether a vehicle fits into the width and the length that its file gives it, each in a text of its own;
// none where none is given.
func Fit(s *setup.Setup, e *sweep.Extent) (texts []string) {
	if s.Space.Width > 0 {
		texts = append(texts, fitsWidth(s.Unit, s.Space.Width, e))
	}
	if s.Space.Length > 0 {
		left := s.Space.Length - e.Length
		text := fmt.Sprintf("length of %s: fits with %s to spare", Tape(s.Unit, s.Space.Length), Tape(s.Unit, left))
		if left < 0 {
			text = fmt.Sprintf("length of %s: does not fit, %s too long", Tape(s.Unit, s.Space.Length), Tape(s.Unit, -left))
		}
		texts = append(texts, text)
	}
	return texts
}

func fitsWidth(u setup.Unit, space float64, e *sweep.Extent) string {
	text := "width of " + Tape(u, space) + ": "
	switch straight, narrowest := space-e.Straight, space-e.Narrowest; {
	case straight >= 0:
		return text + fmt.Sprintf("fits straight ahead with %s to spare", Tape(u, straight))
	case narrowest >= 0:
		return text + fmt.Sprintf("does not fit straight ahead, %s too wide, but does with the steering wheel at %s, with %s to spare",
			Tape(u, -straight), Way(e.NarrowestAt), Tape(u, narrowest))
	case tapeFigure(u, e.Narrowest) == tapeFigure(u, e.Straight):
		return text + fmt.Sprintf("does not fit, %s too wide; turning the wheels makes it no narrower", Tape(u, -straight))
	default:
		return text + fmt.Sprintf("does not fit, %s too wide straight ahead, and still %s with the steering wheel at %s",
			Tape(u, -straight), Tape(u, -narrowest), Way(e.NarrowestAt))
	}
}
