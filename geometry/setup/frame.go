package setup

import (
	"fmt"
	"math"
	"slices"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/region"
)

// Strip is what narrowing takes out of the middle of a frame from front to rear: Front wide at the kingpins and ahead of
// them, Rear wide at the rear axle and behind it, tapering straight between. A negative width is set in.
type Strip struct {
	Front, Rear float64 // mm
	Wheelbase   float64 // before any cut, mm
}

// Width is the strip's width at x (vehicle axes), mm; negative where it is set in.
func (t Strip) Width(x float64) float64 {
	back := min(max(-x/t.Wheelbase, 0), 1)
	return t.Front + back*(t.Rear-t.Front)
}

// narrowed returns the y of a point at x, y (vehicle axes, mm) in the narrowed frame: sign(y)·max(|y| - width/2, 0).
func (t Strip) narrowed(x, y float64) float64 {
	half := t.Width(x) / 2
	switch {
	case y > 0:
		return max(y-half, 0)
	case y < 0:
		return min(y+half, 0)
	}
	return y
}

// holds reports whether a point at x, y lies within the strip, its edge included.
func (t Strip) holds(x, y float64) bool {
	half := t.Width(x) / 2
	return half > 0 && y <= half && y >= -half
}

// Length is what shortening takes out of a frame: all between the cut at x = At (vehicle axes) and the one Out behind
// it. What is behind comes forward by Out. A negative Out is set in at At.
type Length struct {
	At, Out float64 // mm
}

// rear is x of the rear cut, mm.
func (l Length) rear() float64 { return l.At - l.Out }

// FrameCut is what a change does to the frame, in the axes of the frame before it.
type FrameCut struct {
	Strip  Strip
	Length Length
	Parts  []PartCut // the frame parts that are not at a kingpin, in the order of the file
	Foot   Fate      // of the column's foot
	After  int       // how many of Setup.Changes were made before it
}

// Fate is what becomes of a piece of the frame.
type Fate int

const (
	Stays    Fate = iota
	Moves         // as it is
	Reshaped      // not cut, but its points move by different amounts
	Cut           // through
	Remade        // lies wholly within the strip: left where it was, to be made anew
	Lost          // lies wholly between the two cuts
)

// PartCut is what becomes of one part of the frame.
type PartCut struct {
	Name                string
	Sides               [2]bool
	Narrowed, Shortened Fate
	Tube                *TubeCut // nil where it is no tube
	Before              Part     // as it was
}

// TubeCut is the cut list of one tube: lengths along its centre line, mm, from its front end (of two ends as far
// forward the left one).
type TubeCut struct {
	Old, New float64
	Left     bool // measured from the left end, both being as far forward
	Pieces   int
	Out      []Stretch
}

// Stretch is what is cut out of a tube, or, where From and To are the same, where a piece is set in.
type Stretch struct {
	From, To float64
	Apart    float64 // of the two ends afterwards: what they miss each other by, or the length of what is set in
}

// Fits reports whether the pieces make the new tube as they are, to less than a millimetre, which a weld bridges.
func (t *TubeCut) Fits() bool {
	left := t.Old
	for _, o := range t.Out {
		left += o.Apart - (o.To - o.From)
	}
	return math.Abs(left-t.New) < 1
}

// SetIn reports whether nothing is cut out there and a piece is set in.
func (o Stretch) SetIn() bool { return o.To-o.From < samePoint }

// Metal is how long the pieces are together, with what is set in, before any of them is bent, mm.
func (t *TubeCut) Metal() float64 {
	left := t.Old
	for _, o := range t.Out {
		if left -= o.To - o.From; o.SetIn() {
			left += o.Apart
		}
	}
	return left
}

// cutFrame takes strip and length out of every frame part and moves the column's foot with what carries it.
func (s *Setup) cutFrame(strip Strip, length Length) error {
	cut := &FrameCut{Strip: strip, Length: length, After: len(s.Changes)}
	var parts []Part
	for _, p := range s.Parts {
		if p.On != OnFrame || p.AtKingpin {
			parts = append(parts, p)
			continue
		}
		pieces, did, err := cut.part(p)
		if err != nil {
			return fmt.Errorf("the part %q: %w", Printable(p.Name), err)
		}
		cut.Parts = append(cut.Parts, did)
		parts = append(parts, s.named(p, pieces)...)
	}
	s.Parts = parts
	s.Column.Foot, cut.Foot = cut.point(s.Column.Foot)
	s.Frame = cut
	return nil
}

