package clearance

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/fixtures/random"
	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/solid"
)

// source draws figures for parts.
type source struct{ *rand.Rand }

func (r source) between(low, high float64) float64 { return low + (high-low)*r.Float64() }

func (r source) vector(x, y, z float64) r3.Vector {
	return r3.Vector{X: r.between(-x, x), Y: r.between(-y, y), Z: r.between(-z, z)}
}

// star is a simple outline about a point, as often as not concave.
func (r source) star(centre r2.Point, low, high float64) []r2.Point {
	n := 3 + r.IntN(6)
	outline := make([]r2.Point, n)
	for i := range outline {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.8*r.Float64()) / float64(n))
		outline[i] = centre.Add(r2.Point{X: cos, Y: sin}.Mul(r.between(low, high)))
	}
	return outline
}

func (r source) side() (sides [2]bool) {
	i := r.IntN(4)
	return [4][2]bool{{true, true}, {true, false}, {false, true}, {true, true}}[i]
}

// parts draws n parts for a setup, on all bodies, most of them near the front wheels.
func (r source) parts(s *setup.Setup, n int) {
	for i := range n {
		p := setup.Part{Name: fmt.Sprintf("part %02d", i), Sides: r.side()}
		switch r.IntN(9) {
		case 0, 1: // about the left front wheel, and mirrored
			at := r3.Vector{X: r.between(-250, 250), Y: s.Spacing/2 + r.between(-150, 250), Z: r.between(30, 350)}
			p.Tube = &setup.Tube{Diameter: r.between(0, 40), Path: []r3.Vector{at, at.Add(r.vector(200, 100, 100))}}
		case 2:
			p.Plate = &setup.Plate{Outline: r.star(r2.Point{X: r.between(-250, 250), Y: s.Spacing/2 + r.between(-150, 250)}, 10, 80), Lower: r.between(20, 300)}
			p.Plate.Upper = p.Plate.Lower + r.between(1, 30)
		case 3:
			p.AtKingpin = true
			p.Plate = &setup.Plate{Outline: r.star(r2.Point{X: r.between(-60, 60), Y: r.between(-60, 60)}, 8, 30), Lower: r.between(-40, 30)}
			p.Plate.Upper = p.Plate.Lower + r.between(1, 15)
		case 4:
			p.On = setup.OnSpindle
			p.Plate = &setup.Plate{Outline: r.star(r2.Point{X: r.between(-60, 60), Y: r.between(-60, 60)}, 8, 40), Lower: r.between(-40, 30)}
			p.Plate.Upper = p.Plate.Lower + r.between(1, 15)
		case 5:
			p.On = setup.OnSpindle
			p.Disc = &setup.Disc{Centre: r.vector(10, 40, 10), Diameter: r.between(40, 160), Width: r.between(2, 10)}
		case 6:
			p.On = setup.OnSpindle
			at := r.vector(60, 60, 60)
			p.Tube = &setup.Tube{Diameter: r.between(5, 30), Path: []r3.Vector{at, at.Add(r.vector(100, 100, 100)), at.Add(r.vector(100, 100, 100))}}
		case 7:
			p.On, p.Sides = setup.OnColumn, [2]bool{}
			at := r.vector(70, 40, 30)
			if s.Rack != nil {
				p.On, at = setup.OnRack, at.Add(s.Rack.Balls[0])
			}
			p.Tube = &setup.Tube{Diameter: r.between(5, 30), Path: []r3.Vector{at, at.Add(r.vector(40, 40, 100))}}
		case 8:
			if p.On = setup.OnTieRod; s.DragLink != nil {
				p.On, p.Sides = []setup.Body{setup.OnTieRod, setup.OnDragLink}[i%2], [2]bool{}
			}
			at := r3.Vector{X: r.between(-60, 300), Y: r.between(-20, 20), Z: r.between(-20, 20)}
			p.Tube = &setup.Tube{Diameter: r.between(5, 30), Path: []r3.Vector{at, at.Add(r.vector(60, 20, 20))}}
		}
		s.Parts = append(s.Parts, p)
	}
}

// randomScene makes a setup with n parts of all kinds. Parts may touch straight ahead.
func randomScene(t testing.TB, seed uint64, n int) (*setup.Setup, *Scene) {
	t.Helper()
	s := random.FromSeed(seed)
	return s, sceneOf(t, s, seed, n)
}

// kinds are the other linkages, by what makes them at random.
var kinds = [2]func(seed uint64) *setup.Setup{random.CrossRod, random.Rack}

// sceneOf is randomScene for a setup.
func sceneOf(t testing.TB, s *setup.Setup, seed uint64, n int) *Scene {
	t.Helper()
	r := source{rand.New(rand.NewPCG(seed, 0xc1ea))}
	for side := range s.Corners {
		if r.IntN(2) == 0 {
			s.Corners[side].Rod.End.Eye = 20
		}
	}
	r.parts(s, n)
	m, err := linkage.New(s)
	if err != nil {
		t.Fatal(err)
	}
	sc, err := New(s, m)
	if sc == nil {
		t.Fatal(err)
	}
	return sc
}

// apartAhead takes away the parts that touch straight ahead. ok is false where other pieces do.
func apartAhead(s *setup.Setup) (m *linkage.Mechanism, sc *Scene, ok bool) {
	m, err := linkage.New(s)
	if err != nil {
		return nil, nil, false
	}
	for {
		sc, err := New(s, m)
		var touch *TouchError
		if !errors.As(err, &touch) {
			return m, sc, err == nil
		}
		before := len(s.Parts)
		s.Parts = slices.DeleteFunc(s.Parts, func(p setup.Part) bool {
			return slices.ContainsFunc(touch.Pairs, func(names [2]string) bool {
				return strings.HasSuffix(names[0], p.Name) || strings.HasSuffix(names[1], p.Name)
			})
		})
		if len(s.Parts) == before {
			return nil, nil, false
		}
	}
}

// free is how far the column turns one way before a dead point, over centre or half a turn.
func free(m *linkage.Mechanism, dir float64) s1.Angle {
	end := float64(m.Most)
	for _, side := range setup.Sides {
		if at, found := m.DeadPoint(int(side), dir); found {
			end = min(end, math.Abs(float64(at)))
		}
		if at, found := m.OverCentre(int(side), dir); found {
			end = min(end, math.Abs(float64(at)))
		}
	}
	return s1.Angle(dir * end)
}

// gapAt is the gap of two solids at a pose, straight from the distance.
func (m *meeting) gapAt(p *linkage.Pose) float64 {
	gap, _, _ := solid.Distance(m.solids[0], m.solids[1], m.sc.Motion(m.bodies[0], p), m.sc.Motion(m.bodies[1], p))
	return gap
}
