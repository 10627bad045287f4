package sweep

import (
	"math"
	"slices"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/random"
	"locksweep/fixtures/trial"
	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/solid"
)

// Pieces that stops are judged on, by number.
const (
	lug = iota
	ear
	tyreOn
	rearTyreOn
	bareRod
	jamNut
	assumedArm
	arm
	hose
	dropArm
	rail
	marked
	markedEar
	columnTube
	leg
)

// judged is level() with these pieces; its column turns the spindles by the same angle, the leverage is 90
// degrees less that. Its dead points are at 90 degrees.
func judged(t *testing.T, marks bool) *Model {
	m := bare(t, level())
	part := func(name string) *setup.Part { return &setup.Part{Name: name} }
	pieces := []clearance.Piece{
		lug:        {Name: "lug", Body: linkage.LeftSpindle, Part: part("lug")},
		ear:        {Name: "ear", Body: linkage.Frame, Part: part("ear")},
		tyreOn:     {Name: clearance.Tyre, Body: linkage.RightSpindle},
		rearTyreOn: {Name: clearance.RearTyre, Body: linkage.Frame},
		bareRod:    {Name: clearance.TieRod, Body: linkage.FirstRod},
		jamNut:     {Name: "jam nut", Body: linkage.SecondRod, Part: part("jam nut")},
		assumedArm: {Name: clearance.Arm, Body: linkage.LeftSpindle, Assumed: true},
		arm:        {Name: clearance.Arm, Body: linkage.RightSpindle},
		hose:       {Name: "hose", Body: linkage.LeftSpindle, Part: &setup.Part{Name: "hose", Soft: true}},
		dropArm:    {Name: clearance.DropArm, Body: linkage.Input},
		rail:       {Name: "rail", Body: linkage.Frame, Part: part("rail")},
		marked:     {Name: "bolt", Body: linkage.LeftSpindle, Part: &setup.Part{Name: "bolt", Stop: marks}},
		markedEar:  {Name: "block", Body: linkage.Frame, Part: &setup.Part{Name: "block", Stop: marks}},
		columnTube: {Name: "column tube", Body: linkage.Input, Part: part("column tube")},
		leg:        {Name: "leg", Body: linkage.Frame, Part: &setup.Part{Name: "leg", Soft: true}},
	}
	m.Scene = &clearance.Scene{Pieces: pieces}
	for i := range pieces {
		pieces[i].Solids = []solid.Solid{solid.Capsule(r3.Vector{}, r3.Vector{}, 1000)} // whatever meets meets squarely
		if pieces[i].Part != nil {
			m.Setup.Parts = append(m.Setup.Parts, *pieces[i].Part)
		}
	}
	return m
}

// at is a limit at a column angle in degrees; touch a contact of two pieces.
func at(column float64, kind Kind) Limit {
	return Limit{Kind: kind, Column: s1.Angle(column) * s1.Degree}
}

func touch(column float64, a, b int) Limit {
	return Limit{Kind: Contact, Column: s1.Angle(column) * s1.Degree, Pair: [2]int{a, b}}
}

// TestPositiveStops: what is a stop, either way round, with and without parts marked as stops (common practice
// of what a positive stop is; Formula SAE 2021, V.3.2.4, asks for stops that keep linkage and tyres from harm: read).
func TestPositiveStops(t *testing.T) {
	for _, c := range []struct {
		a, b          int
		plain, marked bool
	}{
		{lug, ear, true, false},
		{arm, rail, true, false},
		{marked, rail, true, true},
		{lug, markedEar, true, true},
		{marked, markedEar, true, true},
		{tyreOn, rail, false, false},
		{arm, rearTyreOn, false, false},
		{tyreOn, markedEar, false, false},
		{bareRod, rail, false, false},
		{jamNut, ear, false, false},
		{jamNut, markedEar, false, false},
		{jamNut, lug, false, false},
		{bareRod, marked, false, false},
		{assumedArm, rail, false, false},
		{assumedArm, markedEar, false, false},
		{hose, rail, false, false},
		{hose, markedEar, false, false},
		{arm, leg, false, false},
		{marked, leg, false, false},
		{dropArm, rail, false, false},
		{columnTube, markedEar, false, false},
		{dropArm, lug, false, false},
		{columnTube, marked, false, false},
		{lug, arm, false, false}, // spindle on spindle
	} {
		for _, with := range []bool{false, true} {
			m := judged(t, with)
			want := c.plain
			if with {
				want = c.marked
			}
			for _, l := range []Limit{touch(40, c.a, c.b), touch(40, c.b, c.a)} {
				if got := m.Positive(&l); got != want {
					t.Errorf("%s on %s, marks %v: a stop %v, want %v", m.Scene.Pieces[l.Pair[0]].Name, m.Scene.Pieces[l.Pair[1]].Name, with, got, want)
				}
			}
		}
	}
	for kind, want := range map[Kind]bool{DeadPoint: false, OverCentre: false, RodEnd: false, DeclaredStop: true, ColumnTravel: false} {
		for _, with := range []bool{false, true} {
			if l := at(40, kind); judged(t, with).Positive(&l) != want {
				t.Errorf("%v: want a stop %v", kind, want)
			}
		}
	}
}

