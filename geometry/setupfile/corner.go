package setupfile

import (
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"

	"locksweep/geometry/planar"
	"locksweep/geometry/setup"
)

type cornerTables struct {
	kingpin, wheel, arm, rod, limits *table
}

// cornerTablesOf gets them by their names in the file.
func cornerTablesOf(get func(name string) *table) cornerTables {
	return cornerTables{get("kingpin"), get("wheel"), get("arm"), get("tie_rod"), get("limits")}
}

func (c cornerTables) done() {
	for _, t := range []*table{c.kingpin, c.wheel, c.arm, c.rod, c.limits} {
		t.done()
	}
}

// frontAxle reads the tables of the left corner, then those of the right, which are the left's with
// what stands under right. laid over them.
func (d *decoder) frontAxle(t *table, s *setup.Setup) {
	left := cornerTablesOf(func(name string) *table { return t.get(name).sub() })
	d.shared(left, s)
	s.Corners[setup.Left] = d.corner(left, s)
	s.Corners[setup.Right] = s.Corners[setup.Left].Clone()
	if over := t.get("right").sub(); over.n != nil {
		d.side = setup.Right
		right := cornerTablesOf(func(name string) *table { return t.get(name).sub().under(over.get(name).sub()) })
		s.Corners[setup.Right] = d.corner(right, s)
		d.side = setup.Left
		right.done()
		over.done()
	}
	d.rods(left.rod, s)
	left.done()
}

// under returns the table with another laid over it.
func (t *table) under(over *table) *table {
	if over.n == nil {
		return t
	}
	if t.n == nil {
		t.n, t.at = &node{kind: branch, at: over.n.at}, over.at
	}
	t.n = t.n.merge(over.n, true)
	return t
}

// shared reads what the corner tables say of the whole vehicle.
func (d *decoder) shared(c cornerTables, s *setup.Setup) {
	s.Spacing = c.kingpin.need("spacing", "between the two kingpin centres").size()
	clearance := c.limits.get("clearance")
	s.Limits.Clearance = clearance.lengthOr(setup.DefaultClearance, notNegative)
	if s.Limits.Clearance > setup.GreatestClearance {
		clearance.fail("is %s %v; at most %.4g %v is looked after, and a few millimetres are usual", elide(clearance.n.str), d.unit,
			d.unit.FromMM(setup.GreatestClearance), d.unit)
	}
	s.Limits.Transmission = c.limits.get("transmission").angleOr(setup.DefaultTransmission, notNegative, acute)
}

// refuseShared reports keys under right. that belong to both corners.
func (d *decoder) refuseShared(c cornerTables) {
	refuse := func(t *table, why string, names ...string) {
		for _, name := range names {
			if v := t.get(name); v.own {
				v.fail("%s", why)
			}
		}
	}
	refuse(c.kingpin, "belongs to both corners; give it in [kingpin]", "spacing")
	refuse(c.rod, "is not given here; rod lengths stand in [tie_rod] as left and right", "length", "left", "right")
	refuse(c.limits, "holds for both corners; give it in [limits]", "clearance", "transmission")
}

func (d *decoder) corner(c cornerTables, s *setup.Setup) setup.Corner {
	var out setup.Corner
	d.refuseShared(c)
	out.Wheel = d.wheel(c.wheel)
	out.Kingpin = d.kingpin(c.kingpin, out.Wheel, s)
	out.Arm = d.arm(c.arm, out, s)
	out.Rod = d.rod(c.rod, "tie-rod", s)
	out.Stop = c.limits.get("spindle").angleOr(0, positive, between(0, 180, " degrees either way"))
	return out
}

// leaning is the rule of an angle that a stub axle is set to.
var leaning = between(-45, 45, " degrees")

func (d *decoder) wheel(t *table) setup.Wheel {
	offset := t.need("offset", "kingpin centre to the tyre's mid-plane, along the stub axle")
	lead, toe, camber, shoulder := t.get("lead"), t.get("toe"), t.get("camber"), t.get("tyre_shoulder")
	w := setup.Wheel{
		Offset: offset.length(rule{notNegative.holds, "puts the track inside the kingpins; measure outwards along the stub axle"}),
		Lead:   lead.lengthOr(0),
		Toe:    toe.angleOr(0, leaning),
		Camber: camber.angleOr(0, leaning),
		Tyre: setup.Tyre{
			Diameter: t.need("tyre_diameter", "outer diameter of the front tyre").size(),
			Width:    t.need("tyre_width", "width of the front tyre").size(),
			Shoulder: shoulder.lengthOr(0, notNegative),
		},
	}
	if w.Tyre.Width < 20 {
		t.get("tyre_width").warn("tyre-width", "is only %s; is it in another unit?", d.say(w.Tyre.Width))
	}
	if most := min(w.Tyre.Width, w.Tyre.Diameter) / 2; w.Tyre.Shoulder > most {
		shoulder.fail("is more than half the tyre's width or diameter: at most %s", d.say(most))
	}
	return w
}

