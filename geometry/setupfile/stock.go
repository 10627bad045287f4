package setupfile

import (
	"slices"

	"locksweep/geometry/setup"
)

// strengths are yield strengths that a metal may have, N/mm².
var strengths = between(20, 2500, " N/mm²")

// stock reads what [tie_rod] says of the metal of a rod and its threads.
func (d *decoder) stock(t *table, r setup.Rod) (s setup.Stock) {
	if v := t.get("material"); v.given() {
		name := v.text()
		if i := slices.Index(setup.Materials, name); i >= 0 {
			s.Material = setup.Material(i)
		} else if name != "" {
			v.fail("is %s%s", quoted(name), orList(name, setup.Materials))
		}
	}
	s.Yield = t.get("yield").numberOr(0, strengths)
	s.Engagement = t.get("engagement").numberOr(0, between(0.5, 10, " thread diameters"))
	s.LeftHand = t.get("left_hand").flag()
	d.rodTube(t.get("tube"), r, &s)
	if v := t.get("donor"); v.given() {
		donor := v.sub()
		s.Donor = setup.Donor{
			Length:      donor.need("length", "of the rod as it is, end to end").size(),
			ThreadDepth: donor.need("thread_depth", "how deep the thread goes in at either end").size(),
		}
		if s.Donor.ThreadDepth > s.Donor.Length/2 {
			s.Donor.ThreadDepth = s.Donor.Length / 2 // all the way through
		}
		donor.done()
	}
	s.Bolt, s.InnerBolt = rodBolt(t.get("bolt").sub()), rodBolt(t.get("inner_bolt").sub())
	return s
}

func rodBolt(t *table) (b setup.RodBolt) {
	b.Offset, b.Yield = t.get("offset").sizeOr(0), t.get("yield").numberOr(0, strengths)
	b.Double, b.Plain = t.get("double").flag(), t.get("plain").flag()
	t.done()
	return b
}

// rodTube reads the tube that a rod is cut from.
func (d *decoder) rodTube(v value, r setup.Rod, s *setup.Stock) {
	if !v.given() {
		return
	}
	t := v.sub()
	wall := t.need("wall", "thickness of the tube's wall")
	s.Outer, s.Wall = t.need("outer", "outer diameter of the tube").size(), wall.size()
	if s.Wall >= s.Outer/2 {
		wall.fail("is %s, as much as there is of a tube of %s; for a solid bar leave tube out and give diameter", d.say(s.Wall), d.say(s.Outer))
	}
	if r.End.Thread >= s.Outer {
		wall.fail("belongs to a tube of %s, which is no wider than the rod end's thread of %s", d.say(s.Outer), d.say(r.End.Thread))
	}
	t.done()
}

func (d *decoder) load(t *table, s *setup.Setup) {
	number := func(key string, lo, hi float64, unit string) float64 {
		return t.get(key).numberOr(0, between(lo, hi, unit))
	}
	s.Load = setup.Load{
		Front: number("front", 1, 5000, " kg on both front wheels"), Friction: number("friction", 0.05, 2, ""),
		Pressure: number("pressure", 0.1, 10, " bar"), SteeringWheel: t.get("steering_wheel").sizeOr(0),
		Hand: number("hand", 1, 5000, " N"), Kerb: number("kerb", 1, 1e5, " N"),
		FrontShare: number("front_share", 0.05, 0.95, ", the part of the weight on the front wheels: 0.45"), Height: t.get("height").sizeOr(0),
	}
	if patch := t.get("patch"); patch.given() {
		if t.get("pressure").given() {
			patch.fail("is given beside pressure; give one of them")
		}
		x := patch.lengths("length", "width")
		if s.Load.PatchLength, s.Load.PatchWidth = x[0], x[1]; x[0] <= 0 || x[1] <= 0 {
			patch.fail("should be two lengths of more than 0: [length, width] of the tyre's print")
		}
	}
	t.done()
}
