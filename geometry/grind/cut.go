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
	Fallen    []r2.Point // outline of the largest piece that is cut off whole; nil where none is
	Area      float64    // of all metal that comes off, mm²
	Mass      float64    // likewise, kg
	Depth     float64    // of the deepest bite, mm
	StopDepth [2]float64 // by direction, where ground metal of it is the stop: how deep it is there, mm; else NaN
	Faces     [2]Face    // likewise, what other metal meets
	Left      float64    // area that is left, mm²
	Share     float64    // of the whole that is left, 0 to 1
	Width     float64    // least width from where it is touched to the root, of a plate that is the stop, mm; else NaN
	LeastWide float64    // that counts as a stop, mm
	Root      neck.Root  // what the plate hangs on
	Stops     [2]bool    // the directions in which it is the stop
	Past      Past       // why the wheels go past the target before they are stopped
	Wall      Wall       // metal left between the cut and what must stay
	Clearance float64    // least gap that the fresh sweep finds within the new lock between the plate and what it was cut for, mm
	Passes    float64    // likewise, what it stops left out; NaN where there is nothing else
	Obstacles []int      // pieces that it is cut for
	Sights    []Sight    // of them at the target
	Corners   []Corner   // inner corners that are too sharp
	Eased     bool       // they may be made round: a fresh sweep finds locks and stops the same then
	Tips      []Tip      // thin metal that the cut would leave
	Catches   bool       // metal beside the face of the stop stands nearer to what is stopped than outlines are known, and may not be taken off
	alone     [2]float64 // StopDepth of what goes for the stop alone: that of the curve
}

// AtKingpin reports whether the plate's plane is that of a kingpin, with its origin there.
func (c *Cut) AtKingpin() bool { return c.Part.On == setup.OnSpindle || c.Part.AtKingpin }

// AroundKingpin reports whether the kingpin goes through the plate, so that paper is laid on by it.
func (c *Cut) AroundKingpin() bool { return c.AtKingpin() && planar.Inside(c.Before, r2.Point{}) }

// Bounds is what must be seen of a cut in the plate's plane: the plate, whole, and its kingpin.
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
	PastNarrow      // what would be left nearer the target is too narrow, and is ground away too
	PastBrush       // what would be left nearer the target would only be brushed, and is ground away too
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
	Clears  []int   // pieces for which it takes more than a stop asks for, so as to pass them by the clearance
	Tip     bool    // it takes a Tip too
}

// Wall is the metal between the cut and what must stay, mm. NaN where nothing is declared.
type Wall struct {
	Bore, Keep           float64
	LeastBore, LeastKeep float64
	Today                float64 // where it is thin: the one of Left before the cut, where metal comes off
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

// conservation is how far removed and kept may differ from the whole, as a share of it.
const conservation = 1e-6

// gaps says how far a plate is to stay clear of an obstacle in a direction, mm; NaN where it is not cut for it.
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

// spoiled says of a cut, or of the error that there was, why it leaves too little metal; nil where it does not.
func (p *plate) spoiled(c *Cut, err error) (bad *Most, other error) {
	switch {
	case errors.Is(err, errGone):
		return &Most{Reason: ByMetal, Cut: p.whole()}, nil
	case err == nil && c.Wall.Thin():
		return &Most{Reason: ByWall, Cut: c}, nil
	}
	return nil, err
}

// slight reports whether a cut takes less than gaps are known to, and only to leave some.
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

// areas returns what is swept of the plate's plane by the obstacles that meet its metal, and which they are.
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

// sweptBoth is swept from straight ahead to either end.
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

// whole is a cut that takes nothing off.
func (p *plate) whole() *Cut {
	piece := &p.model.Scene.Pieces[p.piece]
	return &Cut{Piece: p.piece, Part: piece.Part, Before: p.flat.Outline, After: p.flat.Outline, Left: p.metal.Area(), Share: 1,
		Width: math.NaN(), LeastWide: p.width, Root: p.root, Wall: Wall{Bore: math.NaN(), Keep: math.NaN()}, Clearance: math.NaN(),
		StopDepth: [2]float64{math.NaN(), math.NaN()}, alone: [2]float64{math.NaN(), math.NaN()}}
}

// leastArea is the area that counts as metal, mm²: less is rounding of outlines.
const leastArea = 1e-4

// take fills in a cut by the area that is left, its outline by no more points than keep within half a chord error of it. The error is
// errGone or errHole where that cannot be, or one of polygon work.
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
	if whole := p.metal.Area(); math.Abs(c.Area+c.Left-whole) > conservation*whole+c.eases(chord) {
		return errors.New("the cut does not add up: what is removed and what is kept are not the whole plate")
	} else {
		c.Share = c.Left / whole
	}
	c.Mass = c.Area * (p.flat.Upper - p.flat.Lower) * cmp.Or(c.Part.Density, steel) * 1e-9
	c.bites(removed)
	return nil
}

