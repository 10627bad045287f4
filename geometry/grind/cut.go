package grind

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/neck"
	"locksweep/geometry/planar"
	"locksweep/geometry/region"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

var (
	// errSwept cannot come about unless outlines are wrong in a way that their reader lets pass.
	errSwept = errors.New("what an obstacle sweeps has no outline")
	errGone  = errors.New("the cut would take the metal about the kingpin")
	errHole  = errors.New("the cut would be a hole inside the metal, which grinding from outside does not reach")
)

// Cut is what comes off one plate.
type Cut struct {
	Piece     int // of the scene
	Part      *setup.Part
	Before    []r2.Point // the outline as it is, in the plate's plane, counter-clockwise, mm
	After     []r2.Point // the finished outline, likewise
	Bites     []Bite     // the metal to take off, deepest first
	Fallen    []r2.Point // outline of the largest piece that falls off whole; nil where none does
	Area      float64    // of all metal that comes off, mm²
	Mass      float64    // likewise, kg
	Depth     float64    // of the deepest bite, mm
	StopDepth [2]float64 // by direction, how deep the cut is where the plate is the stop, mm; else NaN
	Faces     [2]Face    // likewise, what is met there
	Left      float64    // area that is left, mm²
	Share     float64    // of the whole that is left, 0 to 1
	Width     float64    // least width from where it is hit to the root, of a plate that is the stop, mm; else NaN
	LeastWide float64    // least width that counts as a stop, mm
	Root      neck.Root  // what the plate hangs on
	Stops     [2]bool    // the directions in which it is the stop
	Past      Past       // why the wheels go past the target before they are stopped
	Wall      Wall       // metal left between the cut and what must stay
	Clearance float64    // least gap in the fresh sweep, within the new locks, to what it was cut for, mm
	Passes    float64    // likewise, to all but what it stops; NaN where there is nothing else
	Obstacles []int      // pieces that it is cut for
	Sights    []Sight    // of them at the target
	Corners   []Corner   // inner corners that are too sharp
	Eased     bool       // they may be made round: a fresh sweep finds the same locks and stops then
	Tips      []Tip      // thin metal that the cut would leave
	Catches   bool       // metal beside the face of the stop may be met before the face, and cannot be taken off: see job.beside
	alone     [2]float64 // StopDepth of a cut for the stop alone, which the curve tells
}

// AtKingpin reports whether the plate's plane is that of a kingpin, with its origin there.
func (c *Cut) AtKingpin() bool { return c.Part.On == setup.OnSpindle || c.Part.AtKingpin }

// AroundKingpin reports whether the kingpin goes through the plate, so that paper is laid on by it.
func (c *Cut) AroundKingpin() bool { return c.AtKingpin() && planar.Inside(c.Before, r2.Point{}) }

// Bounds returns the rectangle that a drawing of a cut has to show, in the plate's plane: about the whole plate, and its kingpin.
func (c *Cut) Bounds() r2.Rect {
	box := r2.RectFromPoints(c.Before...)
	if c.AtKingpin() {
		box = box.AddPoint(r2.Point{})
	}
	return box
}

// Past is why ground metal stops the wheels only past the target.
type Past int

const (
	NotPast    Past = iota
	PastNarrow      // metal that would be met nearer the target is too narrow for a stop, and is ground away too
	PastBrush       // metal that would be met nearer the target would only be brushed past, and is ground away too
	PastGap         // there is no metal that would be met nearer the target
)

// Bite is one connected area of metal to take off.
type Bite struct {
	Rings [][]r2.Point // its outline, then holes
	Area  float64      // mm²
	Depth float64      // furthest that the finished outline stands from the old one there, mm
	At    [2]r2.Point  // where: a point of the one outline and the nearest of the other
	// Towards tells by axis which way it lies from the plate's middle: +1, -1, or 0 for neither.
	Towards [2]int
	Stops   [2]bool // the directions in which its face is the stop
	Clears  []int   // pieces for which metal goes here beyond that for the stop, so that they pass by the clearance
	Tip     bool    // a Tip goes here too
}

// Wall is the metal between the cut and what must stay, mm. NaN where nothing is declared.
type Wall struct {
	Bore, Keep           float64
	LeastBore, LeastKeep float64
	Today                float64 // of a thin wall: how much there is before the cut, where metal comes off
}

// Left returns the lesser wall; NaN where nothing is declared.
func (w Wall) Left() float64 {
	switch {
	case math.IsNaN(w.Bore):
		return w.Keep
	case math.IsNaN(w.Keep):
		return w.Bore
	}
	return math.Min(w.Bore, w.Keep)
}

