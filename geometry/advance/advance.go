// Package advance answers when a motion first uses up the room that it has, without ever stepping
// over the place (conservative advancement), and where along a motion the room is least; and where, between two places, a plain figure
// comes to a value or is least.
package advance

import "math"

// Motion is something that moves with one parameter t, which runs from 0 to Limit. S is its state.
// A Motion is searched by one goroutine at a time.
type Motion[S any] struct {
	Limit float64
	// At returns the state at t; ok is false where the motion does not get there.
	At func(t float64) (state S, ok bool)
	// Room is what must not fall to zero, as the gap between two things. It is asked once for every state, before Travel is asked from
	// it, and may note in the state what Travel can use, as the direction in which the gap was measured.
	Room func(state *S) float64
	// Travel returns a bound of how much less Room may be than at from, at to and at all states between the two.
	Travel func(from, to *S) float64

	work [3]*S // kept from one search to the next
	free []*sample[S]
}

const (
	// leastStep is the shortest step that is tried: in t, or as a share of t where that is past 1. As an angle in radians it is far less
	// than any tool can set.
	leastStep = 1e-14
	// share is how much of the room a step is cut to use: a little less than all, since bounds of travel grow faster than steps
	// do, so that the first trial of the cut step is mostly good.
	share = 0.97
	// spare is the share of the room that a step may leave unused before a longer one is looked for.
	spare = 0.2
)

// First returns the first t at which the room falls to tolerance, in the unit of Room, so that the room there is between 0 and tolerance;
// found is false where there is more as far as the motion gets. A step is taken only if its travel is within the room that is left, so
// nothing is stepped over, however thin.
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
	blocked           bool // the last step that was tried leads past where the motion itself gets
}

// advance takes one step within the room, and returns how much of it is left for certain; ok is false
// where there is no room for a step.
func (w *walk[S]) advance(room float64) (left float64, ok bool) {
	to, fall, within := w.try(room)
	for ; !within; to, fall, within = w.try(room) {
		if w.step < leastStep*math.Max(1, w.t) || w.t+w.step <= w.t {
			return 0, false
		}
	}
	w.next, w.trial = w.trial, w.next
	for range 2 { // a longer step is cheaper to look for than room is to measure
		if to == w.m.Limit || fall > (1-spare)*room {
			break
		}
		w.step = (to - w.t) * min(4, share*room/max(fall, 0)) // as far as should fit, at most four times as far
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

// try looks at the next step: where it leads to, and by how much the room may fall on it. Where that is more than the room, within is false and
// the step is cut to what should fit.
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
