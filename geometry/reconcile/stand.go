package reconcile

import (
	"math"

	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
)

// stand is a vehicle made ready to be measured. One of a model holds until the model makes the next.
type stand struct {
	setup     *setup.Setup
	mechanism *linkage.Mechanism
	road      *road.Vehicle
	rods      [2]float64 // what the balls of the linkage's rods are apart, before [change]
	centre    float64    // where the steering wheel stood when it was called 0, radians
	columns   []float64  // how far off it was besides at each reading of the wheels, radians
}

func newStand(s *setup.Setup) (*stand, error) {
	mechanism, err := linkage.New(s)
	if err != nil {
		return nil, err
	}
	return &stand{setup: s, mechanism: mechanism, road: road.New(s).Centred(mechanism.Straight)}, nil
}

// stand is the vehicle with the unknowns x; nil leaves all as work has it. ok is false where it does not assemble.
func (m *model) stand(x []float64) (st *stand, ok bool) {
	centre, columns := 0.0, make([]float64, len(m.base.Checks.Turned))
	for i := range x {
		switch u := &m.unknowns[i]; u.kind {
		case Centre:
			centre = x[i]
		case Column:
			columns[u.index] = x[i]
		}
		m.unknowns[i].set(x[i])
	}
	st, err := newStand(m.work)
	if err != nil {
		return nil, false
	}
	apart := [2]float64{st.mechanism.Rods[0].Derived, st.mechanism.Rods[1].Derived}
	if m.made != (setup.Change{}) {
		m.fitRods(&apart)
		changed := m.work.Clone()
		m.work.RodsCutAnew()
		m.made.Apply(changed)
		if st, err = newStand(changed); err != nil {
			return nil, false
		}
	}
	st.centre, st.columns, st.rods = centre, columns, apart
	return st, true
}

// tape is the distance between two places, the steering centred, mm.
func (st *stand) tape(between [2]setup.Place) float64 {
	return st.at(between[0]).Sub(st.at(between[1])).Norm()
}

// at is where a place is with the steering centred, as the rods put it; NaN where there is none.
func (st *stand) at(p setup.Place) r3.Vector {
	at, ok := p.At(st.setup)
	if !ok {
		return r3.Vector{X: math.NaN()}
	}
	if angle := st.mechanism.Straight[p.Side]; p.On == setup.OnSpindle && angle != 0 {
		at = st.mechanism.Axes[linkage.Spindle(p.Side)].RotatePoint(at, angle)
	}
	return at
}

// steer is what both front wheels stand at at a turn of the steering wheel, radians, positive to the left.
func (st *stand) steer(column s1.Angle) (steer [2]float64, ok bool) {
	pose, ok := st.mechanism.Pose(column)
	if !ok {
		return steer, false
	}
	wheels := st.road.Wheels(&pose)
	return [2]float64{float64(wheels[0].Steer), float64(wheels[1].Steer)}, true
}

// probeSteer is about how far the wheels are turned where it is tried which figures move them.
const probeSteer = 20 * s1.Degree

// probes are three turns of the steering wheel: none, and either way that at which the wheels are turned by about probeSteer, or the
// greatest half, quarter and so on of it that the linkage gets to. A way that it hardly goes is left out.
func (st *stand) probes() []s1.Angle {
	columns := []s1.Angle{0}
	straight, ok := st.mechanism.Pose(0)
	if !ok {
		return columns
	}
	rate := math.Max(math.Max(math.Abs(straight.Sides[0].Rate), math.Abs(straight.Sides[1].Rate)), 0.02)
	for _, way := range [2]s1.Angle{1, -1} {
		for column := probeSteer / s1.Angle(rate); column > s1.Degree; column /= 2 {
			if _, ok := st.steer(way * column * 1.1); ok {
				columns = append(columns, way*column)
				break
			}
		}
	}
	return columns
}

// wheels are the angles of both wheels at turns of the steering wheel, radians, and at turns other than 0 the Ackermann error after them;
// they end at the first turn that the linkage does not get to.
func (st *stand) wheels(columns []s1.Angle) (angles []float64) {
	for _, column := range columns {
		pose, ok := st.mechanism.Pose(column)
		if !ok {
			return angles
		}
		wheels := st.road.Wheels(&pose)
		for _, w := range wheels {
			angles = append(angles, float64(w.Steer))
		}
		if column != 0 {
			turn := st.road.Turn(&wheels)
			angles = append(angles, float64(turn.Error))
		}
	}
	return angles
}
