package wording

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/grind"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// GrindCautions are what must be known before metal comes off.
var GrindCautions = []string{
	"A stop carries load: it must hold a hard knock at full lock. Grind both sides equal, to the line and not past it.",
	"Leave fillets and smooth curves, no notches and no sharp inner corners: cracks begin there. Finish along the metal, not across.",
	"Grind cool, a little at a time, and dip or rest the part: metal that shows colour has lost its strength.",
	"No grinding of forged, cast or hardened spindles and arms without advice from somebody competent.",
	"Look for cracks afterwards, with dye penetrant if you can get it, and again after the first rides.",
	"A positive metal stop must touch before the linkage's own limit and before a tyre or rod touches anything. Try it by hand, both ways.",
}

// reached says what a target is when it is reached: "the inner wheel turns 45.0°".
func reached(p *grind.Plan) string {
	if p.Target.Measure == grind.ByColumn {
		return fmt.Sprintf("the steering wheel turns %s either way", Angle(p.Target.Angle))
	}
	return "the inner wheel turns " + Angle(p.Target.Angle)
}

// Blocks says why grinding takes the wheels no further.
func Blocks(m *sweep.Model, most *grind.Most) string {
	u := m.Setup.Unit
	switch most.Reason {
	case grind.ByLimit:
		return Limit(m, most.Limit)
	case grind.ByMargin:
		return fmt.Sprintf("metal has to stop the wheels %s of the steering wheel before the %s (common practice)", Angle(sweep.WantedMargin), Limit(m, most.Limit))
	case grind.ByNear:
		a, b := Pair(m, most.Near.Pair)
		return fmt.Sprintf("%s comes nearer than %s to %s", a, Length(u, most.Gap), b)
	case grind.ByWidth:
		return fmt.Sprintf("what would remain of %s is narrower than %s from where it is touched to where it hangs on, which is no stop, and nothing else stops the wheels in time",
			Piece(m, most.Cut.Piece), Length(u, most.Cut.LeastWide))
	case grind.ByNoStop:
		text := "no metal would stop the wheels in time"
		if first := most.Limit; first != nil && first.Kind == sweep.Contact && m.Unmarked(first.Pair) {
			text += "; " + noStop(m, first)
		}
		return text
	case grind.ByTransmission:
		return fmt.Sprintf("the angle between the %s and the %s falls under %s; the stop is what keeps the linkage from there",
			m.Linkage.Rods[most.Rod].Name(), Place(m, most.Rod, most.End), Angle(m.Setup.Limits.Transmission))
	case grind.ByWall:
		if w := &most.Cut.Wall; w.Today < w.Least()-0.05 { // else it is the cut that makes it thin
			return thinToday(m, most.Cut)
		}
		return fmt.Sprintf("%s would keep less than %s of metal to its %s", Piece(m, most.Cut.Piece), Length(u, most.Cut.Wall.Least()), wallTo(&most.Cut.Wall))
	case grind.ByMetal:
		return fmt.Sprintf("the cut would take the metal that %s hangs on", Piece(m, most.Cut.Piece))
	}
	return "the steering wheel is followed no further than " + Followed(m)
}

// thinToday says that a wall is less than the least before anything is ground, and what to do where that is only assumed.
func thinToday(m *sweep.Model, c *grind.Cut) string {
	u, w := m.Setup.Unit, &c.Wall
	text := fmt.Sprintf("%s has %s of metal to its %s today where it would be cut, ", Piece(m, c.Piece), Length(u, w.Today), wallTo(w))
	if c.Part.MinWall > 0 {
		return text + "less than its min_wall of " + Length(u, w.Least())
	}
	return text + "less than the assumed minimum of " + Length(u, w.Least()) + "; set min_wall if less will do"
}

// Piece names a piece of the scene.
func Piece(m *sweep.Model, i int) string { return setup.Printable(m.Scene.Pieces[i].Label()) }

// Beyond says why a target is out of reach, and the most that grinding alone gives.
func Beyond(b *grind.BeyondError) string {
	p := b.Plan
	reached := true
	said := BothWays(func(d sweep.Direction) string {
		if !b.Beyond[d] {
			return ""
		}
		reached = reached && past(p, d)
		text := "turning " + d.String() + " " + furthest(p, d)
		if s := &p.Stops[d]; s.Missing() {
			text += "; " + padAdvice(p, s)
			if s.Wanted == s.Latest && s.Wanted < p.Steer[d] {
				text += fmt.Sprintf(" (later than %s no stop may come: %s)", Angle(s.Latest), Blocks(p.Model, &s.Hazard))
			}
		}
		return text
	}, "turning right it is the same on the other side")
	if b.ByOwn {
		said = append(said, "without --clear it can be reached: the ground metal itself is the stop then")
	}
	if p.Target.Measure == grind.AsFar {
		return "grinding alone takes the wheels no further than they turn today: " + strings.Join(said, "; ")
	}
	if reached {
		return fmt.Sprintf("no grinding is planned for the %s to turn %s: %s", turned(p), Angle(p.Target.Angle), strings.Join(said, "; "))
	}
	return fmt.Sprintf("grinding alone cannot turn the %s to %s: %s", turned(p), Angle(p.Target.Angle), strings.Join(said, "; "))
}

// past reports whether the lock as it is lies beyond where it should end.
func past(p *grind.Plan, d sweep.Direction) bool {
	return p.Most[d].At < p.Most[d].Steer && Angle(p.Most[d].At) != Angle(p.Most[d].Steer)
}

