package setup_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/golang/geo/r3"
	"pgregory.net/rapid"

	"locksweep/fixtures/trial"
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
)

// spindleBody is a spindle as a heap of points, vehicle axes from the kingpin centre: its bore, stub, tyre, arm and
// parts. What rests on the plumb bob is worked out here apart from the code that places metal.
func spindleBody(s *setup.Setup, side setup.Side) (points []r3.Vector, names []string) {
	add := func(name string, v r3.Vector) { points, names = append(points, v), append(names, name) }
	c, k := &s.Corners[side], s.Kingpin(side).Dir
	for _, at := range []float64{-40, 0, 40} {
		add(fmt.Sprintf("bore at %v", at), k.Mul(at))
	}
	stub, spin := setup.FromCorner(side, r3.Vector{X: c.Wheel.Lead, Z: c.Wheel.Up}), s.SpinAxis(side)
	add("tyre", stub.Add(spin.Mul(c.Wheel.Offset)))
	add("end of the stub", stub.Add(spin.Mul(c.Wheel.Offset+60)))
	add("pickup", setup.FromCorner(side, c.Arm.Pickup))
	add("bolt", setup.FromCorner(side, c.Arm.Pickup.Add(c.Arm.Bolt.Mul(30))))
	for _, h := range c.Arm.Metal.Holes {
		add("hole", setup.FromCorner(side, r3.Vector{X: h.At.X, Y: h.At.Y, Z: h.Up}))
	}
	var ring []r3.Vector
	for _, p := range c.Arm.Metal.Outline { // straight up from the plan to the metal's mid plane
		at := setup.FromCorner(side, r3.Vector{X: p.X, Y: p.Y})
		at.Z = ((c.Arm.Metal.Lower+c.Arm.Metal.Upper)/2 - k.X*at.X - k.Y*at.Y) / k.Z
		ring = append(ring, at)
	}
	for _, at := range fromFarthest(ring, k) {
		add("arm's outline", at)
	}
	place := s.KingpinPlane(side)
	for _, p := range bySide(s.Parts) {
		if !p.Sides[side] || p.Name == "hose" {
			continue
		}
		switch {
		case p.Disc != nil:
			add(p.Name, setup.FromCorner(side, p.Disc.Centre))
		case p.Plate != nil:
			var ring []r3.Vector
			for _, q := range p.Plate.Outline {
				ring = append(ring, place.Direction(r3.Vector{X: q.X, Y: q.Y, Z: (p.Plate.Lower + p.Plate.Upper) / 2}))
			}
			for _, at := range fromFarthest(ring, k) {
				add(p.Name, at)
			}
		}
	}
	return points, names
}

// fromFarthest returns an outline from its corner farthest from the kingpin on, whatever point it begins with and
// whichever way it runs.
func fromFarthest(ring []r3.Vector, kingpin r3.Vector) (list []r3.Vector) {
	far := func(i int) float64 { return kingpin.Cross(ring[i%len(ring)]).Norm() }
	start, n, way := 0, len(ring), 1
	for i := range ring {
		if far(i) > far(start) {
			start = i
		}
	}
	if far(start+1) < far(start+n-1) {
		way = n - 1
	}
	for i := range ring {
		list = append(list, ring[(start+i*way)%n])
	}
	return list
}

// TestHungAnewAsOneRigidBody: whatever is done to a spindle, its bore, stub, tyre, arm and parts keep all their
// distances from one another, and no reflection of it is made.
func TestHungAnewAsOneRigidBody(t *testing.T) {
	trial.Check(t, func(t *rapid.T) {
		angle, size := rapid.Float64Range(-16, 16), rapid.Float64Range(-30, 30)
		s, _, err := setupfile.Read("kart.toml", []byte(changeable), setupfile.Options{Set: []string{
			setting("kingpin.caster", angle.Draw(t, "caster")), setting("kingpin.inclination", angle.Draw(t, "inclination")),
			setting("wheel.toe", angle.Draw(t, "toe")/10), setting("wheel.camber", angle.Draw(t, "camber")/4),
			setting("wheel.lead", size.Draw(t, "lead")), "right.kingpin.caster=9", "arm.up=[-45,-35]", "right.arm.up=[-45,-35]"}})
		if err != nil {
			t.Fatalf("not a sound setup: %v", err)
		}
		for _, side := range setup.Sides {
			swapped, over := *s, *s
			swapped.SwapSpindles()
			over.TurnSpindlesOver()
			sameBody(t, fmt.Sprintf("%v swapped", side), s, side.Other(), &swapped, side)
			sameBody(t, fmt.Sprintf("%v upside down", side), s, side, &over, side)
		}
	})
}

func sameBody(t *rapid.T, what string, was *setup.Setup, wasSide setup.Side, is *setup.Setup, side setup.Side) {
	t.Helper()
	before, names := spindleBody(was, wasSide)
	after, _ := spindleBody(is, side)
	if len(before) != len(after) {
		t.Fatalf("%s: %d points became %d", what, len(before), len(after))
	}
	if upsideDown := wasSide == side; upsideDown { // the bore's ends change places
		after[0], after[2] = after[2], after[0]
	}
	for i := range before {
		for j := range i {
			want, got := before[i].Sub(before[j]).Norm(), after[i].Sub(after[j]).Norm()
			if math.Abs(got-want) > 1e-9*(1+want) {
				t.Errorf("%s: %s from %s: %.6f, was %.6f", what, names[i], names[j], got, want)
			}
		}
	}
	hand := func(p []r3.Vector) float64 { return p[2].Sub(p[0]).Cross(p[3].Sub(p[0])).Dot(p[5].Sub(p[0])) }
	if want, got := hand(before), hand(after); math.Abs(got-want) > 1e-6*(1+math.Abs(want)) {
		t.Errorf("%s: handedness %v, was %v", what, got, want)
	}
}
