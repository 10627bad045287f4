package reconcile

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"locksweep/fixtures/example"
)

// TestOptionsReadWhatTheySay: a tape has one reading, as exact as tapes are, and a turn that of either wheel, as exact as wheels are read; each
// changes with the unknowns as what is measured does (half-widths by √3: GUM 4.3.7, memory).
func TestOptionsReadWhatTheySay(t *testing.T) {
	s := example.Read(t, "shed-kart")
	m, err := newModel(s)
	if err != nil {
		t.Fatal(err)
	}
	x := make([]float64, len(m.unknowns))
	tapes, turns := 0, 0
	for _, o := range m.options(x, true) {
		accuracy, reads := s.Accuracy.Tape, func(st *stand) []float64 {
			from, _ := st.setup.Place(o.From)
			to, _ := st.setup.Place(o.To)
			return []float64{st.at(from).Sub(st.at(to)).Norm()}
		}
		if tapes++; o.Turn {
			tapes, turns = tapes-1, turns+1
			accuracy, reads = float64(s.Accuracy.Turned), func(st *stand) []float64 {
				steer, _ := st.steer(o.Column)
				return steer[:]
			}
		}
		if want := accuracy * accuracy / 3; math.Abs(o.variance-want) > 1e-12*want {
			t.Errorf("%+v: variance %g, want %g", o.Check, o.variance, want)
		}
		want, ok := m.slopes(x, reads)
		if rows, _ := want.Dims(); !ok || rows != len(o.slopes) {
			t.Fatalf("%+v: %d readings, want %d", o.Check, len(o.slopes), rows)
		}
		for i, got := range o.slopes {
			if !mat.EqualApprox(got, want.RowView(i), 1e-12) {
				t.Errorf("%+v: reading %d changes by %v, want %v", o.Check, i, got, want.RowView(i))
			}
		}
	}
	if tapes == 0 || turns < 3 {
		t.Errorf("%d tapes and %d turns may be measured, want some and three", tapes, turns)
	}
}
