// Package advance answers when a motion first uses up the room that it has, without ever stepping
// over the place (conservative advancement), and where along a motion the room is least.
package advance

import "math"

// Motion is something that moves with one parameter t, which runs from 0 to Limit. S is its state.
type Motion[S any] struct {
	Limit float64
	// At returns the state at t; ok is false where the motion does not get there.
	At func(t float64) (state S, ok bool)
	// Room is what must not fall to zero.
	Room func(state *S) float64
	// Travel bounds by how much Room can change between two states, and at all states between them.
	Travel func(from, to *S) float64
}

// leastStep ends an advance: as an angle in radians it is past what any tool can set.
const leastStep = 1e-14

// First returns the first t at which the room falls to tolerance. A step is taken only if its travel is
// within the room that is left, so it passes over nothing, however thin. found is false where room
// lasts up to Limit. The error in room is at most tolerance.
func (m *Motion[S]) First(tolerance float64) (t float64, found bool) {
	here, ok := m.At(0)
	if !ok {
		return 0, true
	}
	room := m.Room(&here)
	step := m.Limit / 8
	for room > tolerance {
		if t >= m.Limit {
			return 0, false
		}
		next := math.Min(t+step, m.Limit)
		if step < leastStep || next <= t {
			break // no room to move within the resolution
		}
		there, ok := m.At(next)
		if !ok {
			step /= 2
			continue
		}
		travel := m.Travel(&here, &there)
		if travel > room {
			step *= math.Max(0.9*room/travel, 0.1)
			continue
		}
		step = 8 * (next - t)
		t, here, room = next, there, m.Room(&there)
		if travel > 0 {
			step = math.Min(step, 0.98*(step/8)*room/travel)
		}
	}
	return t, true
}

// Least returns the t at which the room is least, over the whole motion, and the room there, to within
// tolerance. Where the room is nowhere under near, it may stop early: found is false. The motion
// must reach its Limit.
func (m *Motion[S]) Least(near, tolerance float64) (t, room float64, found bool) {
	from, ok := m.At(0)
	to, ok2 := m.At(m.Limit)
	if !ok || !ok2 {
		return 0, 0, false
	}
	s := leastSearch[S]{m: m, best: near, tolerance: tolerance}
	a, b := s.sample(0, from), s.sample(m.Limit, to)
	s.between(a, b, maxHalvings)
	return s.at, s.best, s.found
}

// maxHalvings bounds the depth of a search for the least room: 2^-40 of the motion.
const maxHalvings = 40

type leastSearch[S any] struct {
	m         *Motion[S]
	tolerance float64
	at, best  float64
	found     bool
}

type sample[S any] struct {
	t, room float64
	state   S
}

func (s *leastSearch[S]) sample(t float64, state S) sample[S] {
	room := s.m.Room(&state)
	if room < s.best {
		s.at, s.best, s.found = t, room, true
	}
	return sample[S]{t, room, state}
}

// between looks between two samples, unless nothing there can beat the best so far: room cannot
// fall below the mean of both ends by more than half the travel between them.
func (s *leastSearch[S]) between(a, b sample[S], depth int) {
	if depth == 0 || (a.room+b.room-s.m.Travel(&a.state, &b.state))/2 >= s.best-s.tolerance {
		return
	}
	t := (a.t + b.t) / 2
	state, ok := s.m.At(t)
	if !ok {
		return
	}
	mid := s.sample(t, state)
	first, second := [2]sample[S]{a, mid}, [2]sample[S]{mid, b}
	if b.room < a.room { // the nearer end first: a low best cuts the rest off
		first, second = second, first
	}
	s.between(first[0], first[1], depth-1)
	s.between(second[0], second[1], depth-1)
}
