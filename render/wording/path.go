package wording

import (
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
)

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