// shape is take for the outline and the walls alone.
func (p *plate) shape(c *Cut, left region.Region, chord float64) error {
	if err := p.keep(c, left, chord); err != nil {
		return err
	}
	c.wall()
	return nil
}

// eases returns the most, mm², that fewer points of the edges which the cut made may take or add: what smooth allows, all along them.
func (c *Cut) eases(chord float64) (area float64) {
	for _, f := range c.faces() {
		area += f[1].Sub(f[0]).Norm() * (leastEdge + chord/2)
	}
	return area
}

// keep chooses what stays of the metal that is left: the piece about the kingpin or about what must be
// kept, else the largest.
func (p *plate) keep(c *Cut, left region.Region, chord float64) error {
	var best [][]r2.Point
	pieces := left.Pieces()
	for i := range pieces {
		piece := slices.DeleteFunc(pieces[i], func(ring []r2.Point) bool { return math.Abs(planar.Area(ring)) < leastArea })
		if pieces[i] = piece; len(piece) == 0 {
			continue
		}
		if best == nil || c.rank(piece) > c.rank(best) || c.rank(piece) == c.rank(best) && netArea(piece) > netArea(best) {
			best = piece
		}
	}
	switch {
	case best == nil || c.rank(best) < rankOf(c.Before, c.Part):
		return errGone
	case len(best) > 1:
		return fmt.Errorf("%s: %w", c.Part.Name, errHole)
	}
	for _, piece := range pieces {
		if len(piece) > 0 && &piece[0][0] != &best[0][0] && netArea(piece) > math.Abs(planar.Area(c.Fallen)) {
			c.Fallen = piece[0]
		}
	}
	c.After = smooth(best[0], c.Before, chord)
	return nil
}

func netArea(piece [][]r2.Point) (sum float64) {
	for i, ring := range piece {
		if i == 0 {
			sum += math.Abs(planar.Area(ring))
		} else {
			sum -= math.Abs(planar.Area(ring))
		}
	}
	return sum
}

func (c *Cut) rank(piece [][]r2.Point) int { return rankOf(piece[0], c.Part) }

// rankOf tells how much of what a part hangs on lies within an outline: any of what must be kept, and
// the kingpin of what stands about it.
func rankOf(outline []r2.Point, part *setup.Part) (rank int) {
	if slices.ContainsFunc(part.Keep, func(p r2.Point) bool { return planar.Inside(outline, p) }) {
		rank += 2
	}
	if (part.On == setup.OnSpindle || part.AtKingpin || part.On == setup.OnColumn) && planar.Inside(outline, r2.Point{}) {
		rank++
	}
	return rank
}

// refit returns the setup with every cut made: a part that stands on both sides becomes one for each.
func refit(s *setup.Setup, m *sweep.Model, cuts []*Cut) *setup.Setup {
	changed := *s
	changed.Parts = nil
	for i := range s.Parts {
		part := s.Parts[i]
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
			if !both && own[side] == nil {
				continue
			}
			one := part
			if both {
				one.Sides = [2]bool{side == setup.Left, side == setup.Right}
			}
			if own[side] != nil {
				plate := *part.Plate
				plate.Outline = own[side].After
				one.Plate = &plate
			}
			changed.Parts = append(changed.Parts, one)
		}
	}
	return &changed
}
