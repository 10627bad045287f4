package wording

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/r2"

	"locksweep/geometry/grind"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

const (
	finest = 0.05 // mm: shallower bites are not told by themselves, nor depths that differ by less
	clears = 2    // bites to clear something that are told by themselves, of each plate
)

// bites returns the bites of a cut that are told by themselves: those that are the stop, and behind them the deepest of those that clear
// something. more counts the others of these.
func bites(c *grind.Cut) (told []*grind.Bite, more int) {
	var clear []*grind.Bite
	for i := range c.Bites {
		switch b := &c.Bites[i]; {
		case b.Stops != [2]bool{}:
			told = append(told, b)
		case b.Depth >= finest:
			clear = append(clear, b)
		}
	}
	if len(clear) > clears {
		more, clear = len(clear)-clears, clear[:clears]
	}
	return append(told, clear...), more
}

// Apart reports whether a cut takes off for the stop and for a clearance, so that one depth would not tell which is which.
func Apart(c *grind.Cut) bool {
	if c.Stops == [2]bool{} {
		return false
	}
	told, _ := bites(c)
	return len(told) > 1 || len(told) == 1 && mixed(c, told[0])
}

// mixed reports whether a bite is deeper beside the stop than at it.
func mixed(c *grind.Cut, b *grind.Bite) bool {
	return b.Stops != [2]bool{} && b.Depth-stopDepth(c, b) > finest
}

// stopDepth is how deep a bite is where it is the stop: nearly all of it where it stops nothing else.
func stopDepth(c *grind.Cut, b *grind.Bite) (depth float64) {
	for d, stops := range b.Stops {
		if stops {
			depth = math.Max(depth, c.StopDepth[d])
		}
	}
	return depth
}

// turnedWays says in which directions a bite is the stop: "turned left".
func turnedWays(b *grind.Bite) string {
	switch b.Stops {
	case [2]bool{true, true}:
		return "turned either way"
	case [2]bool{sweep.ToLeft: true}:
		return "turned left"
	}
	return "turned right"
}

// corner says where on its plate a bite lies: "front inboard corner".
func corner(m *sweep.Model, c *grind.Cut, b *grind.Bite) string {
	piece := &m.Scene.Pieces[c.Piece]
	across := [3]string{"right", "", "left"}
	if piece.Sided {
		across = [3]string{"inboard", "", "outboard"}
	}
	words := []string{[3]string{"rear", "", "front"}[1+b.Towards[0]], across[1+b.Towards[1]]}
	words = slices.DeleteFunc(words, func(w string) bool { return w == "" })
	switch {
	case c.Part.On == setup.OnColumn || len(words) == 0:
		return "place at " + biteAt(m.Setup.Unit, c, b)
	case len(words) == 1:
		return words[0] + " edge"
	}
	return strings.Join(words, " ") + " corner"
}

// planPoint writes a point of a plate's plane.
func planPoint(u setup.Unit, q r2.Point) string {
	return fmt.Sprintf("[%s, %s]", Figure(u, q.X), Figure(u, q.Y))
}

// biteAt writes the place by which a bite is told: where it is deepest, and of one that is the stop the mark on its face.
func biteAt(u setup.Unit, c *grind.Cut, b *grind.Bite) string {
	for d, stops := range b.Stops {
		if stops && c.Faces[d].Line != nil {
			return planPoint(u, c.Faces[d].Mark())
		}
	}
	return planPoint(u, b.At[0].Add(b.At[1]).Mul(0.5))
}

// placesOff says of each bite that is told how deep it is, where, and what for.
func placesOff(p *grind.Plan, c *grind.Cut, exact bool) (said []string) {
	u := p.Model.Setup.Unit
	told, more := bites(c)
	alike := map[string]int{}
	for _, b := range told {
		alike[corner(p.Model, c, b)]++
	}
	for _, b := range told {
		where := corner(p.Model, c, b)
		if !strings.HasSuffix(where, "]") && (exact || alike[where] > 1) {
			where += " " + biteAt(u, c, b)
		}
		if b.Stops == [2]bool{} {
			said = append(said, Length(u, b.Depth)+" at its "+where+", "+toClear(p, b))
			continue
		}
		text := fmt.Sprintf("%s at its %s, the STOP %s", Length(u, stopDepth(c, b)), where, turnedWays(b))
		if mixed(c, b) {
			text += fmt.Sprintf(" (beside it up to %s, %s)", Length(u, b.Depth), toClear(p, b))
		}
		said = append(said, text)
	}
	if more > 0 {
		said = append(said, "less at "+Counted(more, "more place"))
	}
	return said
}

