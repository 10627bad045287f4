package grind

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/region"
	"locksweep/geometry/sweep"
)

// Sight is an obstacle as the plate sees it at the target: its section between the plate's faces, in the
// plate's plane, mm.
type Sight struct {
	Piece int // of the scene
	Way   sweep.Direction
	Steer s1.Angle // of the plate's own wheel there, into the turn; of the wheel inside the turn where the plate has no side
	Rings [][]r2.Point
}

// sights fills in what each cut makes room for: the obstacles that would stand in the old metal, or too
// near to it, with the column at the target.
func (j *job) sights() error {
	for _, c := range j.Cuts {
		for _, o := range c.Obstacles {
			for _, d := range sweep.Directions {
				if err := j.plate(c.Piece).see(c, o, d, j.Plan); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// see adds an obstacle to the sights of a cut, in a direction, if it would stand in the old metal or too near to it.
func (p *plate) see(c *Cut, obstacle int, d sweep.Direction, plan *Plan) error {
	pose, _ := p.model.Linkage.Pose(plan.Columns[d])
	scene := p.model.Scene
	motion := p.home.After(scene.Motion(p.body, &pose).Inverse()).After(scene.Motion(scene.Pieces[obstacle].Body, &pose))
	solids := scene.Pieces[obstacle].Solids
	var bare []region.Region
	meets := false
	for i := range solids {
		s := p.section(&solids[i], motion, plan.Clearance)
		near, err := p.metal.Common(region.Of(s.Outline(curveChord)))
		if err != nil {
			return err
		}
		meets = meets || near.Area() > leastArea
		s.Grown = 0
		bare = append(bare, region.Of(s.Outline(curveChord)))
	}
	if !meets {
		return nil
	}
	all, err := region.Union(bare...)
	if err != nil {
		return err
	}
	c.Sights = append(c.Sights, Sight{obstacle, d, p.steer(plan, d), all.Rings()})
	return nil
}

// steer returns Sight.Steer.
func (p *plate) steer(plan *Plan, d sweep.Direction) s1.Angle {
	piece, inner := &p.model.Scene.Pieces[p.piece], plan.ways[d].inner
	if !piece.Sided || piece.Side == inner {
		return plan.Steer[d]
	}
	pose, _ := p.model.Pose(plan.Columns[d])
	_, into := p.model.Inside(d)
	return s1.Angle(into) * pose.Wheels[inner.Other()].Steer
}
