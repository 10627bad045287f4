package wording

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"strings"

	"locksweep/geometry/rods"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// BothUnits says a length in the file's unit first and in the other beside it, inches to the sixteenth too.
func BothUnits(u setup.Unit, mm float64) string {
	inches := fmt.Sprintf("%s in (%s)", Figure(setup.Inch, mm), Sixteenths(mm))
	if u == setup.Inch {
		return inches + " = " + Length(setup.MM, mm)
	}
	return Length(setup.MM, mm) + " = " + inches
}

// rodKey is a key of the file's table of a rod: "drag_link.tube" of the part "drag link".
func rodKey(part, key string) string { return strings.ReplaceAll(part, " ", "_") + "." + key }

// RodsError says what is wrong with a rod that cannot be cut as it is described; other errors as they are.
func RodsError(u setup.Unit, err error) error {
	var e *rods.Error
	if !errors.As(err, &e) {
		return err
	}
	have, need := Length(u, e.Have), Length(u, e.Need)
	key := func(key string) string { return rodKey(e.Part, key) }
	switch e.Fault {
	case rods.NoBody:
		return fmt.Errorf("no length to cut for the %s: give %s, from the middle of the eye to the end of its thread", e.Rod, key("rod_end.body"))
	case rods.NoThread:
		return fmt.Errorf("no thread to cut for the %s: give %s, the thread's outer diameter", e.Rod, key("rod_end.thread"))
	case rods.NoPitch:
		return fmt.Errorf("no standard has a coarse thread of %s for the %s: give %s", have, e.Rod, key("rod_end.pitch"))
	case rods.BodiesMeet:
		return fmt.Errorf("the %s is %s long and its two rod ends alone take %s, screwed in as far as they go; take shorter rod ends", e.Rod, have, need)
	case rods.ThreadMeet:
		return fmt.Errorf("the %s leaves a tube of %s between its rod ends, and their threads alone need %s; take shorter rod ends", e.Rod, have, need)
	}
	return fmt.Errorf("the rod ends of the %s have %s of thread, and engagement and jam nut need %s: take longer rod ends, or give %s, how far the thread reaches from its end", e.Rod, have, need, key("rod_end.shank"))
}

// RodStock says what a rod is cut from.
func RodStock(u setup.Unit, r *rods.Rod) string {
	if r.Spec.Stock.Outer > 0 {
		return fmt.Sprintf("tube %s × %s", Length(u, r.Spec.Stock.Outer), Length(u, r.Spec.Stock.Wall))
	}
	return "bar of " + Length(u, r.Spec.Diameter)
}

// RodThread says what thread to cut.
func RodThread(u setup.Unit, r *rods.Rod) string {
	hands := "both right-hand"
	if r.Spec.Stock.LeftHand {
		hands = "one end left-hand, the other right-hand"
	}
	cut := fmt.Sprintf("%s, %s deep from either end, %s", r.Thread, Length(u, r.Depth), hands)
	text := fmt.Sprintf("%s; drill %s first", cut, Length(u, r.Thread.TapDrill()))
	switch drill, bore := r.Thread.TapDrill(), r.Spec.Bore(); {
	case r.NeedsInserts():
		text = fmt.Sprintf("%s in inserts, %s deep, %s: the tube's bore of %s is too wide to cut it into the tube", r.Thread, Length(u, r.Depth), hands, Length(u, bore))
	case Length(u, bore) == Length(u, drill):
		text = fmt.Sprintf("%s; nothing to drill, the tube's bore of %s is the tapping drill's", cut, Length(u, bore))
	case bore > drill:
		text = fmt.Sprintf("%s; nothing to drill, the tube's bore of %s is wider than the tapping drill's %s already: the thread comes out %.0f %% as deep, a thicker wall gives all of it",
			cut, Length(u, bore), Length(u, drill), 100*r.ThreadShare())
	case bore > 0:
		text = fmt.Sprintf("%s; open the tube's bore of %s to %s first", cut, Length(u, bore), Length(u, drill))
	}
	return text
}