// named gives the second and further pieces of a part names of their own, and ignores for them what is ignored for the part.
func (s *Setup) named(p Part, pieces []Part) []Part {
	for i := 1; i < len(pieces); i++ {
		pieces[i].Name = fmt.Sprintf("%s, piece %d", p.Name, i+1)
		for _, pair := range slices.Clone(s.Ignore) {
			if k := slices.Index(pair[:], p.Name); k >= 0 {
				pair[k] = pieces[i].Name
				s.Ignore = append(s.Ignore[:len(s.Ignore):len(s.Ignore)], pair)
			}
		}
	}
	return pieces
}

// part returns the pieces that are left of one part of the frame, all of its name, and what became of it.
func (c *FrameCut) part(p Part) (pieces []Part, did PartCut, err error) {
	did = PartCut{Name: p.Name, Sides: p.Sides, Before: p}
	switch {
	case p.Tube != nil:
		var tubes [][]r3.Vector
		tubes, did.Tube = c.tube(p.Tube.Path, &did)
		for _, path := range tubes {
			q := p
			q.Tube = &Tube{Diameter: p.Tube.Diameter, Path: path}
			pieces = append(pieces, q)
		}
	case p.Plate != nil:
		var outlines [][]r2.Point
		if outlines, did.Narrowed, did.Shortened, err = c.plate(p.Plate.Outline); err != nil {
			return nil, did, err
		}
		for _, o := range outlines {
			q := p
			q.Plate = &Plate{Outline: o, Lower: p.Plate.Lower, Upper: p.Plate.Upper}
			pieces = append(pieces, q)
		}
		if len(p.Keep) > 0 {
			err = c.keep(p.Keep, pieces)
		}
	case p.Disc != nil:
		p.Disc = copied(p.Disc)
		p.Disc.Centre, did.Narrowed, did.Shortened = c.centre(p.Disc.Centre)
		if did.Shortened != Lost {
			pieces = append(pieces, p)
		}
	}
	return pieces, did, err
}

// Moved reports whether the part is left otherwise than it was.
func (p *PartCut) Moved() bool { return p.Narrowed != Stays || p.Shortened != Stays }

// uncut puts the parts of the frame back as they were before it was cut, behind all others.
func (s *Setup) uncut() {
	s.Parts = slices.DeleteFunc(slices.Clone(s.Parts), func(p Part) bool { return p.On == OnFrame && !p.AtKingpin })
	for i := range s.Frame.Parts {
		s.Parts = append(s.Parts, s.Frame.Parts[i].Before)
	}
}

// keep gives each piece of a plate what it has of the metal that must stay.
func (c *FrameCut) keep(keep []r2.Point, pieces []Part) error {
	kept, _, _, err := c.plate(keep)
	if err != nil {
		return err
	}
	for i := range pieces {
		pieces[i].Keep = nil
		for _, k := range kept {
			shared, err := region.Of(pieces[i].Plate.Outline).Common(region.Of(k))
			if err != nil {
				return err
			}
			if shared.Area() > 0 {
				pieces[i].Keep = k
			}
		}
	}
	return nil
}

// centre moves a point (vehicle axes, mm), and says what narrowing and shortening do to a piece that has its middle there. A point
// between the cuts is left where narrowing put it.
func (c *FrameCut) centre(p r3.Vector) (moved r3.Vector, narrowed, shortened Fate) {
	switch y := c.Strip.narrowed(p.X, p.Y); {
	case c.Strip.holds(p.X, p.Y):
		narrowed = Remade
	case y != p.Y:
		p.Y, narrowed = y, Moves
	}
	switch behind := p.X < c.Length.At; {
	case c.Length.Out == 0 || !behind:
	case p.X > c.Length.rear():
		shortened = Lost
	default:
		p.X, shortened = p.X+c.Length.Out, Moves
	}
	return p, narrowed, shortened
}

// point moves the column's foot. On the middle line it stands in a narrowed frame as before.
func (c *FrameCut) point(p r3.Vector) (moved r3.Vector, fate Fate) {
	moved, narrowed, shortened := c.centre(p)
	switch {
	case shortened == Lost:
		return moved, Lost
	case narrowed == Remade && p.Y != 0:
		return moved, Remade
	case moved != p:
		return moved, Moves
	}
	return moved, Stays
}
