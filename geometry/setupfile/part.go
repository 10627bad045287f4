package setupfile

import (
	"slices"
	"strings"

	"locksweep/geometry/setup"
)

const (
	maxParts = 1000
	maxPath  = 1000 // points of one tube
)

// builtIn are the names of what is there without a [[part]], which nothing else may have; ignore may name them too.
func builtIn(s *setup.Setup) []string {
	return append([]string{"tyre", "rear tyre", "stub axle", "steering arm", "tie rod", "drop arm", "column"},
		map[setup.Linkage][]string{setup.CrossRod: {"drag link"}, setup.RackRods: {"rack"}}[s.Linkage()]...)
}

// bodies are what a part may ride on in a setup, and how a message lists them.
func bodies(s *setup.Setup) (list []setup.Body, said string) {
	switch s.Linkage() {
	case setup.CrossRod:
		return []setup.Body{setup.OnFrame, setup.OnSpindle, setup.OnColumn, setup.OnTieRod, setup.OnDragLink}, "frame, spindle, column, tie_rod or drag_link"
	case setup.RackRods:
		return []setup.Body{setup.OnFrame, setup.OnSpindle, setup.OnRack, setup.OnTieRod}, "frame, spindle, rack or tie_rod"
	}
	return []setup.Body{setup.OnFrame, setup.OnSpindle, setup.OnColumn, setup.OnTieRod}, "frame, spindle, column or tie_rod"
}

// parts reads [[part]] and ignore.
func (d *decoder) parts(t *table, s *setup.Setup) {
	all := t.get("part")
	items := all.items()
	if len(items) > maxParts {
		all.fail("stands %d times; at most %d are read", len(items), maxParts)
		return
	}
	lines := map[string]int{}
	for _, v := range items {
		p := v.sub()
		name := p.need("name", "what the part is called")
		p.rename("part", name)
		part := d.part(p, name.text(), s)
		part.Line = name.at.lineNumber()
		first, twice := lines[part.Name]
		switch {
		case part.Name == "":
		case slices.Contains(builtIn(s), part.Name):
			name.fail("%s is the name of something that is there already; call the part otherwise", quoted(part.Name))
		case twice:
			name.fail("%s is the name of another part, in line %d; each needs its own", quoted(part.Name), first)
		default:
			lines[part.Name] = name.at.lineNumber()
		}
		s.Parts = append(s.Parts, part)
	}
	d.ignore(t.get("ignore"), s)
}

func (d *decoder) part(t *table, name string, s *setup.Setup) setup.Part {
	p := setup.Part{Name: name}
	list, said := bodies(s)
	names := make([]string, len(list))
	for i, b := range list {
		names[i] = b.String()
	}
	on := t.need("on", "what it rides on: "+said)
	p.On = list[max(0, on.among(said+didYouMean(on.written(), names), names...))]
	d.sides(t, &p, s)
	d.shape(t, &p)
	d.cutting(t, &p)
	d.stopping(t, &p)
	p.Density = t.get("density").numberOr(0, between(100, 25000, " kg/m³; steel is 7850"))
	t.done()
	return p
}

// sides reads side, mirror and at.
func (d *decoder) sides(t *table, p *setup.Part, s *setup.Setup) {
	mirror, side, at := t.get("mirror"), t.get("side"), t.get("at")
	if p.AtKingpin = at.among(`"kingpin"`, "kingpin") == 0; p.AtKingpin && p.On != setup.OnFrame {
		at.fail(`is for frame parts only; give on = "frame", or leave it out`)
	}
	if mirror.flag() && side.given() {
		side.fail("is given beside mirror = true, which puts the part on both sides")
	}
	if mirror.given() && p.On != setup.OnFrame {
		mirror.fail("is for frame parts only; parts on a spindle or tie rod stand on both sides unless side says which")
	}
	switch {
	case p.Single(s):
		if side.given() && at.n == nil {
			side.fail("is for parts on a spindle, a tie rod or at the kingpin; this one stands where its co-ordinates say")
		}
		p.Sides = [2]bool{mirror.flag(), mirror.flag()}
	case side.given():
		if one := side.side(); one >= 0 {
			p.Sides[one] = true
		}
	case mirror.given() && !mirror.flag():
		p.Sides = [2]bool{setup.Left: true}
	default:
		p.Sides = [2]bool{true, true}
	}
}

// side reads "left" or "right"; -1 where it is missing or wrong.
func (v value) side() setup.Side {
	return setup.Side(v.among(`"left" or "right"`, setup.Left.String(), setup.Right.String()))
}

// shape reads the one of tube, plate and disc that is there.
func (d *decoder) shape(t *table, p *setup.Part) {
	tube, plate, disc := t.get("tube"), t.get("plate"), t.get("disc")
	given := 0
	for _, v := range []value{tube, plate, disc} {
		if v.given() {
			if given++; given > 1 {
				v.fail("is a second shape; a part is one tube, plate or disc")
			}
		}
	}
	if given == 0 && !d.broken && !t.wrong {
		d.fail(t.at, value{as: t.path, own: t.own}.key(), "has no shape; give it a tube, a plate or a disc")
	}
	if p.AtKingpin && given > 0 && !plate.given() {
		t.get("at").fail("takes a plate; give tubes and discs in vehicle axes, without at")
	}
	if tube.given() {
		p.Tube = d.tube(tube.sub(), p.On)
	}
	if plate.given() {
		if p.On == setup.OnTieRod || p.On == setup.OnDragLink {
			plate.fail("cannot ride on a tie rod; give a tube or a disc")
		}
		p.Plate = d.plate(plate.sub(), p)
	}
	if disc.given() {
		p.Disc = d.disc(disc.sub(), p.On)
	}
}

