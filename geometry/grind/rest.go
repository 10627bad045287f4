package grind

import (
	"github.com/golang/geo/r2"
	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/neck"
	"locksweep/geometry/planar"
	"locksweep/geometry/region"
)

// rootOf returns what a plate hangs on.
func (p *plate) rootOf() neck.Root {
	pieces := p.model.Scene.Pieces
	if o := p.mover(); o >= 0 {
		return p.model.RootOf(&pieces[p.piece], &pieces[o])
	}
	return neck.RootOf(&pieces[p.piece], func() r2.Point { return r2.Point{} })
}

// mover returns the moving piece that the plate stops first or else the first that may hit it; -1 for none.
func (p *plate) mover() (pick int) {
	if p.stops >= 0 {
		return p.stops
	}
	pick = -1
	pieces := p.model.Scene.Pieces
	for _, o := range p.others {
		if pieces[o].Body != linkage.Frame && (pick < 0 || pieces[o].Solid() && !pieces[pick].Solid()) {
			pick = o
		}
	}
	return pick
}

// rest looks at what is left of the plate inside an outline.
func (p *plate) rest(after []r2.Point) (neck.Metal, error) {
	return neck.New(after, p.root, p.model.Scene.Pieces[p.piece].Part.Bore)
}

// neck returns the least width of metal on the way from what of the plate, inside an outline, an obstacle meets at a column angle to
// the plate's root, mm.
func (p *plate) neck(outline []r2.Point, obstacle int, column s1.Angle) (float64, error) {
	r, err := p.rest(outline)
	if err != nil {
		return 0, err
	}
	patch, err := p.patch(&r, obstacle, column)
	if err != nil {
		return 0, err
	}
	return r.Width(planar.NewNearest(neck.Edges(patch)))
}

// patch returns the metal of what is left that an obstacle meets next beyond a column angle, signed.
func (p *plate) patch(left *neck.Metal, obstacle int, column s1.Angle) (region.Region, error) {
	pieces := p.model.Scene.Pieces
	return p.model.MetAhead(left, &pieces[p.piece], &pieces[obstacle], column)
}