// kingpin reads [kingpin] but for the spacing. Where no height is given the stub axle stands at the tyre's radius.
func (d *decoder) kingpin(t *table, w setup.Wheel, s *setup.Setup) setup.Kingpin {
	height, inclination, caster := t.get("height"), t.get("inclination"), t.get("caster")
	radius := w.Tyre.Diameter / 2
	k := setup.Kingpin{Height: height.sizeOr(radius), Inclination: inclination.angleOr(0, acute), Caster: caster.angleOr(0, acute)}
	if !height.given() {
		d.assume(s, "kingpin centre %s above ground, the tyre's radius", d.say(radius))
	}
	wheelCentre := k.Height - w.Offset*math.Sin(float64(w.Camber))
	if height.given() && math.Abs(wheelCentre-radius) > max(15, radius/5) {
		height.warn("kingpin-height", "puts the wheel's centre at %s, but the tyre's radius is %s", d.say(wheelCentre), d.say(radius))
	}
	return k
}

// arm reads [arm]. Kingpin and wheel of the corner are known already.
func (d *decoder) arm(t *table, c setup.Corner, s *setup.Setup) setup.Arm {
	axis := c.Kingpin.Direction()
	a := setup.Arm{Metal: d.metal(t, cornerNames)}
	d.holes(t, &a.Metal, cornerNames, axis, func(h setup.Hole) float64 {
		if !t.get("up").given() {
			d.assume(s, "hole %s of the steering arm: ball level with the kingpin centre, since the arm's faces are not given", quoted(h.Name))
		}
		// p · axis = mid · |axis| for p = [forward, outboard, up]
		return a.Metal.Middle()*axis.Norm() - h.At.X*axis.X - h.At.Y*axis.Y
	})
	pickup := t.need("pickup", "the tie rod's hole, [forward, outboard, up] from the kingpin centre, or a hole's name")
	a.Pickup = pickup.place(a.Metal, cornerNames)
	a.Bolt = t.get("bolt").direction(cornerNames)
	pickup.needLever(c.Kingpin, a.Pickup)
	pickup.suspect(a, c.Wheel, axis)
	return a
}

// needLever refuses a ball of a steering arm on the kingpin axis.
func (v value) needLever(k setup.Kingpin, ball r3.Vector) {
	if k.Lever(ball) < leastLever {
		v.fail("lies on the kingpin axis; a steering arm needs a lever (measure from the kingpin centre to the hole)")
	}
}

// onMetal returns where the hole below a ball goes through the metal's mid plane, as the plan of the metal has
// it: along the axis, a vector whose third co-ordinate is 1. Metal without faces is taken to be level with the ball.
func onMetal(ball r3.Vector, m setup.Metal, axis r3.Vector) r2.Point {
	if m.Upper == m.Lower {
		return r2.Point{X: ball.X, Y: ball.Y}
	}
	down := (m.Middle()*axis.Norm() - ball.Dot(axis)) / axis.Norm2()
	return r2.Point{X: ball.X + down*axis.X, Y: ball.Y + down*axis.Y}
}

// suspect warns of a pickup where hardly any vehicle has it.
func (v value) suspect(a setup.Arm, w setup.Wheel, axis r3.Vector) {
	if face := w.Offset - w.Tyre.Width/2; a.Pickup.Y > face {
		v.warn("pickup-outboard", "lies outboard of the tyre's inner face (%s); inboard of the kingpin is negative", v.d.say(face))
	}
	v.offMetal("arm", cornerAxes[:2], a.Metal, a.Pickup, axis)
}

// offMetal is how far outside an outline a ball or an axis may lie before that is doubted, mm.
const offMetal = 5.0

// offMetal warns of a ball that lies outside the metal that carries it.
func (v value) offMetal(of string, axes []coordinate, m setup.Metal, ball, axis r3.Vector) {
	if len(m.Outline) == 0 {
		return
	}
	from := map[string]string{"arm": "the kingpin centre", "drop arm": "the column's axis"}[of]
	at := onMetal(ball, m, axis)
	if edge := planar.ToEdge(m.Outline, at); edge > offMetal && !planar.Inside(m.Outline, at) {
		doubt := "are both measured from " + from + "?"
		if i, found := flip(m, ball, axis); found {
			doubt = "with the other sign of " + axes[i].name + " it would lie inside: is the sign right? " + axes[i].negative
		}
		v.warn("pickup-off-metal", "lies %s outside the %s's outline; %s", v.d.say(edge), of, doubt)
	}
}