// TestBrushing: a pin on the spindle at a lever comes, at 20 degrees, to the face of a block that the pin's way meets at an angle. Turned on by
// 3 degrees it would stand in the block by lever·(sin angle·sin 3° - cos angle·(1 - cos 3°)): derived. From 0.5 mm on that is a stop.
func TestBrushing(t *testing.T) {
	for _, c := range []struct {
		what              string
		lever, angle, low float64 // mm, degrees, lower face of the block (the pin reaches from 40 to 60)
		brushes           bool
	}{
		{"square, by a long lever", 40, 90, 30, false},
		{"square, 9.7 mm from the kingpin: 0.508", 9.7, 90, 30, false},
		{"square, 9.4 mm from the kingpin: 0.492", 9.4, 90, 30, true},
		{"aslant", 40, 45, 30, false},
		{"at 16 degrees: 0.524", 40, 16, 30, false},
		{"at 15 degrees: 0.489", 40, 15, 30, true},
		{"at 3 degrees", 40, 3, 30, true},
		{"at 15 degrees, by a longer lever: 0.550", 45, 15, 30, false},
		{"square, but 0.6 of a millimetre high", 40, 90, 59.4, false},
		{"square, but 0.4 of a millimetre high", 40, 90, 59.6, true},
	} {
		for _, d := range Directions {
			for _, metal := range [2]setup.Body{setup.OnSpindle, setup.OnFrame} { // the pin turns, or the block does
				s := level()
				const pin, at = 3.0, 20 * math.Pi / 180
				plate := func(name string, on setup.Body, low float64, outline ...r2.Point) {
					side := setup.Side(d)
					part := setup.Part{Name: name, On: on, AtKingpin: on == setup.OnFrame, Plate: &setup.Plate{Outline: outline, Lower: low, Upper: 60}}
					part.Sides[side] = true
					s.Parts = append(s.Parts, part)
				}
				turn := func(p r2.Point, by float64) r2.Point {
					sin, cos := math.Sincos(by)
					return r2.Point{X: p.X*cos - p.Y*sin, Y: p.X*sin + p.Y*cos}
				}
				var round []r2.Point
				for i := range 360 {
					sin, cos := math.Sincos(float64(i) * math.Pi / 180)
					round = append(round, r2.Point{X: pin*cos - c.lever, Y: pin * sin})
				}
				// At the contact, seen with the pin behind the kingpin: it goes inboard. into points into the block.
				sin, cos := math.Sincos(c.angle * math.Pi / 180)
				into, along := r2.Point{X: -cos, Y: -sin}, r2.Point{X: sin, Y: -cos}
				face := r2.Point{X: -c.lever}.Add(into.Mul(pin))
				block := []r2.Point{face.Add(along.Mul(7)), face.Add(along.Mul(-7)), face.Add(along.Mul(-7)).Add(into.Mul(8)), face.Add(along.Mul(7)).Add(into.Mul(8))}
				start := at
				other := setup.OnFrame
				if metal == setup.OnFrame { // the block goes the other way round
					other, start = setup.OnSpindle, -at
					for i := range round {
						round[i].Y = -round[i].Y
					}
					for i := range block {
						block[i].Y = -block[i].Y
					}
				}
				for i := range block {
					block[i] = turn(block[i], start)
				}
				plate("pin", metal, 40, round...)
				plate("block", other, c.low, block...)
				m, err := New(s)
				if err != nil {
					t.Fatalf("%s: %v", c.what, err)
				}
				lock := m.Lock(d)
				first := lock.First()
				if first.Kind != Contact || math.Abs(lock.Column.Abs().Degrees()-20) > 0.5 {
					t.Fatalf("%s: %v at %v, want the pin on the block at 20 degrees", c.what, first.Kind, lock.Column)
				}
				if first.Brushes != c.brushes || m.Positive(first) == c.brushes || !m.Metal(first.Pair) {
					t.Errorf("%s, %v, on the %v: brushes %v, a stop %v, want the first %v", c.what, d, metal, first.Brushes, m.Positive(first), c.brushes)
				}
			}
		}
	}
}

