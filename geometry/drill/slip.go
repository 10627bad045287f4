package drill

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// defaultSlip is how far a hand drill wanders, mm (common practice, no source).
const defaultSlip = 0.5

// directions in which a hole is drilled off its place. The places stand a little further off than the slip, on the
// corners of the figure about its circle: what changes evenly is then nowhere within the circle worse than at
// the worst corner.
const directions = 8

// Within is the worst that becomes of a place where its holes are drilled off it by as much as the slip, any way,
// rods cut anew: of the place itself and eight about it. Holes that are there already stay where they are. Arms
// drilled one like the other are off alike; what may be off by itself (the drop arm beside the steering arms, or
// each arm with Options.Each) is off by itself, and its losses add up.
type Within struct {
	Lock, Transmission s1.Angle        // least
	Clearance          float64         // least gap but for what stops it, mm; +Inf where nothing comes near
	Nearest            clearance.Near  // what has the least gap that was seen, and where
	Worst              s1.Angle        // greatest departure from the Ackermann wanted
	Faults             [2][]sweep.Code // of all, either way
	Impossible         bool            // somewhere within the slip it does not assemble, or metal touches metal straight ahead
}

// itself is Within of a place that nothing is drilled for.
func (f *Figures) itself(nearest clearance.Near) Within {
	return Within{Lock: f.Lock(), Transmission: f.Transmission, Clearance: nearest.Gap, Nearest: nearest, Worst: f.Worst, Faults: f.Faults}
}

// off is the place and what is drilled off it, in groups that are off by themselves.
func (s *search) off(n node) (groups [][]node) {
	sp := s.spot(n)
	radius := s.r.Options.Slip / math.Cos(math.Pi/directions)
	if !(radius > 0) {
		return nil
	}
	for i := range s.r.Metals {
		m := &s.r.Metals[i]
		if !s.drills(m, &sp) {
			continue
		}
		for _, ball := range s.movers(m) {
			var group []node
			for k := range directions {
				sin, cos := math.Sincos(2 * math.Pi * float64(k) / directions)
				by, o := m.Shift(r2.Point{X: radius * cos, Y: radius * sin}), n
				o[ball], o[ball+1] = o[ball]+by.X, o[ball+1]+by.Y
				group = append(group, o)
			}
			groups = append(groups, group)
		}
	}
	return groups
}

// movers lists the first co-ordinates of a metal's balls that are moved by themselves.
func (s *search) movers(m *Metal) []int {
	switch {
	case m.Drop && s.r.Options.Each:
		return []int{leftPin, rightPin}
	case m.Drop:
		return []int{leftPin}
	case m.Side == setup.Left || m.link:
		return []int{leftArm}
	case s.r.Options.Each:
		return []int{rightArm}
	}
	return nil
}

// drills reports whether a place asks for a new hole in a metal, or in the other arm that is drilled with it.
func (s *search) drills(m *Metal, sp *Spot) bool {
	for i := range s.r.Metals {
		other := &s.r.Metals[i]
		if other.Drop != m.Drop || s.r.Options.Each && other.Side != m.Side {
			continue
		}
		for _, at := range other.balls(sp) {
			if other.ready(other.Plane(at), &s.r.Options) == nil {
				return true
			}
		}
	}
	return false
}

// measured is a place with what comes nearest there.
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

// kept is measure without Worst and Unlike, by which what is off a place does not rank, and with the gap as far as the look goes.
func (s *search) kept(l look) (x measured) {
	if m := s.model(l.node, l.one); m != nil {
		s.aims.locked(m, &x.Figures)
		x.possible, x.nearest = true, x.Figures.nearest(m, l.near)
	}
	return x
}

// gathered is what becomes of a place within the slip: of itself, then of each group in turn, as far as they have been measured. near is
// up to which its gaps were looked at, mm.
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

// fold keeps what is worse in one place; faults and impossibility go to all.
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
		known := false
		for _, c := range out {
			known = known || c == code
		}
		if !known {
			out = append(out, code)
		}
	}
	return out
}
