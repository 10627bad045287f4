package wording

import (
	"fmt"
	"math"
	"strings"

	"github.com/golang/geo/r2"

	"locksweep/geometry/grind"
	"locksweep/geometry/neck"
	"locksweep/geometry/setup"
)

// CutLine says what comes off a plate.
func CutLine(p *grind.Plan, c *grind.Cut) string {
	m, u := p.Model, p.Model.Setup.Unit
	deep := Length(u, c.Depth) + " deep at the deepest,"
	if Apart(c) {
		deep = strings.Join(placesOff(p, c, true), "; ") + "; in all"
	}
	text := fmt.Sprintf("%s: %s %s, %s", Piece(m, c.Piece), deep, area(u, c.Area), mass(u, c.Mass))
	if c.Fallen != nil {
		text += "; part of it is cut off whole"
	}
	return text
}

// CornersLine says how the inner corners of a cut are made; empty where none is too sharp.
func CornersLine(u setup.Unit, c *grind.Cut) string {
	at := func(which func(k grind.Corner) (r2.Point, bool)) string {
		var list []string
		for _, k := range c.Corners {
			if q, is := which(k); is {
				list = append(list, planPoint(u, q))
			}
		}
		return joined(list)
	}
	if !c.Eased {
		if sharp := at(func(k grind.Corner) (r2.Point, bool) { return k.At, true }); sharp != "" {
			return "the inner corner at " + sharp + " cannot be made round, or the stop would come elsewhere: leave no scratch in it and look there for cracks"
		}
		return ""
	}
	var said []string
	if drill := at(func(k grind.Corner) (r2.Point, bool) { return k.Hole, k.Drill }); drill != "" {
		said = append(said, CornerDrill(u)+" first with its middle at "+drill+", then grind up to it: a disc leaves that inner corner sharp")
	}
	if file := at(func(k grind.Corner) (r2.Point, bool) { return k.At, !k.Drill }); file != "" {
		said = append(said, "ease the inner corner at "+file+" with a round file, Ø "+roundSize(u)+", just up to the corner: sharp it cracks")
	}
	return strings.Join(said, "; ")
}

// CornerDrill says what inner corners are drilled with: "drill Ø 5 mm".
func CornerDrill(u setup.Unit) string { return "drill Ø " + roundSize(u) }

func roundSize(u setup.Unit) string {
	if u == setup.Inch {
		return "3/16 in"
	}
	return u.Say(grind.CornerRound(u))
}

// LeftLine says what is left of a plate.
func LeftLine(u setup.Unit, c *grind.Cut) string {
	text := fmt.Sprintf("%s left of %s (%s %%)", area(u, c.Left), area(u, c.Left+c.Area), Fixed(100*c.Share, 0))
	if math.IsNaN(c.Width) {
		return text
	}
	return text + fmt.Sprintf(", %s wide at the least from where it is touched to where it hangs on (%s), at least %s wanted", Length(u, c.Width), rootLine(u, &c.Root), Length(u, c.LeastWide))
}

// RootsTaken says what the plates that are ground and are the stop are taken to hang on, where the file does not say; empty where it does.
func RootsTaken(p *grind.Plan) string {
	said := InTurn(p.Cuts, func(c *grind.Cut) string {
		if c.Stops == [2]bool{} || !c.Root.Assumed || c.Root.Kingpin {
			return ""
		}
		u := p.Model.Setup.Unit
		return fmt.Sprintf("the %s is taken to hang on its edge from %s to %s", Piece(p.Model, c.Piece), planPoint(u, c.Root.Edge[0]), planPoint(u, c.Root.Edge[1]))
	}, func(c *grind.Cut) string { return "the " + Piece(p.Model, c.Piece) + " likewise" })
	if len(said) == 0 {
		return ""
	}
	return "the file gives no root, so " + strings.Join(said, ", ") + "; the width that is left is judged up to there"
}

// rootLine says what a plate hangs on.
func rootLine(u setup.Unit, r *neck.Root) string {
	text := "its edge from " + planPoint(u, r.Edge[0]) + " to " + planPoint(u, r.Edge[1])
	if r.Kingpin {
		text = "its middle, about the kingpin"
	}
	if r.Assumed {
		text += "; assumed, no root is given"
	}
	return text
}

