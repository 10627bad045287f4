package reconcile

import (
	"math"
	"slices"
)

// symptom finds the reading that the first suspect explains best, in the reading's accuracies.
func (r *Result) symptom() {
	if len(r.Suspects) == 0 {
		return
	}
	m, s := r.model, &r.Suspects[0]
	x := make([]float64, len(m.unknowns))
	at := m.unknownOf(s.Observation)
	if at < 0 {
		return
	}
	m.startMarks(x)
	file, fits := m.compute(x)
	x[at] += s.By
	if s.Both {
		x[m.unknownOf(s.Mate)] += mirrored(m.observations[s.Observation].Key) * s.By
	}
	mended, reaches := m.compute(x)
	if !fits || !reaches {
		return
	}
	most := 0.0
	for i, o := range m.observations[:m.checks] {
		off := math.Abs(o.Given - o.Before)
		left := math.Abs(o.Given - o.Before - (mended[i] - file[i]))
		if by := (off - left) / o.Accuracy; o.read() && left <= off/2 && by > most {
			r.Symptom, most = i, by
		}
	}
}

// read reports whether an observation is a reading of the finished vehicle that the file's figures also give.
func (o *Observation) read() bool { return o.Kind == Tape || o.Kind == Turn || o.Kind == Rod }

// unknownOf is the unknown that an observation is of; -1 where it is of several, as all readings are.
func (m *model) unknownOf(observation int) int {
	o := &m.observations[observation]
	return slices.IndexFunc(m.unknowns, func(u unknown) bool { return u.kind == o.Kind && u.key == o.Key })
}
