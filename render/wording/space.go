package wording

import (
	"fmt"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Between says where between the locks a vehicle is narrower than straight ahead, or wider than the width given;
// empty where it is neither.
func Between(u setup.Unit, e *sweep.Extent, wide float64) (text string) {
	if TapeFigure(u, e.Narrowest) != TapeFigure(u, e.Straight) {
		text += fmt.Sprintf("; narrowest with the steering wheel at %s, %s", Way(e.NarrowestAt), Tape(u, e.Narrowest))
	}
	if TapeFigure(u, e.Widest) != TapeFigure(u, wide) {
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
	case TapeFigure(u, e.Narrowest) == TapeFigure(u, e.Straight):
		return text + fmt.Sprintf("does not fit, %s too wide; turning the wheels makes it no narrower", Tape(u, -straight))
	default:
		return text + fmt.Sprintf("does not fit, %s too wide straight ahead, and still %s with the steering wheel at %s",
			Tape(u, -straight), Tape(u, -narrowest), Way(e.NarrowestAt))
	}
}
