package grind

import (
	"math"
	"strings"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
)

// WallPlusMinus returns by how much the wall that a cut leaves may be off either way, mm, by the accuracies of the setup: 1.96 standard
// uncertainties, which hold 95 of a hundred. The wall lies between the outline of the plate and that of what it is cut for, each of which may be off
// as a whole; of several obstacles the least exact counts. At a bore half of what its diameter may be off comes on top.
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

// outlinesOff returns by how much the distance between metal of two outlines may be off either way, mm: 1.96 standard uncertainties of three
// evenly distributed errors, of which own, other and more are the limits.
func outlinesOff(own, other, more float64) float64 {
	return 1.959964 * math.Sqrt((own*own+other*other+more*more)/3)
}

// outlineOf returns how exact the outline of a piece, or the path of a tube, is along the less exact of its axes, either way, mm.
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

// accuracyOf returns how exact a figure with a key is or, where the key is but the beginning, the points of an outline or path: the least exact of
// them. Where there is no such reading it returns other.
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
