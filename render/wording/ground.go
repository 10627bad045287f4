package wording

import (
	"math"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Ground returns a size on the ground, in mm, with no more digits than it has: to 10 mm or an inch.
func Ground(u setup.Unit, mm float64) string {
	return known(GroundFigure(u, mm), " "+u.String())
}

// GroundFigure is Ground without the unit.
func GroundFigure(u setup.Unit, mm float64) string {
	if u == setup.Inch {
		return Fixed(u.FromMM(mm), 0)
	}
	return Fixed(10*math.Round(mm/10+math.Copysign(1e-7, mm)), 0)
}

// Tape returns a length, in mm, as a tape tells it: to a millimetre or a hundredth of an inch.
func Tape(u setup.Unit, mm float64) string {
	return known(TapeFigure(u, mm), " "+u.String())
}

// TapeFigure is Tape without the unit.
func TapeFigure(u setup.Unit, mm float64) string {
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
	low, high := sign(TapeFigure(u, math.Min(a, b))), sign(TapeFigure(u, math.Max(a, b)))
	if low == high {
		return low + " " + u.String()
	}
	return low + " to " + high + " " + u.String()
}