// metal reads outline and faces.
func (d *decoder) metal(t *table, names []string) setup.Metal {
	m := setup.Metal{Outline: t.get("outline").outline(names)}
	if v := t.get("up"); v.given() {
		m.Lower, m.Upper = v.faces()
	}
	return m
}

const maxHoles = 1000

// holes reads the metal's holes, which run along the axis (see onMetal); height gives the ball's height where
// the file does not.
func (d *decoder) holes(t *table, m *setup.Metal, names []string, axis r3.Vector, height func(setup.Hole) float64) {
	all := t.get("holes").items()
	if len(all) > maxHoles {
		t.get("holes").fail("has %d holes; at most %d are read", len(all), maxHoles)
		return
	}
	for _, v := range all {
		h := v.sub()
		name := h.need("name", "what the hole is called")
		h.rename(joinPath(t.path, "holes"), name)
		at := h.need("at", "its centre, ["+names[0]+", "+names[1]+"]")
		out := setup.Hole{Name: name.text(), At: at.planePoint(names), Diameter: h.need("diameter", "its diameter").size()}
		if up := h.get("up"); up.given() {
			out.Up = up.length()
		} else {
			out.Up = height(out)
		}
		h.done()
		d.checkHole(out, name, at, m, axis)
		m.Holes = append(m.Holes, out)
	}
}

// checkHole holds a hole against the metal and the holes before it.
func (d *decoder) checkHole(h setup.Hole, name, at value, m *setup.Metal, axis r3.Vector) {
	first, overlaps := "", 0
	for _, o := range m.Holes {
		gap := h.At.Sub(o.At).Norm() - (h.Diameter+o.Diameter)/2
		switch {
		case o.Name == h.Name && name.given() && h.Name != "":
			name.fail("is the name of another hole; each needs its own")
		case h.At.Sub(o.At).Norm() < leastEdge:
			at.fail("is the place of the hole %s already", quoted(o.Name))
		case gap < 0:
			if overlaps++; overlaps == 1 {
				first = quoted(o.Name)
			}
		}
	}
	switch {
	case overlaps == 1:
		at.warn("hole-overlap", "runs into the hole %s", first)
	case overlaps > 1: // each of them told would be as many lines as there are pairs
		at.warn("hole-overlap", "runs into the hole %s and %d more", first, overlaps-1)
	}
	if len(m.Outline) == 0 {
		return
	}
	hole := onMetal(h.Ball(), *m, axis)
	edge := planar.ToEdge(m.Outline, hole)
	switch {
	case math.IsNaN(edge): // the hole's place or the axis could not be read
	case !planar.Inside(m.Outline, hole):
		at.fail("lies outside the arm's outline, %s from its edge", d.say(edge))
	case edge < h.Diameter/2:
		at.warn("hole-edge", "breaks through the arm's edge, which is %s from the hole's centre", d.say(edge))
	}
}

// rod reads what a table says of one rod but for its length; name is what messages call it.
func (d *decoder) rod(t *table, name string, s *setup.Setup) setup.Rod {
	diameter := t.get("diameter")
	r := setup.Rod{Diameter: diameter.sizeOr(setup.DefaultRodDiameter)}
	if !diameter.given() {
		d.assume(s, "%s diameter %s", name, d.say(setup.DefaultRodDiameter))
	}
	end := t.get("rod_end").sub()
	r.End = setup.RodEnd{
		Tilt: end.get("tilt").angleOr(0, positive, acute), Body: end.get("body").sizeOr(0), Eye: end.get("eye").sizeOr(0),
		Thread: end.get("thread").sizeOr(0), Pitch: end.get("pitch").sizeOr(0),
		Shank: end.get("shank").sizeOr(0), Yield: end.get("yield").numberOr(0, strengths),
	}
	if r.End.Body > 0 && r.End.Shank >= r.End.Body {
		end.get("shank").fail("is as long as the body from the eye's centre; give how far the thread reaches from its end")
	}
	if r.End.Thread > 0 && r.End.Pitch >= r.End.Thread {
		end.get("pitch").fail("is as much as the thread's diameter; give the distance from thread to thread")
	}
	end.done()
	r.Stock = d.stock(t, r)
	return r
}

// rods reads the lengths of both rods: one for both, one each, or one of them; 0 is for later to find.
func (d *decoder) rods(t *table, s *setup.Setup) {
	length := t.get("length")
	for _, side := range setup.Sides {
		v := t.get(side.String())
		if v.given() && length.given() {
			v.fail("is given beside length; length holds for both rods")
		}
		if !v.given() {
			v = length
		}
		s.Corners[side].Rod.Length = v.sizeOr(0)
	}
}