// toClear says what a bite lets pass.
func toClear(p *grind.Plan, b *grind.Bite) string {
	var names []string
	for _, o := range b.Clears {
		names = append(names, Piece(p.Model, o))
	}
	switch {
	case len(names) == 0 && b.Tip:
		return "where thin metal goes too"
	case len(names) == 0 && b.Stops != [2]bool{}:
		return "on the way there"
	case len(names) == 0:
		return "only to pass"
	case p.Clearance == 0:
		return "only to pass " + joined(names)
	}
	return "only to clear " + joined(names) + " by " + Length(p.Model.Setup.Unit, p.Clearance)
}

// cutsOff says what comes off all plates: what is the stop apart from what is only cleared. The right is told once with the left where it is
// its mirror image.
func cutsOff(p *grind.Plan) string {
	var all []string
	for i, c := range p.Cuts {
		piece := Piece(p.Model, c.Piece)
		if !Apart(c) {
			all = append(all, Length(p.Model.Setup.Unit, c.Depth)+" off the "+piece)
			continue
		}
		text := strings.Join(placesOff(p, c, false), ", and ")
		if i > 0 && Apart(p.Cuts[i-1]) && Likewise(strings.Join(placesOff(p, p.Cuts[i-1], false), ", and "), text) {
			all = append(all, "off the "+piece+" the same")
			continue
		}
		all = append(all, "off the "+piece+" "+text)
	}
	if slices.ContainsFunc(p.Cuts, Apart) {
		return strings.Join(all, "; ")
	}
	return joined(all)
}

// DepthOff says in a few words how much comes off a plate at the most, and at the stop.
func DepthOff(u setup.Unit, c *grind.Cut) string {
	text := Length(u, c.Depth) + " off at most"
	if !Apart(c) {
		return text
	}
	told, _ := bites(c)
	if told[0].Stops == [2]bool{} { // it touches where nothing was ground
		return text
	}
	if stop := stopDepth(c, told[0]); c.Depth-stop > finest {
		return "STOP " + Length(u, stop) + ", at most " + Length(u, c.Depth)
	}
	return text
}

// BiteMark is what stands by a bite in a drawing: how deep it is, and whether it is the stop.
func BiteMark(u setup.Unit, c *grind.Cut, b *grind.Bite) []string {
	switch {
	case mixed(c, b):
		return []string{"STOP HERE " + Length(u, stopDepth(c, b)) + ", beside it " + Length(u, b.Depth), turnedWays(b)}
	case b.Stops != [2]bool{}:
		return []string{Length(u, b.Depth) + " STOP HERE", turnedWays(b)}
	case c.Stops != [2]bool{}:
		return []string{Length(u, b.Depth) + " to clear"}
	}
	return []string{Length(u, b.Depth)}
}

// StopMark is what stands by the mark on the face that is the stop, on a sheet to work by.
func StopMark(u setup.Unit, f *grind.Face, ways string) []string {
	return []string{Length(u, f.Depth) + " STOP HERE", ways + ", face at " + planPoint(u, f.Mark())}
}

// DeepMark is what stands there by the place where a bite is deepest; empty where that is the stop.
func DeepMark(u setup.Unit, c *grind.Cut, b *grind.Bite) string {
	switch {
	case mixed(c, b):
		return Length(u, b.Depth) + " beside it"
	case b.Stops != [2]bool{}:
		return ""
	}
	return BiteMark(u, c, b)[0]
}

// GrindAdvices is what should be known of the stop before metal comes off: CatchAdvice, NextAdvice, SpareAdvice and TipAdvice, those that are not empty.
func GrindAdvices(p *grind.Plan) []string {
	return slices.DeleteFunc([]string{CatchAdvice(p), NextAdvice(p), spareAdvice(p), tipAdvice(p)}, func(text string) bool { return text == "" })
}

