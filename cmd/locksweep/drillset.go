package main

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r3"

	"locksweep/geometry/drill"
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
)

// settings returns what --set takes to get a place's sweep; nil where the file's form does not allow it. The
// ways to write it are tried until one reads back as the place. Of hole and stop together the cut belongs to place 1.
func (f *drillFlags) settings(r *drill.Result, both *drill.Together, p *drill.Place) []string {
	var cuts []string
	if both != nil && both.Plan != nil && p == &r.Best[0].Place {
		cuts = groundSettings(both.Plan)
	}
	for _, balls := range append(ballSettings(r, p, ofPlaces), ballSettings(r, p, ofChanged)...) {
		for _, rods := range rodSettings(r, p) {
			set := slices.Concat(balls, rods, cuts)
			if got, err := f.source.with(set...).setup(); err == nil && stands(got, r, p) && (cuts == nil || sameOutlines(both.Plan.After.Setup, got)) {
				return set
			}
		}
	}
	return nil
}

// noSettings says why a place cannot be given with --set.
func noSettings(r *drill.Result) string {
	const cannot = "place 1 cannot be swept with --set"
	switch {
	case len(r.Setup.Changes) == 0:
		return cannot + ", because of the form in which the file gives arms or rods: write the place into a copy of the file"
	case r.On != drill.Arm:
		return cannot + ": [change] moves the drop arm's holes after it"
	}
	return cannot + ": it is given as the parts hang after [change], and the file as they hang before: measure again once the change is made, and write the place into that file"
}

// stands reports whether a setup has its balls and rods as the place has them, to a millionth of a millimetre, so that no figure moves by as
// much as a millionth of a degree.
func stands(s *setup.Setup, r *drill.Result, p *drill.Place) bool {
	const same = 1e-6
	at, rods := drill.SpotOf(s), r.Rods(p)
	for _, side := range setup.Sides {
		if length := s.DriverRod(side).Length; length != 0 && !(math.Abs(length-rods[side]) < same) {
			return false
		}
	}
	return at.Apart(&p.Spot) <= same
}

// ballSettings lists the ways to say where the balls are: as the file has them, before [change] hangs parts anew.
func ballSettings(r *drill.Result, p *drill.Place, digits digits) (ways [][]string) {
	u := r.Setup.Unit
	filed := drill.SpotOf(p.Fit(r.Setup).AsHung())
	pickups, pins := filed.Pickups, filed.Pins
	point := func(key string, ball r3.Vector) string {
		return fmt.Sprintf("%s=[%s, %s, %s]", key, digits.of(u, ball.X), digits.of(u, ball.Y), digits.of(u, ball.Z))
	}
	if r.On == drill.Link {
		return [][]string{{point("drag_link.pickup", filed.Link)}}
	}
	arm := [][]string{nil}
	if r.On != drill.DropArm {
		left, right := point("arm.pickup", pickups[0]), point("right.arm.pickup", pickups[1])
		arm = [][]string{{left}, {left, right}}
	}
	drop := [][]string{nil}
	if r.On != drill.Arm {
		left, right := point("drop_arm.left", pins[0]), point("drop_arm.right", pins[1])
		drop = [][]string{{point("drop_arm.pin", pins[0])}, {left, right}}
	}
	for _, a := range arm {
		for _, d := range drop {
			ways = append(ways, slices.Concat(a, d))
		}
	}
	return ways
}

// rodSettings lists the ways to say how long the rods are.
func rodSettings(r *drill.Result, p *drill.Place) [][]string {
	rods, u := r.Rods(p), r.Setup.Unit
	ways := [][]string{nil}
	for _, keys := range setupfile.RodKeys(r.Setup) {
		set := []string{keys[0] + "=" + ofRods.of(u, rods[0])}
		if keys[1] != keys[0] {
			set = append(set, keys[1]+"="+ofRods.of(u, rods[1]))
		}
		ways = append(ways, set)
	}
	return ways
}
