package setup

import (
	"maps"
	"slices"
)

// Clone returns a copy that shares nothing with the setup.
func (s *Setup) Clone() *Setup {
	c := *s
	for side := range c.Corners {
		c.Corners[side] = c.Corners[side].Clone()
	}
	c.DropArm.Metal = c.DropArm.Metal.clone()
	c.Parts = slices.Clone(s.Parts)
	if s.DragLink != nil {
		link := *s.DragLink
		c.DragLink = &link
	}
	if s.Rack != nil {
		rack := *s.Rack
		c.Rack = &rack
	}
	for i := range c.Parts {
		p := &c.Parts[i]
		p.Keep = slices.Clone(p.Keep)
		p.Root = slices.Clone(p.Root)
		switch {
		case p.Tube != nil:
			p.Tube = &Tube{p.Tube.Diameter, slices.Clone(p.Tube.Path)}
		case p.Plate != nil:
			plate := *p.Plate
			plate.Outline = slices.Clone(plate.Outline)
			p.Plate = &plate
		case p.Disc != nil:
			disc := *p.Disc
			p.Disc = &disc
		}
	}
	c.Accuracy.Keys = maps.Clone(s.Accuracy.Keys)
	c.Ignore, c.Variants = slices.Clone(s.Ignore), slices.Clone(s.Variants)
	c.Changes, c.Assumed = slices.Clone(s.Changes), slices.Clone(s.Assumed)
	c.Checks.Marks = slices.Clone(s.Checks.Marks)
	return &c
}

// Clone shares nothing with the corner.
func (c Corner) Clone() Corner {
	c.Arm.Metal = c.Arm.Metal.clone()
	return c
}

func (m Metal) clone() Metal {
	m.Outline, m.Holes = slices.Clone(m.Outline), slices.Clone(m.Holes)
	return m
}

// Points counts the points of all outlines, of arms, drop arm and plates.
func (s *Setup) Points() int {
	n := len(s.DropArm.Metal.Outline)
	for i := range s.Corners {
		n += len(s.Corners[i].Arm.Metal.Outline)
	}
	for i := range s.Parts {
		if plate := s.Parts[i].Plate; plate != nil {
			n += len(plate.Outline)
		}
	}
	return n
}