// RodsLength says which rods as given set another toe than the file's, two that read alike in one.
func RodsLength(r *sweep.Result) (list []string) {
	var both []string
	for i := range r.Findings {
		if f := &r.Findings[i]; f.Code == sweep.RodLength {
			list = append(list, Finding(r, f))
			both = append(both, rodLength(r, f.Side, "both tie rods as given stand their wheels", "each"))
		}
	}
	if len(both) == 2 && both[0] == both[1] && r.Linkage.Rods[0].Sided {
		return both[:1]
	}
	return list
}

// rodLength says what a rod as given does to its wheel's toe, and what would cure it; stands and it say which rod.
func rodLength(r *sweep.Result, side setup.Side, stands, it string) string {
	return fmt.Sprintf("%s at %s with the column centred, the file says %s; %s", stands, Toe(r.Rods[side].Toe), Toe(r.Setup.Corners[side].Wheel.Toe), RodCure(r, side, it))
}

// RodEngagement says how much of a rod end's thread is in the rod.
func RodEngagement(u setup.Unit, r *rods.Rod) string {
	text, material := fmt.Sprintf("%s of thread in the rod at either end, %s diameters", Length(u, r.Engagement), Fixed(r.Engagement/r.Thread.Diameter, 1)), r.Spec.Stock.Material
	switch over := r.Engagement - r.Least; {
	case over < -1e-9:
		return text + fmt.Sprintf(": less than the %s usual in %s", Length(u, r.Least), material)
	case over < 1e-9:
		return text + fmt.Sprintf(", the least usual in %s", material)
	}
	return text + fmt.Sprintf("; the least usual in %s is %s", material, Length(u, r.Least))
}

// RodTravel says how far the rod ends can be screwed, and what cut gives as much either way where this one does not.
func RodTravel(u setup.Unit, r *rods.Rod) string {
	if math.Abs(r.Out-r.In) < 0.05 {
		return Length(u, r.Out) + " either way at either end: out until too little thread is in, in until the jam nut says stop"
	}
	return fmt.Sprintf("out %s until too little thread is in, in %s until the jam nut says stop, at either end; cut it %s long instead to have %s either way",
		Length(u, r.Out), Length(u, r.In), Length(u, r.Middle), Length(u, r.MiddleTravel))
}

// RodKnown says by how much the length of a rod may be off either way, and whether its ends can be screwed as far.
func RodKnown(u setup.Unit, r *rods.Rod, plusMinus float64) string {
	text := fmt.Sprintf("±%s, as exact as the file says it was measured", Length(u, plusMinus))
	if way := 2 * math.Min(r.Out, r.In); plusMinus > way {
		return text + fmt.Sprintf(": more than both rod ends can be screwed, %s; measure again, or cut the rod to the vehicle", Length(u, way))
	}
	return text + "; the rod ends can be screwed as far"
}

// RodToe says what a turn of one rod end does to the toe.
func RodToe(r *rods.Rod) string {
	var moved []string
	for _, side := range setup.Sides {
		if a := r.Pitch[side]; a != 0 {
			way := "toe in"
			if a < 0 {
				way = "toe out"
			}
			moved = append(moved, fmt.Sprintf("%s° of %s at the %s wheel", Fixed(math.Abs(a.Degrees()), 2), way, side))
		}
	}
	text := "one end screwed out by a turn gives " + cmp.Or(joined(moved), "nothing")
	if r.Spec.Stock.LeftHand {
		return text + "; a turn of the rod itself twice that"
	}
	return text + "; turning the rod itself changes nothing, both threads being right-hand"
}

// joined is "a", "a and b", "a, b and c"; empty of nothing.
func joined(texts []string) string {
	last := len(texts) - 1
	if last < 1 {
		return strings.Join(texts, "")
	}
	return strings.Join(texts[:last], ", ") + " and " + texts[last]
}

