// Package advance answers when a motion first uses up the room that it has, without ever stepping
// over the place (conservative advancement), and where along a motion the room is least; and of a plain figure between two places,
// where it comes to something and where it is least.
package advance

import "math"

// Motion is something that moves with one parameter t, which runs from 0 to Limit. S is its state.
// A Motion is searched by one goroutine at a time.
type Motion[S any] struct {
	Limit float64
	// At returns the state at t; ok is false where the motion does not get there.
	At func(t float64) (state S, ok bool)
	// Room is what must not fall to zero. It may note in the state what Travel can use, as the direction
	// in which the room was measured: it is asked once for every state, before Travel is asked from it.
	Room func(state *S) float64
	// Travel bounds by how much Room can be less, at to and at all states between the two, than it is at
	// from.
	Travel func(from, to *S) float64

	work [3]*S // kept from one search to the next
	free []*sample[S]
}

const (
	// leastStep ends an advance: as an angle in radians it is past what any tool can set. Past 1 it is meant as a share of
	// the way, so that a step that is cut gets shorter before rounding keeps it as it is.
	leastStep = 1e-14
	// share is how much of the room a step is meant to use. A little less than all: bounds of travel grow
	// faster than steps do, so that a step cut in proportion is then good at the first trial.
	share = 0.97
	// spare is how much of the room a step may leave unused without a second look for a longer one.
	spare = 0.2
)

// First returns the first t at which the room falls to tolerance. A step is taken only if its travel is
// within the room that is left, so it passes over nothing, however thin. found is false where room
// lasts as far as the motion gets. The error in room is at most tolerance.
func (m *Motion[S]) First(tolerance float64) (t float64, found bool) {
	if m.work[0] == nil {
		m.work = [3]*S{new(S), new(S), new(S)}
	}
	w := walk[S]{m: m, here: m.work[0], next: m.work[1], trial: m.work[2], step: m.Limit}
	var ok bool
	if *w.here, ok = m.At(0); !ok {
		return 0, false
	}
	for {
		room := m.Room(w.here)
		switch {
		case !(room > tolerance):
			return w.t, true
		case w.t >= m.Limit:
			return 0, false
		}
		left, ok := w.advance(room)
		switch {
		case !ok:
			return w.t, !w.blocked
		case w.t >= m.Limit && left > tolerance:
			return 0, false // there is no need to measure
		}
	}
}

// walk is a motion under way.
type walk[S any] struct {
	m                 *Motion[S]
	t, step           float64 // where it stands, and the step to try
	here, next, trial *S
	blocked           bool // the motion itself does not get there
}

// advance takes one step within the room, and returns how much of it is left for certain; ok is false
// where there is no room for a step.
func (w *walk[S]) advance(room float64) (left float64, ok bool) {
	var to, fall float64
	for {
		var within bool
		if to, fall, within = w.try(room); within {
			break
		}
		if w.step < leastStep*math.Max(1, w.t) || w.t+w.step <= w.t {
			return 0, false
		}
	}
	w.next, w.trial = w.trial, w.next
	for range 2 { // a longer step is cheaper to look for than room is to measure
		if to == w.m.Limit || fall > (1-spare)*room {
			break
		}
		w.step = (to - w.t) * w.stretch(room, fall)
		longer, more, within := w.try(room)
		if !within || longer <= to {
			break
		}
		to, fall = longer, more
		w.next, w.trial = w.trial, w.next
	}
	w.step = to - w.t
	w.here, w.next, w.t = w.next, w.here, to
	return room - fall, true
}

// stretch is how many times as far a step may go that used up fall of the room.
func (w *walk[S]) stretch(room, fall float64) float64 {
	if fall <= 0 {
		return 4
	}
	return math.Min(4, share*room/fall)
}

// try looks at the next step. Where it is not within the room, the step is cut to what may be.
func (w *walk[S]) try(room float64) (to, fall float64, within bool) {
	to = math.Min(w.t+w.step, w.m.Limit)
	var ok bool
	if *w.trial, ok = w.m.At(to); !ok {
		w.step, w.blocked = w.step/2, true
		return to, 0, false
	}
	if fall = w.m.Travel(w.here, w.trial); fall <= room {
		return to, fall, to > w.t
	}
	w.step, w.blocked = (to-w.t)*math.Max(share*room/fall, 0.05), false
	return to, fall, false
}