// namesOn are the names of the co-ordinates of what rides on a body.
func namesOn(b setup.Body) []string {
	return [6][]string{
		setup.OnFrame: vehicleNames, setup.OnSpindle: cornerNames, setup.OnColumn: columnNames,
		setup.OnTieRod: rodNames, setup.OnRack: vehicleNames, setup.OnDragLink: rodNames,
	}[b]
}

// plateNames are namesOn for a plate.
func plateNames(p *setup.Part) []string {
	if p.AtKingpin {
		return cornerNames
	}
	return namesOn(p.On)
}

func (d *decoder) tube(t *table, on setup.Body) *setup.Tube {
	out := &setup.Tube{Diameter: t.need("diameter", "outer diameter of the tube").size()}
	path := t.need("path", "the points its centre line runs through")
	items := path.items()
	d.points += len(items)
	switch {
	case path.given() && path.n.kind == list && len(items) < 2:
		path.fail("has %s; a tube runs through at least 2", counted(len(items), "point"))
	case len(items) > maxPath, d.points > maxAll:
		path.fail("has too many points; at most %d in a tube and %d in a file are read", maxPath, maxAll)
		items = nil
	}
	for i, item := range items {
		at := item.point(namesOn(on))
		if i > 0 && at.Sub(out.Path[i-1]).Norm() < leastEdge {
			item.fail("is the same point as the one before it; give it once")
		}
		out.Path = append(out.Path, at)
	}
	t.done()
	return out
}

func (d *decoder) plate(t *table, p *setup.Part) *setup.Plate {
	out := &setup.Plate{Outline: t.need("outline", "the points around the metal").outline(plateNames(p))}
	out.Lower, out.Upper = t.need("up", "its lower and upper face").faces()
	t.done()
	return out
}

func (d *decoder) disc(t *table, on setup.Body) *setup.Disc {
	names := namesOn(on)
	out := &setup.Disc{
		Centre:   t.need("centre", "its middle, ["+strings.Join(names, ", ")+"]").point(names),
		Diameter: t.need("diameter", "its outer diameter").size(),
		Width:    t.need("width", "its thickness").size(),
	}
	axis := t.get("axis")
	if !axis.given() && (on == setup.OnColumn || on == setup.OnTieRod || on == setup.OnDragLink) {
		axis = t.need("axis", "the direction of its axis")
	}
	out.Axis = axis.direction(names)
	t.done()
	return out
}

// cutting reads what is said of metal that may come off.
func (d *decoder) cutting(t *table, p *setup.Part) {
	grind, bore, keep, wall := t.get("grind"), t.get("bore"), t.get("keep"), t.get("min_wall")
	root, width := t.get("root"), t.get("min_width")
	p.Grind = grind.flag()
	p.Bore, p.MinWall, p.MinWidth = bore.sizeOr(0), wall.lengthOr(0, notNegative), width.sizeOr(0)
	p.Keep, p.Root = keep.outline(plateNames(p)), root.edge(plateNames(p))
	for _, v := range []value{grind, bore, keep, wall, root, width} {
		if v.given() && p.Plate == nil && !(v.n == grind.n && !p.Grind) {
			v.fail("is for plates only")
		}
	}
}

// stopping reads what is said of a part as a stop.
func (d *decoder) stopping(t *table, p *setup.Part) {
	soft, stop := t.get("soft"), t.get("stop")
	p.Soft, p.Stop = soft.flag(), stop.flag()
	switch {
	case !p.Stop:
	case p.Soft:
		stop.fail("is given beside soft = true; what is soft stops nothing")
	case p.On == setup.OnColumn || p.On == setup.OnTieRod:
		stop.fail(`is for metal on a spindle, or on the frame in its way; what rides on a %s stops no wheel: the blow goes through a tie rod`,
			[]string{setup.OnColumn: "column", setup.OnTieRod: "tie rod"}[p.On])
	}
}

// ignore reads the pairs that are never checked against each other.
func (d *decoder) ignore(v value, s *setup.Setup) {
	names := builtIn(s)
	for _, p := range s.Parts {
		names = append(names, p.Name)
	}
	pairs := v.items()
	if len(pairs) > maxParts {
		v.fail("has %d pairs; at most %d are read", len(pairs), maxParts)
		return
	}
	for _, pair := range pairs {
		if !pair.is(list) {
			continue
		}
		if len(pair.n.items) != 2 {
			pair.fail(`has %s, should be two: ["one part", "the other"]`, counted(len(pair.n.items), "name"))
			continue
		}
		var out [2]string
		for i, item := range pair.items() {
			out[i] = item.text()
			if item.n.kind == text && !d.broken && !slices.Contains(names, out[i]) {
				item.fail("names no part%s", orList(out[i], names))
			}
		}
		s.Ignore = append(s.Ignore, out)
	}
}