// RodWitness says where the witness hole goes.
func RodWitness(u setup.Unit, r *rods.Rod) string {
	return fmt.Sprintf("2 mm (5/64 in) through one wall, %s from either end: if a wire goes in past the thread, too little of it is in the rod", Length(u, r.Witness))
}

// RodDonor says what becomes of a rod that is there already; empty where none is given.
func RodDonor(u setup.Unit, r *rods.Rod) string {
	d := r.Donor
	if d == nil {
		return ""
	}
	if d.Verdict == rods.TooShort {
		return fmt.Sprintf("cannot be made from the rod of %s: it is %s too short", Length(u, d.Length), Length(u, -d.Off))
	}
	from := "from one end"
	if d.BothEnds {
		from = "half of it from either end"
	}
	text := fmt.Sprintf("cut %s off the rod of %s, %s; %s of thread is left there", BothUnits(u, d.Off), Length(u, d.Length), from, Length(u, d.Thread))
	switch d.Verdict {
	case rods.Tight:
		text += fmt.Sprintf(", enough as cut, but the rod ends cannot be screwed in all the way; %s would do that", Length(u, r.Depth))
	case rods.Deeper:
		text += fmt.Sprintf(", too little: it cannot be made from it unless the thread is cut on to %s", Length(u, r.Depth))
	}
	return text
}

// RodFindings says what else is doubtful about a rod.
func RodFindings(u setup.Unit, r *rods.Rod) (list []string) {
	if !r.Thread.Standard() {
		list = append(list, fmt.Sprintf("%s: no standard has a thread %s; check diameter and pitch", r.Name, r.Thread))
	}
	if r.TooThin() {
		list = append(list, fmt.Sprintf("%s: only %s of metal is left about the thread; a thicker tube or bar holds better", r.Name, Length(u, r.Wall())))
	}
	if r.NeedsInserts() {
		list = append(list, r.Name+": welded inserts are steering parts of their own; nothing here judges a weld")
	}
	return list
}

// RodsAssumed lists what was not given of the rods, alike in one.
func RodsAssumed(u setup.Unit, list []rods.Rod) []string {
	var said remarks
	for i := range list {
		r := &list[i]
		say := func(format string, args ...any) { said.add(r.Name, fmt.Sprintf(format, args...)) }
		if r.PitchAssumed {
			say("coarse thread, %s (%s)", r.Thread, rodKey(r.Part, "rod_end.pitch"))
		}
		if r.ShankAssumed {
			say("a rod end's thread reaches %s from its end, 0.6 of its body (%s)", Length(u, r.Shank), rodKey(r.Part, "rod_end.shank"))
		}
		if r.Spec.Stock.Outer == 0 {
			say("a solid bar of %s (%s)", Length(u, r.Spec.Diameter), rodKey(r.Part, "tube"))
		}
		if r.Spec.Stock.Engagement == 0 {
			say("at least the engagement usual in %s, common practice (%s, %s)", r.Spec.Stock.Material, rodKey(r.Part, "material"), rodKey(r.Part, "engagement"))
		}
	}
	return said.lines()
}

// remarks are what is said of rods by name, once for both where it reads alike.
type remarks []remark

type remark struct {
	names []string
	text  string
}

func (list *remarks) add(name, text string) {
	for i := range *list {
		if r := &(*list)[i]; r.text == text {
			r.names = append(r.names, name)
			return
		}
	}
	*list = append(*list, remark{[]string{name}, text})
}

func (list remarks) lines() (lines []string) {
	for _, r := range list {
		lines = append(lines, joined(r.names)+": "+r.text)
	}
	return lines
}

// RodCautions are what to heed before and after cutting rods.
var RodCautions = []string{
	"Both ends of a rod take the same length of thread, and each its jam nut; a jam nut alone is no lock where your rules ask for pins, wire or prevailing-torque nuts.",
	"Lengths hold for the figures in the file. Cut the first rod a little long, fit it, set the toe and measure again.",
	"Rod ends are not to be bent or heated. Welded rods and inserts need someone who is qualified for steering parts.",
}
