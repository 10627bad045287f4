package reconcile

import (
	"fmt"
	"math"
	"slices"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
)

// rodKey is a rod whose length the file gives: a tape between its balls.
type rodKey struct {
	lengths []*float64 // in work
	rod     int        // of the linkage
}

// inexact is an accuracy, mm or radians, but at least a thousandth of a millimetre or of a degree: least squares have no use for a reading
// that is exact.
func inexact(accuracy float64, angle bool) float64 {
	least := 0.001
	if angle {
		least *= math.Pi / 180
	}
	return math.Max(accuracy, least)
}

// standard is the standard uncertainty of a figure that lies anywhere within its half-width, one place as likely as
// another (GUM 4.3.7: memory).
func standard(halfWidth float64) float64 { return halfWidth / math.Sqrt(3) }

func (m *model) observeTapes(s *setup.Setup, stands *stand) error {
	for i, t := range s.Checks.Taped {
		from, _ := s.Place(t.From)
		to, _ := s.Place(t.To)
		for _, p := range [2]setup.Place{from, to} {
			if _, ok := p.At(s); !ok {
				return &PlaceError{p.Name}
			}
		}
		m.tapes = append(m.tapes, [2]setup.Place{from, to})
		o := Observation{Kind: Tape, Key: fmt.Sprintf("taped[%d].distance", i), Index: i, Given: t.Distance, Before: stands.tape(m.tapes[i]), Accuracy: inexact(m.base.Accuracy.Tape, false)}
		if t.Accuracy > 0 {
			o.Accuracy = inexact(t.Accuracy, false)
		}
		if m.toFind(t.From) >= 0 || m.toFind(t.To) >= 0 {
			o.Before = math.NaN()
		}
		m.observations = append(m.observations, o)
	}
	return nil
}

// observeTurns lists the wheels' angles that were read, and with them that the steering wheel was at 0 when it was called so and
// how far it was turned then.
func (m *model) observeTurns(s *setup.Setup, stands *stand) error {
	exact := inexact(float64(m.base.Accuracy.Turned), true)
	for i, t := range s.Checks.Turned {
		steer, ok := stands.steer(t.Column)
		if !ok { // with rods as long as their balls are apart it may get there: then it is a rod that is wrong
			fitted, assembles := m.stand(nil)
			if assembles {
				_, ok = fitted.steer(t.Column)
			}
			if steer = [2]float64{math.NaN(), math.NaN()}; !ok {
				return &ReachError{t.Column}
			}
		}
		for _, side := range setup.Sides {
			if t.Read[side] {
				m.observations = append(m.observations, Observation{
					Kind: Turn, Key: fmt.Sprintf("turned[%d].%v", i, side), Index: i, Side: side, Angle: true,
					Given: float64(t.Steer[side]), Before: steer[side], Accuracy: exact,
				})
			}
		}
	}
	if len(s.Checks.Turned) > 0 {
		m.observations = append(m.observations, Observation{Kind: Centre, Angle: true, Accuracy: exact})
	}
	for _, i := range m.turnedAway() {
		column := float64(s.Checks.Turned[i].Column)
		m.observations = append(m.observations, Observation{
			Kind: Column, Key: columnKey(i), Index: i, Angle: true, Given: column, Before: column, Accuracy: exact,
		})
	}
	return nil
}

// turnedAway lists the readings with the steering wheel turned; what it stands at when it is not is its centre.
func (m *model) turnedAway() (list []int) {
	for i, t := range m.base.Checks.Turned {
		if t.Column != 0 {
			list = append(list, i)
		}
	}
	return list
}

// observeRods lists the rods whose length the file gives.
func (m *model) observeRods() error {
	mechanism, err := linkage.New(m.work)
	if err != nil {
		return err
	}
	for _, r := range m.base.Readings() {
		if r.Class != setup.OfRod {
			continue
		}
		k := rodKey{rod: mechanism.RodKeyed(r.Key), lengths: m.figures(r.Key)}
		m.rods = append(m.rods, k)
		m.observations = append(m.observations, Observation{Kind: Rod, Key: r.Key, Given: *r.Figures[0], Before: mechanism.Rods[k.rod].Derived, Accuracy: inexact(r.Accuracy, false)})
	}
	return nil
}

// figures returns where a measure's figures stand in work.
func (m *model) figures(key string) []*float64 {
	list := m.work.Measures()
	return list[slices.IndexFunc(list, func(one setup.Measure) bool { return one.Key == key })].Figures
}

// firstRod is the first of the observations that is a rod, where there is one.
func (m *model) firstRod() int {
	return slices.IndexFunc(m.observations, func(o Observation) bool { return o.Kind == Rod })
}

func (m *model) observeMarks() {
	for i, mark := range m.base.Checks.Marks {
		if !mark.Given {
			continue
		}
		for axis, at := range [3]float64{mark.At.X, mark.At.Y, mark.At.Z} {
			m.observations = append(m.observations, Observation{
				Kind: MarkAt, Key: markKey(&mark, axis), Index: i, Given: at, Before: at, Accuracy: m.markAccuracy(i),
			})
		}
	}
}

// columnKey is the key of the steering wheel's angle at a reading of the wheels, markKey that of a co-ordinate of a mark.
func columnKey(reading int) string { return fmt.Sprintf("turned[%d].column", reading) }

func markKey(mark *setup.Mark, axis int) string {
	return fmt.Sprintf("mark.%s.at[%d]", setup.QuoteKey(mark.Name), axis)
}

func (m *model) markAccuracy(i int) float64 {
	if a := m.base.Checks.Marks[i].Accuracy; a > 0 {
		return inexact(a, false)
	}
	return inexact(m.base.Accuracy.Place, false)
}

// toFind returns the mark of a name where its place is to be found, else -1.
func (m *model) toFind(name string) int {
	for i, mark := range m.base.Checks.Marks {
		if mark.Name == name && !mark.Given {
			return i
		}
	}
	return -1
}