// NextAdvice warns of what may in truth touch before the stop does; empty where nothing may.
func NextAdvice(p *grind.Plan) string {
	if len(p.Cuts) == 0 {
		return ""
	}
	return strings.Join(BothWays(func(d sweep.Direction) string {
		s := &p.Stops[d]
		if !s.Doubtful() {
			return ""
		}
		text := mayTouch(p.After, d, s.Next, s.Margin)
		switch {
		case math.IsNaN(float64(s.PlusMinus)):
			text += "and " + usualApart
		case p.Model.Setup.Accuracy.Given:
			text += "and the lock may be off by ±" + Angle(s.PlusMinus)
		default:
			text += "and the lock may be off by ±" + Angle(s.PlusMinus) + " (usual accuracies; yours go under [accuracy])"
		}
		return text + "; ask for less lock, or grind a little at a time and try by hand which touches first"
	}, likewiseRight), "; ")
}

// spareAdvice says which second stops go for the clearance alone; empty where none does.
func spareAdvice(p *grind.Plan) string {
	return strings.Join(BothWays(func(d sweep.Direction) string {
		spare := p.Stops[d].Spare
		if spare == nil {
			return ""
		}
		a, b := Pair(p.Model, spare.Pair)
		return fmt.Sprintf("turning %s the cut to clear by %s takes away what would be a second metal stop, %s against %s at %s of the inner wheel; --clearance 0 leaves it",
			d, Length(p.Model.Setup.Unit, p.Clearance), a, b, Angle(p.SteerAt(d, spare.Column)))
	}, likewiseRight), "; ")
}

// TipsLine says which thin metal goes with a cut; empty where none does.
func TipsLine(u setup.Unit, c *grind.Cut) string {
	if at := tipsAt(u, c, true); at != "" {
		return "the thin metal that would be left at " + at + " goes too: it would bend or break off"
	}
	return ""
}

// CatchAdvice says beside which stops metal stays that what is stopped may catch on; empty where none does.
func CatchAdvice(p *grind.Plan) string {
	var pieces []string
	for _, c := range p.Cuts {
		if c.Catches {
			pieces = append(pieces, "the "+Piece(p.Model, c.Piece))
		}
	}
	if len(pieces) == 0 {
		return ""
	}
	return "beside the face of the stop what it stops passes " + joined(pieces) + " closer than outlines and grinding are exact, and that metal cannot go: it may catch there first, with no stop that holds; ask for another lock, or change the plate"
}

// tipAdvice says which thin metal stays though it may bend; empty where none does.
func tipAdvice(p *grind.Plan) string {
	return strings.Join(InTurn(p.Cuts, func(c *grind.Cut) string {
		at := tipsAt(p.Model.Setup.Unit, c, false)
		if at == "" {
			return ""
		}
		return fmt.Sprintf("the cut leaves thin metal on the %s at %s that may bend or break off, and the stop or what must be kept hangs on it: ask for another lock, or weld on metal first",
			Piece(p.Model, c.Piece), at)
	}, func(c *grind.Cut) string { return "the " + Piece(p.Model, c.Piece) + " the same" }), "; ")
}

// tipsAt says where the thin metal is that goes with a cut (off) or stays; empty where there is none.
func tipsAt(u setup.Unit, c *grind.Cut, off bool) string {
	var at []string
	for _, t := range c.Tips {
		if t.Off == off {
			at = append(at, planPoint(u, t.At))
		}
	}
	return joined(at)
}

// CurveExplained says in a line what the depth of the curve leaves out; none where that is nothing.
func CurveExplained(p *grind.Plan) []string {
	if !slices.ContainsFunc(p.Cuts, Apart) {
		return nil
	}
	return []string{"the depth is that at the stop; what is only to clear comes off as well, and may be deeper"}
}

// CurveDepth names the depth that the curve of a plan runs over.
func CurveDepth(p *grind.Plan) string {
	for _, c := range p.Cuts {
		if c.Stops != [2]bool{} && !p.Clear {
			return "depth of cut at the stop"
		}
	}
	return "depth of cut"
}

// InsteadOf says what else may give a target that grinding alone does not, where it is the linkage that ends it: another hole, with the command
// that looks for one, which tells too how far holes and cuts go where none goes so far. Else it is empty.
func InsteadOf(b *grind.BeyondError, drill string) string {
	for d, most := range b.Plan.Most {
		end := most.Reason == grind.ByLimit && most.Limit.Kind != sweep.Contact
		if b.Beyond[d] && (most.Reason == grind.ByTransmission || most.Reason == grind.ByMargin || end) {
			return "another hole may do it; this looks for one and, where none does, says how far holes go: " + drill
		}
	}
	return ""
}