// turned names the wheel at which a target is measured.
func turned(p *grind.Plan) string {
	if p.Target.Measure == grind.ByColumn {
		return "steering wheel"
	}
	return "inner wheel"
}

// furthest says how far grinding alone takes the inner wheel, and that the lock as it is lies beyond where that is so.
func furthest(p *grind.Plan, d sweep.Direction) string {
	most := &p.Most[d]
	if past(p, d) {
		return fmt.Sprintf("the inner wheel already turns %s, past %s, where %s", Angle(most.Steer), Angle(most.At), Blocks(p.Model, most))
	}
	return fmt.Sprintf("the inner wheel gets to %s at most (steering wheel %s): %s",
		shortOf(p, grind.BySteer, most.Steer), shortOf(p, grind.ByColumn, most.Column.Abs()), Blocks(p.Model, most))
}

// shortOf says the most that an angle gets to: finer, and never more than it is, where it would else read like the target.
func shortOf(p *grind.Plan, by grind.Measure, most s1.Angle) string {
	if p.Target.Measure == by && Angle(most) == Angle(p.Target.Angle) {
		return Fixed(math.Floor(most.Degrees()*1000)/1000, 3) + "°"
	}
	return Angle(most)
}

// GrindError puts a refusal into words; other errors stay as they are.
func GrindError(err error) error {
	var b *grind.BeyondError
	if errors.As(err, &b) {
		return errors.New(Beyond(b))
	}
	return err
}

// GrindAnswer is the answer of a plan in a few sentences.
func GrindAnswer(p *grind.Plan) string {
	var said []string
	if len(p.Cuts) == 0 {
		said = append(said, fmt.Sprintf("Nothing needs to come off, no cut needed: today's lock is %s, %s as it is.", Angle(p.Lesser(false)), reached(p)))
	} else {
		stop := false
		for _, c := range p.Cuts {
			stop = stop || c.Stops != [2]bool{}
		}
		text := fmt.Sprintf("Grind %s: then %s", cutsOff(p), reached(p))
		if stop {
			text += " and the ground metal is the stop"
		} else {
			text += ", and what is ground passes " + Length(p.Model.Setup.Unit, p.Clearance) + " clear"
		}
		said = append(said, text+".")
	}
	for _, c := range p.Cuts {
		piece := Piece(p.Model, c.Piece)
		switch c.Past {
		case grind.PastNarrow:
			said = append(said, fmt.Sprintf("What would remain of the %s is narrower than %s, which is no stop: it comes off as well.", piece, Length(p.Model.Setup.Unit, c.LeastWide)))
		case grind.PastBrush:
			said = append(said, fmt.Sprintf("Nearer the target the %s would only be brushed past, which is no stop: it comes off as well, up to where it is met squarely enough.", piece))
		case grind.PastGap:
			said = append(said, fmt.Sprintf("Nearer the target the %s has no metal that would be met: it touches only further on.", piece))
		}
	}
	return strings.Join(append(said, BothWays(func(d sweep.Direction) string {
		before, after := p.Lock(d, false), p.Lock(d, true)
		if Angle(after) == Angle(before) {
			return fmt.Sprintf("Turned %s the inner wheel goes to %s as today; %s.", d, Angle(after), stopLine(p, d))
		}
		return fmt.Sprintf("Turned %s the inner wheel goes to %s instead of %s (%s); %s.", d,
			Angle(after), Angle(before), Signed(Angle(after-before)), stopLine(p, d))
	}, "Turned right it is the same on the other side.")...), " ")
}

// BothWays says something of both directions: once, and likewise, where the right is the mirror image of the left.
func BothWays(say func(sweep.Direction) string, likewise string) (said []string) {
	left, right := say(sweep.ToLeft), say(sweep.ToRight)
	switch {
	case Likewise(left, right):
		return []string{left, likewise}
	case left != "" && right != "":
		return []string{left, right}
	case left+right != "":
		return []string{left + right}
	}
	return nil
}

// Likewise reports whether what is said of the right is the mirror image of what is said of the left.
func Likewise(left, right string) bool { return left != "" && mirrored(left) == right }

// mirrored swaps left and right in a text.
func mirrored(text string) string {
	return strings.NewReplacer("left", "right", "right", "left").Replace(text)
}

// InTurn says things one after the other, those of which there is something to say; like says what is the mirror image of what came before.
func InTurn[T any](things []T, say, like func(T) string) (said []string) {
	before := ""
	for _, thing := range things {
		text := say(thing)
		switch {
		case text == "":
			continue
		case Likewise(before, text):
			said = append(said, like(thing))
		default:
			said = append(said, text)
		}
		before = text
	}
	return said
}

// CurveLabel says what the curve of a plan tells of each depth.
func CurveLabel(p *grind.Plan) string {
	if p.Clear {
		return "inner wheel up to which the ground metal passes clear"
	}
	return "inner wheel at lock"
}

// CurveEnds says at which depth the curve of a plan ends either way. Why it does is said where a report tells what limits next.
func CurveEnds(p *grind.Plan) []string {
	return BothWays(func(d sweep.Direction) string {
		end := p.Curve[0]
		for _, s := range p.Curve {
			if !s.Ended[d] {
				end = s
			}
		}
		return fmt.Sprintf("turned %s it ends at a depth of %s: %s is the most that grinding alone gives, as said above", d, Length(p.Model.Setup.Unit, end.Depth), Angle(p.Most[d].Steer))
	}, "turned right it is the same on the other side")
}