// PassLine says what a plate is cut for and how it passes it.
func PassLine(p *grind.Plan, c *grind.Cut) string {
	var past []string
	for _, o := range c.Obstacles {
		past = append(past, Piece(p.Model, o))
	}
	text := "cut for " + strings.Join(past, ", ")
	if c.Stops != [2]bool{} && !Apart(c) {
		text += ", and the stop: it touches there"
	}
	if !math.IsNaN(c.Passes) && !math.IsInf(c.Passes, 1) {
		text += ", passing what it does not stop at " + Length(p.Model.Setup.Unit, c.Passes)
		if c.Stops == [2]bool{} {
			text = "cut for " + strings.Join(past, ", ") + ", passing at " + Length(p.Model.Setup.Unit, c.Passes)
		}
	}
	return text
}

// WallLine says what is left about bore and keep outline, no finer than it is known.
func WallLine(p *grind.Plan, c *grind.Cut) string {
	u, w := p.Model.Setup.Unit, &c.Wall
	if math.IsNaN(w.Left()) {
		return "no bore or keep outline given, so the wall that is left is not checked"
	}
	left := Length(u, w.Left())
	if p.Model.Setup.Accuracy.Given {
		by := p.WallPlusMinus(c)
		left = noFiner(left, " "+u.String(), u.FromMM(by)) + " ±" + Length(u, by)
	}
	return fmt.Sprintf("%s of metal left between the cut and the %s, at least %s wanted", left, wallTo(w), Length(u, w.Least()))
}

// UnsurePlan says which margins of the vehicle with the cuts, as Unsure, and which walls that they leave are smaller than what they may be off
// by, so that they may be none.
func UnsurePlan(p *grind.Plan) (lines []string) {
	if !p.Model.Setup.Accuracy.Given {
		return nil
	}
	if p.Sure != nil {
		lines = Unsure(p.Sure)
	}
	u := p.Model.Setup.Unit
	for _, c := range unsureWalls(p) {
		lines = append(lines, fmt.Sprintf("the wall that the cut of the %s leaves to its %s, %s, is not sure: it may be off by ±%s, so there may be none",
			Piece(p.Model, c.Piece), wallTo(&c.Wall), Length(u, c.Wall.Left()), Length(u, p.WallPlusMinus(c))))
	}
	return lines
}

// DoubtOfPlan is UnsurePlan in a line, for drawings; empty where all is sure.
func DoubtOfPlan(p *grind.Plan) string {
	if !p.Model.Setup.Accuracy.Given {
		return ""
	}
	var said []string
	if p.Sure != nil {
		said = unsureShort(p.Sure)
	}
	u := p.Model.Setup.Unit
	walls := InTurn(unsureWalls(p), func(c *grind.Cut) string {
		return fmt.Sprintf("wall of the %s to its %s %s ± %s", Piece(p.Model, c.Piece), wallTo(&c.Wall), Length(u, c.Wall.Left()), Length(u, p.WallPlusMinus(c)))
	}, func(*grind.Cut) string { return "right the same" })
	return doubt(append(said, walls...))
}

// unsureWalls are the cuts that leave a wall which is smaller than what it may be off by.
func unsureWalls(p *grind.Plan) (cuts []*grind.Cut) {
	for _, c := range p.Cuts {
		if left := c.Wall.Left(); left > 0 && p.WallPlusMinus(c) >= left {
			cuts = append(cuts, c)
		}
	}
	return cuts
}

// WallShort is WallLine for where there is little room.
func WallShort(u setup.Unit, w *grind.Wall) string {
	if math.IsNaN(w.Left()) {
		return "wall not checked"
	}
	return Length(u, w.Left()) + " left to the " + wallTo(w)
}

func wallTo(w *grind.Wall) string {
	if w.Left() == w.Bore {
		return "bore"
	}
	return "keep outline"
}

// area says an area, given in mm², in mm² or in square inches.
func area(u setup.Unit, mm2 float64) string {
	if u == setup.Inch {
		return Fixed(mm2/setup.MMPerInch/setup.MMPerInch, 3) + " sq in"
	}
	return Fixed(mm2, 0) + " mm²"
}

// mass says a mass in grams or, beside inches, in ounces.
func mass(u setup.Unit, kg float64) string {
	const ounce = 0.028349523125 // kg, the avoirdupois ounce (exact by definition; memory)
	if u == setup.Inch {
		return Fixed(kg/ounce, 2) + " oz"
	}
	return Fixed(1000*kg, 0) + " g"
}
