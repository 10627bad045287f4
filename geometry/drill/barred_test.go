package drill

import (
	"reflect"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures/example"
	"locksweep/geometry/clearance"
	"locksweep/geometry/sweep"
)

// TestBars counts a pool made by hand: each place by the first aim that it fails, of those that would do.
func TestBars(t *testing.T) {
	base, err := sweep.New(example.Read(t, "shed-kart"))
	if err != nil {
		t.Fatal(err)
	}
	piece := func(name string) int {
		for i := range base.Scene.Pieces {
			if base.Scene.Pieces[i].Name == name {
				return i
			}
		}
		t.Fatalf("no %s", name)
		return -1
	}
	rodAtTyre := func(f *Figures, w *Within) {
		w.Clearance, w.Nearest = 2, clearance.Near{Pair: [2]int{piece(clearance.Tyre), piece(clearance.TieRod)}, Gap: 2}
	}
	strong := func(f *Figures, w *Within) { f.Transmission = 40 * s1.Degree }
	s := &search{r: &Result{}, base: base, aims: wish}
	add := func(n int, possible bool, traits ...trait) {
		for range n {
			j := judged{possible: possible, sure: true, Figures: Figures{Ratio: 0.7}, Within: Within{Lock: 32 * s1.Degree, Transmission: 40 * s1.Degree, Clearance: 10}}
			for _, change := range traits {
				change(&j.Figures, &j.Within)
			}
			if j.rank = s.aims.rank(&j.Figures, &j.Within); !possible {
				j.rank = nowhere()
			}
			s.pool = append(s.pool, j)
		}
	}
	add(5, true, rodAtTyre, strong)
	add(3, true, strong, faults(sweep.StopMargin, sweep.NoMetalStop), rodAtTyre)
	add(2, true, strong, faults(sweep.TouchesFirst))
	add(1, true, strong, ratio(-1), faults(sweep.NoMetalStop))
	add(4, true, strong, impossible)
	add(6, true, leverage(3)) // drilled where it should be it has no leverage either
	add(1, true, strong, leverage(24))
	add(7, false)
	has := func(j *judged) bool { return j.Transmission >= 25*s1.Degree }
	stops := []Barred{{Stop, sweep.NoMetalStop, [2]string{}, 3}, {Stop, sweep.TouchesFirst, [2]string{}, 2}, {Sense, "", [2]string{}, 1}}
	gap := Barred{Clearance, "", [2]string{"tie rod", "tyre"}, 5}
	nowhere := Barred{-1, "", [2]string{}, 4}
	for _, c := range []struct {
		what string
		aim  Aim
		does func(*judged) bool
		want []Barred
	}{
		{"leverage", Leverage, has, []Barred{gap, nowhere, stops[0], stops[1], stops[2], {Leverage, "", [2]string{}, 1}}},
		{"gaps", Clearance, has, []Barred{{-1, "", [2]string{}, 11}, gap, stops[0], stops[1], stops[2]}},
		{"a stop", Stop, has, []Barred{{-1, "", [2]string{}, 11}, stops[0], stops[1], stops[2]}},
		{"nothing that a place has", Lock, func(*judged) bool { return false }, nil},
	} {
		if got := s.bars(c.aim, c.does); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %v, want %v", c.what, got, c.want)
		}
	}
}
