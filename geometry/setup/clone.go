package setup

import (
	"maps"
	"slices"
)

// Clone returns a copy whose measures may be changed without a change to the setup's own. What is only noted of a change
// (Before, Frame, Rehung) both share.
func (s *Setup) Clone() *Setup {
	c := *s
	for side := range c.Corners {
		c.Corners[side] = c.Corners[side].Clone()
	}
	c.DropArm.Metal = c.DropArm.Metal.clone()
	c.DragLink, c.Rack, c.Parts = copied(s.DragLink), copied(s.Rack), slices.Clone(s.Parts)
	for i := range c.Parts {
		p := &c.Parts[i]
		p.Keep, p.Root = slices.Clone(p.Keep), slices.Clone(p.Root)
		p.Tube, p.Plate, p.Disc = copied(p.Tube), copied(p.Plate), copied(p.Disc)
		if p.Tube != nil {
			p.Tube.Path = slices.Clone(p.Tube.Path)
		}
		if p.Plate != nil {
			p.Plate.Outline = slices.Clone(p.Plate.Outline)
		}
	}
	c.Accuracy.Keys = maps.Clone(s.Accuracy.Keys)
	c.Ignore, c.Variants = slices.Clone(s.Ignore), slices.Clone(s.Variants)
	c.Changes, c.Assumed = slices.Clone(s.Changes), slices.Clone(s.Assumed)
	c.Checks.Marks = slices.Clone(s.Checks.Marks)
	return &c
}

// copied returns a pointer to a copy; nil of nil.
func copied[T any](p *T) *T {
	if p == nil {
		return nil
	}
	c := *p
	return &c
}

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
