package grind

import (
	"math"
	"strings"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
)

// WallPlusMinus is by how much the wall that a cut leaves may be off either way, mm, as far as the accuracies of the setup say: it lies
// between metal of the plate and metal of what the plate is cut for, whose outlines are each off as a whole, along either axis; of several
// obstacles the least exact counts. At a bore half of what its diameter may be off comes on top. It is the half-width that holds 95 of a
// hundred, 1.96 standard uncertainties, as tolerance has it without draws.
func (p *Plan) WallPlusMinus(c *Cut) float64 {
	s, readings := p.Model.Setup, p.Model.Setup.Readings()
	own, other, bore := p.outlineOf(readings, c.Piece), 0.0, 0.0
	for _, o := range c.Obstacles {
		other = math.Max(other, p.outlineOf(readings, o))
	}
	if c.Wall.Left() == c.Wall.Bore {
		bore = accuracyOf(readings, "part."+setup.QuoteKey(c.Part.Name)+".bore", s.Accuracy.Hole) / 2
	}
	return outlinesOff(own, other, bore)
}

// outlinesOff is by how much the distance between metal of two outlines may be off either way, mm.
func outlinesOff(own, other, more float64) float64 {
	return 1.959964 * math.Sqrt((own*own+other*other+more*more)/3)
}

// outlineOf is how exact the outline of a piece, or the path of a tube, is along the less exact of its axes, mm.
func (p *Plan) outlineOf(readings []setup.Reading, piece int) float64 {
	of, key := &p.Model.Scene.Pieces[piece], ""
	switch {
	case of.Part != nil:
		key = "part." + setup.QuoteKey(of.Part.Name) + "."
	case of.Body.IsSpindle():
		key = [2]string{"arm.outline", "right.arm.outline"}[of.Body.Side()]
	case of.Body == linkage.Input:
		key = "drop_arm.outline"
	}
	return accuracyOf(readings, key, p.Model.Setup.Accuracy.Outline)
}

// accuracyOf is the greatest accuracy of the points of an outline or path, or of one figure, whose key begins so; without any it is another.
func accuracyOf(readings []setup.Reading, key string, other float64) float64 {
	most := -1.0
	for i := range readings {
		if r := &readings[i]; r.Key == key || key != "" && strings.HasPrefix(r.Key, key) && strings.Contains(r.Key, "[*]") {
			most = math.Max(most, r.Accuracy)
		}
	}
	if most < 0 {
		return other
	}
	return most
}
