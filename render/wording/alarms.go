package wording

import (
	"fmt"
	"slices"
	"strings"

	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/neck"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Alarms is what must be known before anything else, from the two locks of a model: a few words in capitals, then
// a colon and the rest; usually there are none.
func Alarms(m *sweep.Model, locks *[2]sweep.Lock) (lines []string) {
	found := m.Alarms(locks)
	for len(found) > 0 {
		code := found[0].Code
		alike := slices.DeleteFunc(slices.Clone(found), func(f sweep.Finding) bool { return f.Code != code })
		found = slices.DeleteFunc(found, func(f sweep.Finding) bool { return f.Code == code })
		head, rest, _ := strings.Cut(alarms(m, alike), ": ")
		lines = append(lines, strings.ToUpper(head)+": "+rest)
	}
	return lines
}

// Heads returns in one line what alarms are about, which is what stands before their colons; nil where there are none.
func Heads(alarms []string) []string {
	if len(alarms) == 0 {
		return nil
	}
	var heads []string
	for _, text := range alarms {
		head, _, _ := strings.Cut(text, ": ")
		heads = append(heads, head)
	}
	return []string{strings.Join(heads, ", ") + ": see the report of sweep"}
}

// Alarmed is Alarms for a model whose locks are not at hand.
func Alarmed(m *sweep.Model) []string {
	return Alarms(m, &[2]sweep.Lock{m.Lock(sweep.ToLeft), m.Lock(sweep.ToRight)})
}

// MostTouching is how many pairs that touch straight ahead are named in an alarm; the machine-readable output holds all.
const MostTouching = 3

// alarms says all findings of one code in one sentence.
func alarms(m *sweep.Model, found []sweep.Finding) string {
	switch code := found[0].Code; {
	case code == sweep.Touching:
		var pairs []string
		for i := range found {
			if i == MostTouching {
				pairs = append(pairs, Counted(len(found)-MostTouching, "more pair"))
				break
			}
			pairs = append(pairs, overlap(m, &found[i]))
		}
		return "touching straight ahead: " + joined(pairs) + "; " + touchingMeans(m, found)
	case code == sweep.NoMetalStop && len(found) > 1:
		ways := BothWays(func(d sweep.Direction) string { return "turning " + d.String() + " " + unstopped(m, &found[d]) }, "turning right the same")
		return "no metal stop: " + lostStop(m) + strings.Join(ways, "; ") + "; " + stopCure
	case code == sweep.ChangePoint && len(found) > 1:
		ways := BothWays(func(d sweep.Direction) string { return "turning " + d.String() + " " + folds(m, &found[d]) }, "turning right the same")
		return "change point: " + strings.Join(ways, "; ") + "; " + foldCure
	}
	return Alarm(m, &found[0])
}

// Alarm says one alarm: the matter, a colon, what it is and what would cure it.
func Alarm(m *sweep.Model, f *sweep.Finding) string {
	switch f.Code {
	case sweep.Touching:
		return "touching straight ahead: " + overlap(m, f)
	case sweep.BrokenStraight:
		return "stuck straight ahead: the steering cannot be centred as measured; " + Limit(m, f.Limit) + bindsMeans(m, f.Limit)
	case sweep.SteersBackwards:
		return "steers backwards: turn the steering wheel left and the tyres go right; " +
			backwards(m.Setup)
	case sweep.WheelsOpposed:
		return "wheels turn against each other: " + Sense(m) + "; both rods must be pushed the same way"
	case sweep.DeadCentre:
		return fmt.Sprintf("dead point at centre: the %s stands in line with the %s (%s) with the wheels straight ahead; it jams, or goes the wrong way",
			m.Linkage.Rods[f.Rod].Name(), Place(m, f.Rod, f.End), Angle(f.Angle))
	case sweep.ChangePoint:
		return "change point turning " + f.Lock.String() + ": " + folds(m, f) + "; " + foldCure
	case sweep.NoMetalStop:
		return "no metal stop turning " + f.Lock.String() + ": " + lostStop(m) + unstopped(m, f) + "; " + stopCure
	}
	return ""
}

const (
	stopCure = "make a stop of solid metal at the spindles that comes at least 3° of the steering wheel earlier"
	brushing = "half a millimetre of wear there lets the wheel go 3° further or past it, so it is no stop"
	foldCure = "from there the rod may fold either way and jam the steering; a metal stop must come first"
)

// touchingMeans says of pairs that touch straight ahead what may have made them touch and what to do about that, each cure once.
func touchingMeans(m *sweep.Model, found []sweep.Finding) string {
	var said []string
	for i := range found {
		if text := touchingCause(m, &found[i]); !slices.Contains(said, text) {
			said = append(said, text)
		}
	}
	return strings.Join(said, "; ") + "; what touches is left out, so the wheels turn at most as far as said"
}

// touchingCause says what most likely makes a pair touch straight ahead, and what to do about it. Where the frame was cut that made most of what
// touches it touch, and measuring again would not help; what is at a kingpin goes with it and is not cut.
func touchingCause(m *sweep.Model, f *sweep.Finding) string {
	s, a, b := m.Setup, &m.Scene.Pieces[f.Pair[0]], &m.Scene.Pieces[f.Pair[1]]
	rods := a.Part == nil && b.Part == nil && a.Body.IsRod() && b.Body.IsRod()
	cut := func(p *clearance.Piece) bool {
		return p.Body == linkage.Frame && p.Part != nil && !p.Part.AtKingpin || p.Body == linkage.Input
	}
	still := func(p, other *clearance.Piece) bool {
		return p.Part != nil && p.Part.AtKingpin && other.Body.IsSpindle()
	}
	switch {
	case rods && s.DragLink == nil && s.Rack == nil && s.DropArm.Pins[setup.Left].Y < s.DropArm.Pins[setup.Right].Y:
		return "the rods cross, since the left one's pin lies to the right of the right one's: look at drop_arm.left and drop_arm.right, in which left is positive"
	case s.Frame != nil && (cut(a) || cut(b)):
		return "the frame as cut may run into it: cut less out, or move one of the two and say so in the variant; ignore is only for what touches without harm before the cut too"
	case (s.Rehung.Swapped || s.Rehung.SpindlesOver) && (still(a, b) || still(b, a)):
		frame := a
		if still(b, a) {
			frame = b
		}
		return "the spindles hang the other way round with what is on them, and the " + setup.Printable(frame.Name) + " stayed: move it to the side that the spindle's metal is on now, and say so in the variant"
	case rods || a.Body.IsRod() || b.Body.IsRod():
		return "measure again where both ends of the rod sit, and how thick it is; where a figure is tried out, it cannot be so large or so small; ignore is only for what clears on the vehicle"
	}
	return "measure again, or name the pair under ignore"
}

// overlap says that a pair touches straight ahead, how deep and where.
func overlap(m *sweep.Model, f *sweep.Finding) string {
	u := m.Setup.Unit
	return fmt.Sprintf("%s and %s, %s deep at %s", lined(m, f.Pair[0]), lined(m, f.Pair[1]), Length(u, f.Touch.Depth), Point(u, f.Touch.Point))
}

// lined names a piece with the line of the file that it stands in.
func lined(m *sweep.Model, piece int) string {
	if part := m.Scene.Pieces[piece].Part; part != nil && part.Line > 0 {
		return fmt.Sprintf("%s (line %d)", Piece(m, piece), part.Line)
	}
	return Piece(m, piece)
}

// unstopped says what ends the steering where no metal does.
func unstopped(m *sweep.Model, f *sweep.Finding) string {
	text := "nothing ends it within " + Followed(m) + " of the steering wheel"
	if f.Limit != nil {
		text = fmt.Sprintf("nothing solid comes before this, at %s of the steering wheel: %s", Angle(f.Limit.Column.Abs()), Limit(m, f.Limit))
	}
	if f.First == nil {
		return text
	}
	why := noStop(m, f.First)
	if why == "" {
		why = "that is no metal stop at a spindle"
	}
	return text + " (" + Limit(m, f.First) + " before, but " + why + ")"
}

// noStop says why metal that touches is no stop all the same; empty where it is no metal of spindle and frame at all.
func noStop(m *sweep.Model, l *sweep.Limit) string {
	switch {
	case l.Brushes:
		return brushing
	case l.Kind == sweep.Contact && m.Unmarked(l.Pair):
		if len(m.Setup.Lost) > 0 {
			return "nothing is marked as the stop any more"
		}
		return "the file marks " + marked(m.Setup.Marked()) + " as the stop (stop = true), so nothing else counts"
	}
	for i, narrow := range l.Narrow {
		p := &m.Scene.Pieces[l.Pair[i]]
		if l.Kind == sweep.Contact && p.Part != nil && p.Part.Soft {
			return setup.Printable(p.Label()) + " is soft"
		}
		if narrow && l.Unmeasured[i] != nil {
			return "it cannot be told how wide " + setup.Printable(p.Label()) + " is between where it is hit and its root, so it is no stop"
		}
		if narrow {
			return setup.Printable(p.Label()) + " is narrower than " + m.Setup.Unit.Say(neck.Least(p.Part)) + " between where it is hit and its root, so it is no stop"
		}
	}
	return ""
}

// marked names parts that are marked as the stop.
func marked(parts []string) string {
	return setup.Printable(joined(parts))
}

// lostStop says that a variant or a setting took away what the file marks as the stop, up to a semicolon; empty where none did.
func lostStop(m *sweep.Model) string {
	if len(m.Setup.Lost) == 0 {
		return ""
	}
	return "stop taken away: the file marks " + marked(m.Setup.Lost) + " as the stop (stop = true), and with these changes nothing is marked, so nothing else counts; "
}

// folds says where a rod may fold.
func folds(m *sweep.Model, f *sweep.Finding) string {
	return fmt.Sprintf("the %s comes in line with both its arms at %s of the steering wheel", m.Linkage.Rods[f.Rod].Name(), Angle(f.Limit.Column.Abs()))
}

// Counted is "1 part", "2 parts".
func Counted(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return fmt.Sprintf("%d %s", n, what)
}

// AtMost stands before how far the wheels turn where pieces that touch straight ahead are left out.
func AtMost(m *sweep.Model) string {
	if len(m.Scene.Touching()) > 0 {
		return "at most "
	}
	return ""
}
