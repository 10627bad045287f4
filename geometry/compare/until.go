package compare

import (
	"math"
	"slices"
)

// Sought is where along a range a figure meets what is wanted of it.
type Sought struct {
	Met         []float64 // values at which it does, in the order of the range
	Nearest     float64   // the value at which it comes nearest, NaN where the figure is known nowhere
	Gap         float64   // figure less what is wanted, there
	Turns       []float64 // values near which the figure turns round: between them it rises or falls all along
	Jumps       []float64 // values at which it passes what is wanted in a jump, without meeting it
	Known, Seen int       // values of the range at which the figure was known, of how many looked at first
}

// Values along a range that Until looks at before it closes in, and how often it halves a bracket at most: 2⁻⁵⁰ of a
// step is nothing that a number can tell.
const (
	firstLooks  = 41
	mostHalving = 50
)

// Until finds every value from one end of a range to the other at which gap, a figure less what is wanted of it, is nought
// to within tolerance. Gap is asked for several values at once, and answers NaN where there is no figure. Between neighbours
// of an even row of values at which the gap has opposite signs the crossing is closed in on; where it comes near without
// crossing, its least is closed in on first, since it may cross twice there. What comes and goes within less than a step of
// that row, a fortieth of the range, can be missed.
func Until(from, to, tolerance float64, gap func(values []float64) []float64) *Sought {
	u := &until{Sought: Sought{Nearest: math.NaN(), Gap: math.NaN()}, tolerance: tolerance, ask: gap}
	row := make([]float64, firstLooks)
	for i := range row {
		row[i] = from + (to-from)*float64(i)/float64(firstLooks-1)
	}
	looks := u.look(row...)
	u.Seen = len(looks)
	for _, p := range looks {
		if !math.IsNaN(p.gap) {
			u.Known++
		}
	}
	u.turns(looks)
	looks = u.dips(looks)
	for i, p := range looks {
		switch {
		case math.Abs(p.gap) <= tolerance:
			u.meets(p.at)
		case i > 0 && opposite(looks[i-1].gap, p.gap) && math.Abs(looks[i-1].gap) > tolerance:
			u.close(looks[i-1], p)
		}
	}
	slices.Sort(u.Met)
	slices.Sort(u.Jumps)
	if from > to {
		slices.Reverse(u.Met)
		slices.Reverse(u.Jumps)
	}
	return &u.Sought
}

// until is a search under way.
type until struct {
	Sought
	tolerance float64
	ask       func(values []float64) []float64
}

// look is a value with the gap there.
type look struct{ at, gap float64 }

func opposite(a, b float64) bool { return a < 0 && b > 0 || a > 0 && b < 0 }

// look asks for gaps, and keeps the nearest.
func (u *until) look(values ...float64) []look {
	looks := make([]look, len(values))
	for i, g := range u.ask(values) {
		looks[i] = look{values[i], g}
		if !math.IsNaN(g) && !(math.Abs(g) >= math.Abs(u.Gap)) {
			u.Nearest, u.Gap = values[i], g
		}
	}
	return looks
}

// meets notes a value, once where the figure stays at what is wanted from one look to the next.
func (u *until) meets(at float64) {
	if !slices.Contains(u.Met, at) {
		u.Met = append(u.Met, at)
	}
}

// turns notes where the figure turns round by more than the tolerance.
func (u *until) turns(looks []look) {
	last, extreme := 0.0, look{math.NaN(), math.NaN()} // the way that it went, and how far it got
	for _, p := range looks {
		switch by := p.gap - extreme.gap; {
		case math.IsNaN(p.gap):
			last, extreme = 0, p
		case math.IsNaN(by):
			extreme = p
		case by*last < 0 && math.Abs(by) > u.tolerance:
			u.Turns = append(u.Turns, extreme.at)
			last, extreme = by, p
		case by*last > 0 || last == 0 && math.Abs(by) > u.tolerance:
			last, extreme = by, p
		}
	}
}

// dips adds, between looks of one sign that come nearest to nought in the middle, the value where they come nearest.
func (u *until) dips(looks []look) (all []look) {
	for i, p := range looks {
		all = append(all, p)
		if i == 0 || i == len(looks)-1 || math.Abs(p.gap) <= u.tolerance {
			continue
		}
		a, b := looks[i-1], looks[i+1]
		if !(p.gap*a.gap > 0 && p.gap*b.gap > 0 && math.Abs(p.gap) <= math.Abs(a.gap) && math.Abs(p.gap) < math.Abs(b.gap)) {
			continue
		}
		least := u.least(a, p, b)
		if least.at == p.at {
			continue
		}
		if (least.at < p.at) == (a.at < p.at) {
			all = slices.Insert(all, len(all)-1, least)
		} else {
			all = append(all, least)
		}
	}
	return all
}

// least narrows three looks of one sign to where the gap is smallest, or ends at the first of other sign: by golden
// section of the wider side, 30 times.
func (u *until) least(a, mid, b look) look {
	for range 30 {
		side := &b
		if math.Abs(a.at-mid.at) > math.Abs(b.at-mid.at) {
			side = &a
		}
		p := u.look(mid.at + 0.38*(side.at-mid.at))[0]
		switch {
		case math.IsNaN(p.gap):
			return mid
		case math.Abs(p.gap) <= u.tolerance || opposite(p.gap, mid.gap):
			return p
		case math.Abs(p.gap) < math.Abs(mid.gap):
			other := &a
			if side == &a {
				other = &b
			}
			*other, mid = mid, p
		default:
			*side = p
		}
	}
	return mid
}

// close closes in on the crossing between two looks of opposite sign: by false position, in which the end that stays counts
// for half (Illinois), and by halving whenever that did not halve the bracket.
func (u *until) close(a, b look) {
	const weight = 0.5
	ga, gb := a.gap, b.gap
	halve := false
	for range 2 * mostHalving {
		width := math.Abs(b.at - a.at)
		x := (a.at*gb - b.at*ga) / (gb - ga)
		if halve || !(math.Abs(x-a.at) < width && math.Abs(x-b.at) < width) {
			x = a.at + (b.at-a.at)/2
		}
		if x == a.at || x == b.at {
			break
		}
		p := u.look(x)[0]
		switch {
		case math.Abs(p.gap) <= u.tolerance:
			u.meets(p.at)
			return
		case math.IsNaN(p.gap):
			u.Jumps = append(u.Jumps, x)
			return
		case opposite(p.gap, a.gap):
			b, gb, ga = p, p.gap, ga*weight
		default:
			a, ga, gb = p, p.gap, gb*weight
		}
		halve = math.Abs(b.at-a.at) > width/2
	}
	u.Jumps = append(u.Jumps, a.at)
}