// Least returns the wall wanted where Left is the wall that is left.
func (w Wall) Least() float64 {
	if w.Left() == w.Bore {
		return w.LeastBore
	}
	return w.LeastKeep
}

// Thin reports whether less is left than must be.
func (w Wall) Thin() bool { return w.Bore < w.LeastBore || w.Keep < w.LeastKeep }

// LeastWall returns the least wall about the bore of a part, mm: the file's or, where it gives none, what
// EN 1993-1-8:2005, table 3.9, asks of the end of a plate that a pin pulls at where its shape follows from the
// hole (type B: 1.6 hole diameters; the figure read in a textbook's copy of the table, that it runs from the hole's centre:
// memory), since a kingpin pushes every way; and never under 5 mm (common practice, no source).
func LeastWall(p *setup.Part) float64 { return cmp.Or(p.MinWall, math.Max(5, 1.1*p.Bore)) }

const steel = 7850 // kg/m³

// conservation is by how much the areas removed and kept together may differ from the whole, as a share of it.
const conservation = 1e-6

// gaps returns how far a plate is to stay clear of an obstacle in a direction, mm; NaN where it is not cut for it.
type gaps func(obstacle int, d sweep.Direction) float64

// cut returns what must come off a plate for its obstacles to pass while the column turns from straight ahead to either end.
func (p *plate) cut(ends [2]s1.Angle, gap gaps, chord float64) (*Cut, error) {
	c := p.whole()
	all, hit, err := p.areas(ends, gap, chord)
	if err != nil {
		return nil, err
	}
	c.Obstacles = hit
	if len(all) == 0 {
		return c, nil
	}
	left, err := p.metal.Less(all...)
	if err != nil {
		return nil, err
	}
	if err := p.take(c, left, chord); err != nil {
		return nil, err
	}
	if c.slight(gap) {
		return p.whole(), nil
	}
	return c, nil
}

// spoiled returns why a cut, or the error in place of one, leaves too little metal; nil where it leaves enough. other is any other error.
func (p *plate) spoiled(c *Cut, err error) (bad *Most, other error) {
	switch {
	case errors.Is(err, errGone):
		return &Most{Reason: ByMetal, Cut: p.whole()}, nil
	case err == nil && c.Wall.Thin():
		return &Most{Reason: ByWall, Cut: c}, nil
	}
	return nil, err
}

// slight reports whether a cut is made only to keep gaps, and is no deeper than gaps are known to.
func (c *Cut) slight(gap gaps) bool {
	for _, o := range c.Obstacles {
		for _, d := range sweep.Directions {
			if gap(o, d) == 0 {
				return false
			}
		}
	}
	return c.Depth <= setup.GapKnown
}

// areas returns what the obstacles that meet the plate's metal sweep in its plane, and which they are.
func (p *plate) areas(ends [2]s1.Angle, gap gaps, chord float64) (all []region.Region, hit []int, err error) {
	for _, other := range p.others {
		areas, err := p.sweptBoth(other, ends, gap, chord)
		if err != nil {
			return nil, nil, err
		}
		for _, a := range areas {
			common, err := p.metal.Common(a)
			if err != nil {
				return nil, nil, err
			}
			if common.Area() > leastArea {
				all, hit = append(all, areas...), append(hit, other)
				break
			}
		}
	}
	return all, hit, nil
}

// sweptBoth is swept on the ways from straight ahead to both ends.
func (p *plate) sweptBoth(other int, ends [2]s1.Angle, gap gaps, chord float64) (areas []region.Region, err error) {
	left, right := gap(other, sweep.ToLeft), gap(other, sweep.ToRight)
	if left == right {
		return p.swept(other, ends[sweep.ToRight], ends[sweep.ToLeft], left, chord)
	}
	for d, g := range [2]float64{left, right} {
		if math.IsNaN(g) {
			continue
		}
		one, err := p.swept(other, 0, ends[d], g, chord)
		if err != nil {
			return nil, err
		}
		areas = append(areas, one...)
	}
	return areas, nil
}

// whole returns a cut that takes nothing off.
func (p *plate) whole() *Cut {
	piece := &p.model.Scene.Pieces[p.piece]
	return &Cut{Piece: p.piece, Part: piece.Part, Before: p.flat.Outline, After: p.flat.Outline, Left: p.metal.Area(), Share: 1,
		Width: math.NaN(), LeastWide: p.width, Root: p.root, Wall: Wall{Bore: math.NaN(), Keep: math.NaN()}, Clearance: math.NaN(),
		StopDepth: [2]float64{math.NaN(), math.NaN()}, alone: [2]float64{math.NaN(), math.NaN()}}
}

// leastArea is the area that counts as metal, mm²: less is rounding of outlines.
const leastArea = 1e-4

