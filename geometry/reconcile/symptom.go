package reconcile

import (
	"fmt"
	"math"
	"strings"
)

// symptom finds the reading that the first suspect explains best, in the reading's accuracies.
func (r *Result) symptom() {
	if len(r.Suspects) == 0 {
		return
	}
	m, s := r.model, &r.Suspects[0]
	x := make([]float64, len(m.unknowns))
	if at := m.unknownOf(s.Observation); at >= 0 {
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
}

// read reports whether an observation is a reading of the finished vehicle that the file's figures also give.
func (o *Observation) read() bool { return o.Kind == Tape || o.Kind == Turn || o.Kind == Rod }

// unknownOf is the unknown that an observation is of; -1 where it is of several, as all readings are.
func (m *model) unknownOf(observation int) int {
	o := &m.observations[observation]
	axis := 0
	for i := range m.unknowns {
		switch u := &m.unknowns[i]; {
		case u.kind != o.Kind:
		case u.kind == Figure && u.key == o.Key, u.kind == Centre, u.kind == Column && u.turn == o.Index:
			return i
		case u.kind == MarkAt && u.mark == o.Index:
			if strings.HasSuffix(o.Key, fmt.Sprintf("[%d]", axis)) {
				return i
			}
			axis++
		}
	}
	return -1
}