// TestStoppingVerdicts: what holds the wheels, and what is wrong with it.
func TestStoppingVerdicts(t *testing.T) {
	infinite := math.Inf(1)
	for name, c := range map[string]struct {
		chain      []Limit
		stop, end  int // in the chain; -1 for none
		before     int
		margin     float64 // degrees
		leverage   float64 // degrees, of the stop
		faults     []Code
		markedOnly bool
	}{
		"a lug in good time":               {[]Limit{touch(40, lug, ear), at(89, DeadPoint)}, 0, 1, 0, 49, 50, nil, false},
		"turning right":                    {[]Limit{touch(-40, lug, ear), at(-89, DeadPoint)}, 0, 1, 0, 49, 50, nil, false},
		"a declared stop":                  {[]Limit{at(40, DeclaredStop), at(89, OverCentre)}, 0, 1, 0, 49, 50, nil, false},
		"nothing at all":                   {nil, -1, -1, 0, 0, 0, []Code{NoMetalStop}, false},
		"only the dead point":              {[]Limit{at(89, DeadPoint)}, -1, 0, 0, 0, 0, []Code{NoMetalStop}, false},
		"column travel alone":              {[]Limit{at(40, ColumnTravel), at(89, DeadPoint)}, -1, 1, 1, 0, 0, []Code{NoMetalStop}, false},
		"a tyre alone":                     {[]Limit{touch(40, tyreOn, rail), at(89, DeadPoint)}, -1, 1, 1, 0, 0, []Code{NoMetalStop, TyreTouches}, false},
		"a rod alone":                      {[]Limit{touch(40, bareRod, rail), at(89, DeadPoint)}, -1, 1, 1, 0, 0, []Code{NoMetalStop}, false},
		"a rod end binds before the lug":   {[]Limit{at(30, RodEnd), touch(40, lug, ear), at(89, DeadPoint)}, -1, 0, 0, 0, 0, []Code{NoMetalStop}, false},
		"over centre before the lug":       {[]Limit{at(30, OverCentre)}, -1, 0, 0, 0, 0, []Code{NoMetalStop}, false},
		"a tyre before the lug":            {[]Limit{touch(30, tyreOn, rail), touch(40, lug, ear), at(89, DeadPoint)}, 1, 2, 1, 49, 50, []Code{TyreTouches}, false},
		"a rod before the lug":             {[]Limit{touch(30, bareRod, rail), touch(40, lug, ear)}, 1, -1, 1, infinite, 50, []Code{TouchesFirst}, false},
		"a jam nut before the lug":         {[]Limit{touch(30, jamNut, rail), touch(40, lug, ear)}, 1, -1, 1, infinite, 50, []Code{TouchesFirst}, false},
		"a leg before the lug":             {[]Limit{touch(30, arm, leg), touch(40, lug, ear)}, 1, -1, 1, infinite, 50, []Code{TouchesFirst}, false},
		"column travel before the lug":     {[]Limit{at(30, ColumnTravel), touch(40, lug, ear)}, 1, -1, 1, infinite, 50, []Code{TouchesFirst}, false},
		"a drop arm before the lug":        {[]Limit{touch(30, dropArm, rail), touch(40, lug, ear)}, 1, -1, 1, infinite, 50, []Code{TouchesFirst}, false},
		"a tyre after the lug":             {[]Limit{touch(40, lug, ear), touch(41, tyreOn, rail), at(89, DeadPoint)}, 0, 2, 0, 49, 50, nil, false},
		"column travel with the lug":       {[]Limit{at(40, ColumnTravel), touch(40+1e-9, lug, ear)}, 1, -1, 0, infinite, 50, nil, false},
		"a rod, then column travel, a lug": {[]Limit{touch(30, bareRod, rail), at(40, ColumnTravel), touch(40, lug, ear)}, 2, -1, 1, infinite, 50, []Code{TouchesFirst}, false},
		"just margin enough":               {[]Limit{touch(57, lug, ear), at(60, RodEnd)}, 0, 1, 0, 3, 33, nil, false},
		"hardly any margin":                {[]Limit{touch(57.1, lug, ear), at(60, RodEnd)}, 0, 1, 0, 2.9, 32.9, []Code{StopMargin}, false},
		"the same to the right":            {[]Limit{touch(-57.1, lug, ear), at(-60, RodEnd)}, 0, 1, 0, 2.9, 32.9, []Code{StopMargin}, false},
		"just leverage enough":             {[]Limit{touch(65, lug, ear)}, 0, -1, 0, infinite, 25, nil, false},
		"little leverage":                  {[]Limit{touch(65.1, lug, ear)}, 0, -1, 0, infinite, 24.9, []Code{LowTransmission}, false},
		"margin and leverage":              {[]Limit{touch(88, lug, ear), at(89, DeadPoint)}, 0, 1, 0, 1, 2, []Code{StopMargin, LowTransmission}, false},
		"all at once":                      {[]Limit{touch(80, tyreOn, rail), touch(88, lug, ear), at(89, DeadPoint)}, 1, 2, 1, 1, 2, []Code{TyreTouches, StopMargin, LowTransmission}, false},
		"the mark after other metal":       {[]Limit{touch(30, lug, ear), touch(40, marked, rail), at(89, DeadPoint)}, 1, 2, 1, 49, 50, []Code{TouchesFirst}, true},
		"a mark that never touches":        {[]Limit{touch(30, lug, ear), at(89, DeadPoint)}, -1, 1, 1, 0, 0, []Code{NoMetalStop}, true},
		"a declared stop beside a mark":    {[]Limit{at(30, DeclaredStop), touch(40, marked, rail), at(89, DeadPoint)}, 0, 2, 0, 59, 60, nil, true},
	} {
		t.Run(name, func(t *testing.T) {
			m := judged(t, c.markedOnly)
			lock := Lock{Chain: c.chain}
			s := m.Stopping(&lock)
			limit := func(i int) *Limit {
				if i < 0 {
					return nil
				}
				return &lock.Chain[i]
			}
			if s.Stop != limit(c.stop) || s.End != limit(c.end) || len(s.Before) != c.before {
				t.Errorf("stop %+v, end %+v, %d before", s.Stop, s.End, len(s.Before))
			}
			if got := s.Margin.Degrees(); got != c.margin && !(math.Abs(got-c.margin) < 1e-9) {
				t.Errorf("margin %v, want %v", got, c.margin)
			}
			if got := s.WheelMargin.Degrees(); got != c.margin && !(math.Abs(got-c.margin) < 1e-5) { // column and wheel turn alike here
				t.Errorf("wheel margin %v, want %v", got, c.margin)
			}
			if math.Abs(s.Leverage.Angle.Degrees()-c.leverage) > 1e-6 {
				t.Errorf("leverage %v, want %v", s.Leverage.Angle, c.leverage)
			}
			if got := s.Faults(); !slices.Equal(got, c.faults) {
				t.Errorf("faults %v, want %v", got, c.faults)
			}
		})
	}
}