// take fills in a cut from the metal that is left. Points are left out of its outline as far as it stays within half of chord, mm. The error is
// errGone or errHole where there can be no such cut, or one of polygon work.
func (p *plate) take(c *Cut, left region.Region, chord float64) error {
	if err := p.shape(c, left, chord); err != nil {
		return err
	}
	kept := region.Of(c.After)
	removed, err := p.metal.Minus(kept)
	if err != nil {
		return err
	}
	c.Area, c.Left = removed.Area(), kept.Area()
	whole := p.metal.Area()
	if math.Abs(c.Area+c.Left-whole) > conservation*whole+c.eases(chord) {
		return errors.New("the cut does not add up: what is removed and what is kept are not the whole plate")
	}
	c.Share = c.Left / whole
	c.Mass = c.Area * (p.flat.Upper - p.flat.Lower) * cmp.Or(c.Part.Density, steel) * 1e-9
	c.bites(removed)
	return nil
}

// shape is take that fills in the outline and the walls alone.
func (p *plate) shape(c *Cut, left region.Region, chord float64) error {
	if err := p.keep(c, left, chord); err != nil {
		return err
	}
	c.wall()
	return nil
}

// eases returns by how much the area may be off for want of the points that smooth leaves out, at the most, mm².
func (c *Cut) eases(chord float64) (area float64) {
	for _, f := range c.faces() {
		area += f[1].Sub(f[0]).Norm() * (leastEdge + chord/2)
	}
	return area
}

// keep fills in the finished outline: that of the piece about the kingpin or about what must be kept, else of the largest that is left.
func (p *plate) keep(c *Cut, left region.Region, chord float64) error {
	var best [][]r2.Point
	pieces := left.Pieces()
	for i := range pieces {
		piece := slices.DeleteFunc(pieces[i], func(ring []r2.Point) bool { return math.Abs(planar.Area(ring)) < leastArea })
		if pieces[i] = piece; len(piece) > 0 && (best == nil || cmp.Or(c.rank(piece[0])-c.rank(best[0]), cmp.Compare(netArea(piece), netArea(best))) > 0) {
			best = piece
		}
	}
	switch {
	case best == nil || c.rank(best[0]) < c.rank(c.Before):
		return errGone
	case len(best) > 1:
		return fmt.Errorf("%s: %w", c.Part.Name, errHole)
	}
	for _, piece := range pieces {
		if len(piece) > 0 && &piece[0][0] != &best[0][0] && netArea(piece) > math.Abs(planar.Area(c.Fallen)) {
			c.Fallen = piece[0]
		}
	}
	// Where two cuts meet they leave needles of no width, which a sweep would catch on.
	c.After = smooth(planar.Unspiked(best[0], chord), c.Before, chord)
	return nil
}

// netArea returns the area of a piece, an outline and its holes, mm².
func netArea(piece [][]r2.Point) float64 {
	sum := math.Abs(planar.Area(piece[0]))
	for _, hole := range piece[1:] {
		sum -= math.Abs(planar.Area(hole))
	}
	return sum
}

// rank returns how much of what the part hangs on lies within an outline: 2 for anything that must be kept, 1 for the kingpin or the column
// that it stands about.
func (c *Cut) rank(outline []r2.Point) (rank int) {
	if slices.ContainsFunc(c.Part.Keep, func(p r2.Point) bool { return planar.Inside(outline, p) }) {
		rank += 2
	}
	if (c.AtKingpin() || c.Part.On == setup.OnColumn) && planar.Inside(outline, r2.Point{}) {
		rank++
	}
	return rank
}

// refit returns the setup of a model with the cuts made: a part that stands on both sides and is cut becomes one for each.
func refit(m *sweep.Model, cuts []*Cut) *setup.Setup {
	s, changed := m.Setup, *m.Setup
	changed.Parts = nil
	for i, part := range s.Parts {
		both := part.Sides == [2]bool{true, true}
		var own [2]*Cut
		for _, c := range cuts {
			if c.Part == &s.Parts[i] {
				own[m.Scene.Pieces[c.Piece].Side] = c
			}
		}
		if own == ([2]*Cut{}) {
			changed.Parts = append(changed.Parts, part)
			continue
		}
		for _, side := range setup.Sides {
			one, cut := part, own[side]
			if both {
				one.Sides = [2]bool{side == setup.Left, side == setup.Right}
			}
			if cut != nil {
				plate := *part.Plate
				plate.Outline = cut.After
				one.Plate = &plate
			}
			if both || cut != nil {
				changed.Parts = append(changed.Parts, one)
			}
		}
	}
	return &changed
}
