package drill

import (
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/sweep"
)

// defaultSlip is how far a hand drill wanders, mm (common practice, no source).
const defaultSlip = 0.5

// directions is in how many directions a hole is drilled off its place. For the slip, those places stand a little further off than it, on the
// corners of the octagon about its circle: a figure that changes evenly is then nowhere within the circle worse than at the worst corner.
const directions = 8

// Within is how a place does at the worst if its holes are drilled off by the slip in any direction, rods cut anew: of the place itself and
// eight about it. Holes that are there already stay where they are. Arms that are drilled alike are off alike; what may be off by itself
// (the drop arm beside the steering arms, or each arm with Options.Each) is, and the losses add up.
type Within struct {
	Lock, Transmission s1.Angle        // least
	Clearance          float64         // least gap but for what stops it, mm; +Inf where nothing comes near
	Nearest            clearance.Near  // what has the least gap that was seen, and where
	Worst              s1.Angle        // greatest departure from the Ackermann wanted
	Faults             [2][]sweep.Code // of all, either way
	Impossible         bool            // somewhere within the slip it does not assemble, or metal touches metal straight ahead
}

// itself returns Within of a place for which nothing is drilled.
func (f *Figures) itself(nearest clearance.Near) Within {
	return Within{Lock: f.Lock(), Transmission: f.Transmission, Clearance: nearest.Gap, Nearest: nearest, Worst: f.Worst, Faults: f.Faults}
}

// off returns the places that are drilled off one, a group for each hole that is off by itself; none where nothing is drilled.
func (s *search) off(n node) (groups [][]node) {
	sp := s.spot(n)
	radius := s.r.Options.Slip / math.Cos(math.Pi/directions)
	if !(radius > 0) {
		return nil
	}
	for _, hole := range s.moved() {
		if s.drills(hole.metal, &sp) {
			groups = append(groups, hole.about(n, radius))
		}
	}
	return groups
}

// about returns the places at which a hole lies in all directions off where a place has it, mm in the metal's plane.
func (m *moved) about(n node, radius float64) (off []node) {
	for k := range directions {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / directions)
		by, o := m.metal.Shift(r2.Point{X: radius * cos, Y: radius * sin}), n
		o[m.first], o[m.first+1] = o[m.first]+by.X, o[m.first+1]+by.Y
		off = append(off, o)
	}
	return off
}

// drills reports whether a place asks for a new hole in a metal, or in the other arm that is drilled with it.
func (s *search) drills(m *Metal, sp *Spot) bool {
	return slices.ContainsFunc(s.r.Metals, func(o *Metal) bool { return s.drilledAlike(o, m) && !o.drilled(sp, &s.r.Options) })
}

// measured is how a place does with its holes just there.
type measured struct {
	Figures
	nearest  clearance.Near
	possible bool
}

// measure judges a place, with its least gap as far as it is less than near, mm.
func (s *search) measure(l look, near float64) (x measured) {
	if m := s.model(l.node, l.one); m != nil {
		x.Figures, x.possible = s.aims.figures(m), true
		x.nearest = x.Figures.nearest(m, near)
	}
	return x
}

// kept is measure with the gap as far as the look says, and without Worst and Unlike: places off one do not count for those.
func (s *search) kept(l look) (x measured) {
	if m := s.model(l.node, l.one); m != nil {
		s.aims.locked(m, &x.Figures)
		x.possible, x.nearest = true, x.Figures.nearest(m, l.near)
	}
	return x
}

// gathered returns how a place does within the slip, from the measurements made so far: of the place itself, then of the groups in turn. near is
// the gap up to which gaps were looked at, mm.
func gathered(all []measured, groups [][]node, near float64) Within {
	own, nearest := &all[0], all[0].nearest
	nearest.Gap = min(nearest.Gap, near)
	w := own.Figures.itself(nearest)
	next := all[1:]
	for _, group := range groups {
		worst := own.Figures.itself(nearest)
		seen := min(len(group), len(next))
		for i := range next[:seen] {
			worst.fold(&next[i], &w)
		}
		next = next[seen:]
		w.Lock -= own.Figures.Lock() - worst.Lock
		w.Transmission -= own.Transmission - worst.Transmission
		w.Clearance -= nearest.Gap - worst.Clearance
		if worst.Nearest.Gap < w.Nearest.Gap {
			w.Nearest = worst.Nearest
		}
		if !math.IsInf(float64(w.Worst), 0) {
			w.Worst += worst.Worst - own.Worst
		}
	}
	if w.Clearance >= near { // nothing comes so near
		w.Clearance, w.Nearest = math.Inf(1), nothingNear
	}
	w.Lock, w.Transmission, w.Clearance = max(w.Lock, 0), max(w.Transmission, 0), max(w.Clearance, 0)
	if w.Impossible {
		w.Lock, w.Transmission, w.Clearance, w.Worst = 0, 0, 0, s1.InfAngle()
	}
	return w
}

// fold takes over what is worse in one place of a group; its faults, and that it is impossible, go to all.
func (w *Within) fold(x *measured, all *Within) {
	if !x.possible {
		all.Impossible = true
		return
	}
	w.Lock, w.Transmission = min(w.Lock, x.Figures.Lock()), min(w.Transmission, x.Transmission)
	if x.nearest.Gap < w.Clearance {
		w.Clearance, w.Nearest = x.nearest.Gap, x.nearest
	}
	w.Worst = max(w.Worst, x.Worst)
	for d, codes := range x.Faults {
		all.Faults[d] = union(all.Faults[d], codes)
	}
}

// union returns the codes of both lists, those of the first first.
func union(a, b []sweep.Code) []sweep.Code {
	out := a[:len(a):len(a)]
	for _, code := range b {
		if !slices.Contains(out, code) {
			out = append(out, code)
		}
	}
	return out
}