// TestWheelMarginIsOfTheWheelThatTurnsFurther: one rod meets the drop arm on a longer lever than the other.
func TestWheelMarginIsOfTheWheelThatTurnsFurther(t *testing.T) {
	s := level()
	s.DropArm.Pins[setup.Right].X = 60
	m := bare(t, s)
	lock := Lock{Chain: []Limit{at(20, DeclaredStop), at(30, RodEnd)}}
	want := 0.0
	for _, side := range setup.Sides {
		p, _ := m.Pose(20 * s1.Degree)
		q, _ := m.Pose(30 * s1.Degree)
		want = max(want, apart(p.Sides[side].Spindle, q.Sides[side].Spindle))
	}
	if got := m.Stopping(&lock).WheelMargin.Degrees(); math.Abs(got-want) > 1e-9 || want < 9 {
		t.Errorf("wheel margin %v, want %v", got, want)
	}
}

// TestAtInnerSteer: the pose found has the steer, on the way there less; and what is never reached is not found.
func TestAtInnerSteer(t *testing.T) {
	met, short := 0, 0
	for seed := range uint64(200) {
		m := bare(t, random.FromSeed(seed))
		for _, d := range Directions {
			end := m.Lock(d).Column
			inner, into := m.Inside(d)
			if end == 0 {
				continue
			}
			// Turned into the turn since straight ahead; a lock may be smaller than the static toe.
			if before, ok := m.Pose(end * 0.999); !ok || into*float64(before.Wheels[inner].Steer-m.Straight.Wheels[inner].Steer) < 0 {
				t.Fatalf("seed %d, %v: the %v wheel is not inside", seed, d, inner)
			}
			most, _ := m.Pose(end)
			steer := s1.Angle(3+seed%40) * s1.Degree
			p, ok := m.AtInnerSteer(end, steer)
			if reached := m.InnerSteer(d, &most) >= steer; ok != reached {
				t.Errorf("seed %d, %v: %v reached %v, want %v", seed, d, steer, ok, reached)
			}
			if !ok {
				short++
				continue
			}
			met++
			whole, _ := m.Pose(p.Column)
			past := p.Column == 0 && m.InnerSteer(d, &whole) > steer // static toe alone is more
			if by := m.InnerSteer(d, &whole) - steer; by.Abs() > 1e-9*s1.Degree && !past || p.Column.Abs() > end.Abs() || p.Column*end < 0 ||
				whole.Wheels != p.Wheels || whole.Transmission != p.Transmission || whole.Turn.Known() != p.Turn.Known() {
				t.Errorf("seed %d, %v: at %v inner steer off by %v", seed, d, p.Column, by)
			}
		}
	}
	if met < trial.Enough(150) || short < trial.Enough(50) {
		t.Errorf("%d met, %d out of reach: too few of either", met, short)
	}
	m := bare(t, level())
	if p, ok := m.AtInnerSteer(40*s1.Degree, -1*s1.Degree); !ok || p.Column != 0 {
		t.Errorf("a steer that is passed already: found %v at %v", ok, p.Column)
	}
	for _, end := range []s1.Angle{90 * s1.Degree, -90 * s1.Degree} { // the dead point, which rounding may put out of reach
		if p, ok := m.AtInnerSteer(end, 60*s1.Degree); !ok || apart(p.Column.Abs(), 60*s1.Degree) > 1e-9 || p.Column*end < 0 {
			t.Errorf("60 degrees on the way to %v: found %v at %v", end, ok, p.Column)
		}
	}
}

// TestInsideOfTheTurn: which wheel is inside follows from the way that the wheels go, not from the column alone.
func TestInsideOfTheTurn(t *testing.T) {
	backwards := level()
	for side := range backwards.Corners {
		backwards.Corners[side].Arm.Pickup.X = 80
	}
	backwards.Column.Foot.X = 160
	for _, c := range []struct {
		s     *setup.Setup
		d     Direction
		inner setup.Side
		into  float64
	}{{level(), ToLeft, setup.Left, 1}, {level(), ToRight, setup.Right, -1}, {backwards, ToLeft, setup.Right, -1}, {backwards, ToRight, setup.Left, 1}} {
		m := bare(t, c.s)
		if inner, into := m.Inside(c.d); inner != c.inner || into != c.into {
			t.Errorf("column to the %v: %v wheel inside, into %v; want %v, %v", c.d, inner, into, c.inner, c.into)
		}
		if p, _ := m.Pose(s1.Angle(c.d.Sign()) * 20 * s1.Degree); m.InnerSteer(c.d, &p) < 15*s1.Degree {
			t.Errorf("column 20 degrees to the %v: inner steer %v", c.d, m.InnerSteer(c.d, &p))
		}
	}
}
